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

class Page {
  readonly place = element("div", { class: "page" });
  readonly #root = this.place.attachShadow({ mode: "open" });
  #text = "";
  #drawn = "";
  near = false;

  constructor() {
    this.#root.adoptedStyleSheets = [kMarks];
  }

  set(text: string): void {
    if (text === this.#text) return;
    this.#text = text;
    const size = /viewBox="0 0 ([\d.]+) ([\d.]+)"/u.exec(text.slice(0, 1000));
    this.place.style.aspectRatio = size ? `${size[1]} / ${size[2]}` : "auto";
    if (this.near) this.draw();
  }

  draw(): void {
    if (this.#drawn === this.#text) return;
    this.#root.replaceChildren(drawing(this.#text));
    this.#drawn = this.#text;
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

  constructor(
    private readonly parent: HTMLElement,
    private readonly store: Store,
    clicked: (note: number) => void,
  ) {
    this.#near = new IntersectionObserver(
      (entries) => {
        for (const entry of entries) {
          const page = this.#pages.find(({ place }) => place === entry.target);
          if (!page) continue;
          page.near = entry.isIntersecting;
          if (page.near) {
            page.draw();
            this.#mark();
          }
        }
      },
      { root: parent, rootMargin: "400px" },
    );
    parent.addEventListener("click", (event) => {
      const note = note_of(event.composedPath()[0]);
      if (note !== undefined) clicked(note);
    });
    // Paper has all pages.
    window.addEventListener("beforeprint", () => {
      for (const page of this.#pages) page.draw();
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
    const from_right = this.parent.scrollLeft + this.parent.clientWidth >= this.parent.scrollWidth - 2;
    while (this.#pages.length > made.pages.length) {
      const page = this.#pages.pop()!;
      this.#near.unobserve(page.place);
      page.place.remove();
    }
    made.pages.forEach((text, index) => {
      let page = this.#pages[index];
      if (!page) {
        page = new Page();
        page.near = index === 0;
        this.#pages.push(page);
        this.parent.append(page.place);
        this.#near.observe(page.place);
      }
      page.set(text);
      if (page.near) page.draw();
    });
    // Columns begin at the right.
    if (from_right && this.store.state.sheet.direction === "down") this.parent.scrollLeft = this.parent.scrollWidth;
    this.#mark();
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
