// The staff: what the program writes as MusicXML, engraved in a worker when somebody looks at it.
// Notes are found again by their order, in which both have them.
import { drawing, element } from "./dom.ts";
import { mark_note, note_of, number_staff, staff_order } from "./marking.ts";
import { worker_of } from "./parts.ts";
import { bytes_of, text_of, type Program } from "./program.ts";
import { reveal } from "./sheet.ts";
import type { Strip, Wanted } from "./staff_worker.ts";
import type { Made, Store } from "./store.ts";
import { say } from "./words.ts";
import { kName } from "./workshop.ts";

const kRest = 150;

export class Staff {
  #worker: Worker | undefined;
  #id = 0;
  #shown: { made: Made; width: number } | undefined;
  #wait: number | undefined;
  #order: number[] = [];
  #nested = false;
  #strips: (Strip | undefined)[] = [];
  readonly #remark = element("p", { class: "remark" });
  readonly #systems = element("div", { class: "systems" });

  constructor(
    private readonly parent: HTMLElement,
    private readonly store: Store,
    private readonly program: Program,
    clicked: (note: number) => void,
  ) {
    parent.append(this.#remark, this.#systems);
    parent.addEventListener("click", (event) => {
      const note = note_of(event.target);
      if (note !== undefined) clicked(note);
    });
    store.show(["made", "view", "language"], () => this.#later());
    store.show(["mark", "sounding"], () => this.#mark());
    new ResizeObserver(() => this.#later()).observe(parent);
  }

  #later(): void {
    clearTimeout(this.#wait);
    const { view, made } = this.store.state;
    if (view !== "staff" || !made) return;
    const width = this.parent.clientWidth;
    if (width === 0) return;
    if (this.#shown?.made.text === made.text && this.#shown.width === width) return;
    this.#wait = setTimeout(() => void this.#draw(made, width), kRest);
  }

  async #draw(made: Made, width: number): Promise<void> {
    const { language } = this.store.state;
    this.#shown = { made, width };
    const id = ++this.#id;
    if (!this.#worker) {
      this.#remark.textContent = say(language, "staff_loading");
      this.#worker = worker_of("staff_worker");
      this.#worker.onmessage = ({ data }: MessageEvent<Strip & { failure?: string }>) => this.#drawn(data);
      this.#worker.onerror = (event) => this.#failed(event.message);
    }
    try {
      const tune = { name: kName, bytes: bytes_of(made.text) };
      const result = await this.program.ask(["convert", tune.name, "-o", "staff.musicxml"], tune);
      const xml = text_of(result.files.get("staff.musicxml"));
      if (id !== this.#id || !xml) return;
      this.#order = staff_order(xml);
      this.#nested = /<tuplet [^>]*number="2"/u.test(xml);
      const first = Math.max(
        0,
        [...this.#systems.children].findIndex((one) => one.getBoundingClientRect().bottom > this.parent.getBoundingClientRect().top),
      );
      this.#strips = [];
      const wanted: Wanted = { id, xml, width, first };
      this.#worker.postMessage(wanted);
    } catch {
      this.#shown = undefined;
    }
  }

  #drawn(strip: Strip & { failure?: string }): void {
    if (strip.id !== this.#id) return;
    if (strip.failure !== undefined) {
      this.#failed(strip.failure);
      return;
    }
    this.#remark.textContent = this.#nested ? say(this.store.state.language, "staff_nested") : "";
    while (this.#systems.childElementCount < strip.strips) {
      this.#systems.append(element("div", { class: "system" }));
    }
    while (this.#systems.childElementCount > strip.strips) this.#systems.lastElementChild?.remove();
    const picture = drawing(strip.svg);
    picture.setAttribute("role", "img");
    picture.setAttribute("aria-label", `${say(this.store.state.language, "staff")} ${strip.strip + 1}`);
    this.#systems.children[strip.strip]?.replaceChildren(picture);
    this.#strips[strip.strip] = strip;
    for (let i = 0; i < strip.strips; ++i) if (!this.#strips[i]) return;
    number_staff([...this.#systems.children], this.#order);
    this.#mark();
  }

  #mark(): void {
    const { mark, sounding, view } = this.store.state;
    const marked = mark_note([this.#systems], "at-mark", mark);
    const sounds = mark_note([this.#systems], "at-sound", sounding);
    const seen = sounds[0] ?? marked[0];
    if (seen && view === "staff") reveal(this.parent, seen);
  }

  #failed(why: string): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#remark.textContent = say(this.store.state.language, "staff_failed", { why });
    this.#systems.replaceChildren();
  }
}
