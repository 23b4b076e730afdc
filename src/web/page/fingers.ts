// The holes: large for the note where one is or that sounds, and small for every note of the tune.
import { element, shape } from "./dom.ts";
import type { WrittenTone } from "./listing.ts";
import { note_of } from "./marking.ts";
import { reveal } from "./sheet.ts";
import type { State, Store } from "./store.ts";
import { say, type Language, type Word } from "./words.ts";

const kHoles: Record<string, Word> = {
  "○": "hole_open",
  "●": "hole_closed",
  "◐": "hole_half",
  "◎": "hole_steady",
};

/** What a screen reader says of a note. */
export function said(note: WrittenTone, language: Language): string {
  const pitch = printed(note.pitch);
  if (!note.holes || !note.sign) return say(language, "gap", { pitch });
  return say(language, "holes_said", { sign: note.sign, pitch, holes: holes_named(note.holes, language) });
}

/** "closed closed open". */
export function holes_named(holes: string, language: Language): string {
  return [...holes].map((hole) => say(language, kHoles[hole] ?? "hole_open")).join(" ");
}

/** B♭4 for Bb4. */
function printed(pitch: string | undefined): string {
  return (pitch ?? "").replaceAll("#", "♯").replaceAll("b", "♭");
}

/** What stands for a note where a sign stands. */
function sign_of(note: WrittenTone): string {
  return note.sign ?? `?${printed(note.pitch)}`;
}

function hole(state: string, x: number, y: number, radius: number): SVGElement {
  const round = (name: string, r: number): SVGElement => shape("circle", { class: name, cx: x, cy: y, r });
  const pieces = [round(state === "●" ? "closed" : "open", radius)];
  if (state === "◐") {
    pieces.push(
      shape("path", { class: "closed", d: `M${x} ${y - radius}A${radius} ${radius} 0 0 0 ${x} ${y + radius}Z` }),
    );
  }
  if (state === "◎") pieces.push(round("steady", radius * 0.45));
  return shape("g", {}, ...pieces);
}

/** The flute lying with its mouth end at the left. */
export function lying_flute(holes: string): SVGElement {
  const states = [...holes];
  const length = 92 + states.length * 26;
  return shape(
    "svg",
    { class: "flute", viewBox: `0 0 ${length} 34`, "aria-hidden": "true" },
    shape("rect", { class: "tube", x: 1, y: 5, width: length - 2, height: 24, rx: 8 }),
    ...[16, 56, length - 14].map((x) => shape("rect", { class: "binding", x, y: 5, width: 4, height: 24 })),
    shape("ellipse", { class: "mouth", cx: 38, cy: 17, rx: 9, ry: 7 }),
    ...states.map((state, index) => hole(state, 80 + index * 26, 17, 8.5)),
  );
}

function standing(holes: string): SVGElement {
  const states = [...holes];
  return shape(
    "svg",
    { viewBox: `0 0 14 ${states.length * 12 + 2}`, "aria-hidden": "true" },
    ...states.map((state, index) => hole(state, 7, 7 + index * 12, 4.6)),
  );
}

function current(state: State): WrittenTone | undefined {
  return state.made?.notes[state.sounding ?? state.mark ?? -1];
}

/** One line: sign, pitch and fingers of the note where one is. */
export class Strip {
  constructor(parent: HTMLElement, store: Store) {
    store.show(["mark", "sounding", "made", "language"], (state) => {
      if (state.made && !state.made.listing) return;
      const note = current(state);
      if (!note) {
        parent.replaceChildren(element("p", { class: "empty" }, say(state.language, "no_note")));
        return;
      }
      parent.replaceChildren(
        element("span", { class: "sign", lang: "ja", "aria-hidden": "true" }, sign_of(note)),
        element("span", { class: "pitch", "aria-hidden": "true" }, printed(note.pitch)),
        lying_flute(note.holes ?? ""),
        element("span", { class: "unseen" }, said(note, state.language)),
      );
    });
  }
}

export class Fingers {
  #shown: { text: string; language: Language } | undefined;
  readonly #now = element("div", { class: "now" });
  readonly #bars = element("div", { class: "bars" });

  constructor(
    private readonly parent: HTMLElement,
    private readonly store: Store,
    clicked: (note: number) => void,
  ) {
    parent.append(this.#now, this.#bars);
    this.#bars.addEventListener("click", (event) => {
      const note = note_of(event.target);
      if (note !== undefined) clicked(note);
    });
    this.#bars.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      const at = this.store.state.mark;
      const there = step && at !== undefined ? this.#button(at + step) : null;
      if (!there) return;
      event.preventDefault();
      clicked(at! + step!);
      there.focus();
    });
    store.show(["made", "view", "language"], () => this.#show());
    store.show(["mark", "sounding", "view", "made"], () => this.#mark());
  }

  #button(note: number): HTMLElement | null {
    return this.#bars.querySelector(`[data-note="${note}"]`);
  }

  #show(): void {
    const { made, view, language } = this.store.state;
    if (view !== "fingers" || !made) return;
    if (this.#shown?.text === made.text && this.#shown.language === language && this.#bars.firstChild) return;
    if (!made.listing) return;
    this.#shown = { text: made.text, language };
    const bars: HTMLElement[] = [];
    let measure = -1;
    made.notes.forEach((note, index) => {
      if (note.measure !== measure) {
        measure = note.measure;
        bars.push(
          element(
            "div",
            { class: "bar", role: "group", "aria-label": say(language, "bar_said", { bar: note.bar }) },
            element("span", { class: "number", "aria-hidden": "true" }, note.bar),
          ),
        );
      }
      bars.at(-1)?.append(
        element(
          "button",
          { "data-note": String(index), tabindex: "-1", "aria-label": said(note, language) },
          element("span", { lang: "ja", "aria-hidden": "true" }, sign_of(note)),
          standing(note.holes ?? ""),
        ),
      );
    });
    this.#bars.replaceChildren(...bars);
  }

  #mark(): void {
    const { state } = this.store;
    if (state.view !== "fingers" || (state.made && !state.made.listing)) return;
    const note = current(state);
    this.#now.replaceChildren(
      ...(note
        ? [
            element("span", { class: "sign", lang: "ja" }, sign_of(note)),
            element("div", { class: "wide" }, lying_flute(note.holes ?? ""), element("p", {}, said(note, state.language))),
          ]
        : [element("p", { class: "empty" }, say(state.language, "no_note"))]),
    );
    for (const one of this.#bars.querySelectorAll<HTMLElement>(".at-mark, .at-sound, [tabindex='0']")) {
      one.classList.remove("at-mark", "at-sound");
      one.tabIndex = -1;
    }
    const at = this.#button(state.mark ?? 0);
    if (at) at.tabIndex = 0;
    if (state.mark !== undefined) at?.classList.add("at-mark");
    const sounding = state.sounding === undefined ? null : this.#button(state.sounding);
    sounding?.classList.add("at-sound");
    const seen = sounding ?? (state.mark === undefined ? null : at);
    if (seen) reveal(this.parent, seen);
  }
}
