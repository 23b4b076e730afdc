// The sheet: the pages as the program drew them. A page is put into the document when it comes near
// the window's edge, and only when it is another one than before.
import { drawing, element } from "./dom.ts";
import { mark_note, note_of } from "./marking.ts";
import type { Store } from "./store.ts";
import { say } from "./words.ts";

const kMarks = new CSSStyleSheet();
kMarks.replaceSync(`
  :host { display: block; background: #fff }
  svg { display: block; width: 100%; height: auto }
  [data-note] { cursor: pointer }
  .at-mark { fill: #9a3412; stroke: #9a3412 }
  .at-sound { fill: #0b6b4f; stroke: #0b6b4f }
`);

// How long nothing is drawn anew before what nobody waits for is.
const kRest = 400;

/** A shape for others to be copied from: without its name, and without a group around one path alone. */
function plain(group: Element): Element {
  const only = group.childElementCount === 1 ? group.firstElementChild! : undefined;
  const copy = (only ?? group).cloneNode(true) as Element;
  for (const name of group.getAttributeNames()) {
    if (only && !only.hasAttribute(name)) copy.setAttribute(name, group.getAttribute(name)!);
  }
  copy.removeAttribute("id");
  return copy;
}

class Page {
  readonly place = element("div", { class: "page" });
  readonly #root = this.place.attachShadow({ mode: "open" });
  #text = "";
  #drawn = "";
  // The text under the signs, which is not seen, with what it lies in.
  #under: { bar: Element; text: Element }[] = [];
  near = false;
  seen = false;

  constructor() {
    this.#root.adoptedStyleSheets = [kMarks];
  }

  set(text: string): void {
    if (text === this.#text) return;
    this.#text = text;
    const size = /viewBox="0 0 ([\d.]+) ([\d.]+)"/u.exec(text.slice(0, 1000));
    const ratio = size ? `${size[1]} / ${size[2]}` : "auto";
    if (this.place.style.aspectRatio !== ratio) this.place.style.aspectRatio = ratio;
  }

  draw(): void {
    if (this.#drawn === this.#text) return;
    const picture = drawing(this.#text);
    const shapes = new Map([...picture.querySelectorAll("defs > g")].map((one) => [`#${one.id}`, plain(one)]));
    // A browser takes longer for `use` than for what is used.
    for (const use of picture.querySelectorAll("use")) {
      const copy = shapes.get(use.getAttribute("href") ?? "")?.cloneNode(true) as Element | undefined;
      if (!copy) continue;
      for (const name of use.getAttributeNames()) if (name !== "href") copy.setAttribute(name, use.getAttribute(name)!);
      use.replaceWith(copy);
    }
    this.#under = [...picture.querySelectorAll("text[fill-opacity]")].map((text) => ({ bar: text.parentElement!, text }));
    for (const { text } of this.#under) text.remove();
    this.#root.replaceChildren(picture);
    this.#drawn = this.#text;
  }

  /** Draws what is left: what can be selected and searched for. */
  complete(): void {
    this.draw();
    for (const { bar, text } of this.#under) bar.prepend(text);
    this.#under = [];
  }

  holds(note: number): boolean {
    return this.#text.includes(` data-note="${note}"`);
  }

  get root(): ShadowRoot {
    return this.#root;
  }
}

export class Sheet {
  readonly #pages: Page[] = [];
  readonly #near: IntersectionObserver;
  readonly #seen: IntersectionObserver;
  #rest: number | undefined;

  constructor(
    private readonly parent: HTMLElement,
    private readonly store: Store,
    clicked: (note: number) => void,
  ) {
    this.#near = this.#watch("400px", (page, is) => (page.near = is));
    this.#seen = this.#watch("0px", (page, is) => (page.seen = is));
    parent.addEventListener("click", (event) => {
      const note = note_of(event.composedPath()[0]);
      if (note !== undefined) clicked(note);
    });
    // Paper has all pages.
    window.addEventListener("beforeprint", () => {
      for (const page of this.#pages) page.complete();
    });
    store.show(["made", "language"], () => this.#show());
    store.show(["mark", "sounding"], () => this.#mark(true));
  }

  #show(): void {
    const { made, language } = this.store.state;
    if (!made) {
      this.parent.replaceChildren(element("p", { class: "empty" }, say(language, "nothing_yet")));
      return;
    }
    if (this.#pages.length === 0) this.parent.replaceChildren();
    const fewer_or_more = this.#pages.length !== made.pages.length;
    const from_right = fewer_or_more && this.parent.scrollLeft + this.parent.clientWidth >= this.parent.scrollWidth - 2;
    while (this.#pages.length > made.pages.length) {
      const page = this.#pages.pop()!;
      this.#near.unobserve(page.place);
      this.#seen.unobserve(page.place);
      page.place.remove();
    }
    made.pages.forEach((text, index) => {
      let page = this.#pages[index];
      if (!page) {
        page = new Page();
        page.seen = index === 0;
        this.#pages.push(page);
        this.parent.append(page.place);
        this.#near.observe(page.place);
        this.#seen.observe(page.place);
      }
      page.set(text);
      if (page.seen) page.draw();
    });
    // Columns begin at the right.
    if (from_right && this.store.state.sheet.direction === "down") this.parent.scrollLeft = this.parent.scrollWidth;
    this.#mark();
    this.#later();
  }

  // A page that comes into sight, or near it, is drawn at once.
  #watch(margin: string, tell: (page: Page, is: boolean) => void): IntersectionObserver {
    const told = (entries: readonly IntersectionObserverEntry[]): void => {
      for (const { target, isIntersecting } of entries) {
        const page = this.#pages.find(({ place }) => place === target);
        if (!page) continue;
        tell(page, isIntersecting);
        if (!isIntersecting) continue;
        page.draw();
        this.#mark();
        this.#later();
      }
    };
    return new IntersectionObserver(told, { root: this.parent, rootMargin: margin });
  }

  // What nobody sees yet is drawn when nothing else is.
  #later(): void {
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => {
      for (const page of this.#pages) if (page.near || page.seen) page.complete();
      this.#mark();
    }, kRest);
  }

  #mark(follow = false): void {
    const { mark, sounding } = this.store.state;
    // What is marked is seen, on a page far off as well.
    for (const note of [mark, sounding]) {
      if (follow && note !== undefined) this.#pages.find((page) => page.holds(note))?.draw();
    }
    const roots = this.#pages.map(({ root }) => root);
    const marked = mark_note(roots, "at-mark", mark);
    const sounds = mark_note(roots, "at-sound", sounding);
    const seen = sounds[0] ?? marked[0];
    if (follow && seen && !this.parent.hidden) reveal(this.parent, seen);
  }
}

/** Scrolls a view, and nothing around it, until one of its pieces is seen. */
export function reveal(view: HTMLElement, piece: Element): void {
  const inner = piece.getBoundingClientRect();
  const outer = view.getBoundingClientRect();
  const margin = 24;
  let left = 0;
  let top = 0;
  if (inner.left < outer.left + margin) left = inner.left - outer.left - margin;
  else if (inner.right > outer.right - margin) left = inner.right - outer.right + margin;
  if (inner.top < outer.top + margin) top = inner.top - outer.top - margin;
  else if (inner.bottom > outer.bottom - margin) top = inner.bottom - outer.bottom + margin;
  if (left || top) view.scrollBy({ left, top, behavior: "instant" });
}
