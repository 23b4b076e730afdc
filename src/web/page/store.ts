// What the page knows, in one place: views read it, ask for changes, and are told of them.

import type { Listing, WrittenTone } from "./listing.ts";
import type { Chart, Finding, Flute } from "./program.ts";
import type { Language } from "./words.ts";

export type View = "sheet" | "staff" | "fingers";

/** A file that a tune was brought in from, with the choices made for it, as words of the program. */
export interface Origin {
  name: string;
  bytes: Uint8Array;
  choices: readonly string[];
  /** What could not be carried over, or was decided on the way. */
  findings: readonly Finding[];
  /** The text that came of it; when the tune says something else, it was changed by hand. */
  text: string;
}

/** A tune of the list: its name is its title. */
export interface Tune {
  id: string;
  name: string;
  changed: number;
}

/** A flute file that the player brought in, under the name by which tunes call it. */
export interface OwnFlute {
  file: string;
  title: string;
  text: string;
}

/** What the program made of a text. */
export interface Made {
  text: string;
  pages: readonly string[];
  title: string;
  flutes: readonly Flute[];
  /** By their numbers, which drawings carry as `data-note`. */
  notes: readonly WrittenTone[];
  /** Comes a moment after the pages, and the notes with it. */
  listing: Listing | undefined;
}

export interface SheetChoices {
  direction: "down" | "across";
  size: "a4" | "letter";
  with_chart: boolean;
}

export interface State {
  language: Language;
  view: View;
  sheet: SheetChoices;
  pad_open: boolean;
  tunes: readonly Tune[];
  tune: string;
  text: string;
  flutes: readonly OwnFlute[];
  origins: ReadonlyMap<string, Origin>;
  /** The last text that could be read, which may be older than `text`. */
  made: Made | undefined;
  findings: readonly Finding[];
  /** What keeps the program from reading `text`; empty when `made` is of it. */
  unreadable: readonly Finding[];
  /** Whether the program is at work on `text`. */
  working: boolean;
  chart: Chart | undefined;
  /** The note at which the person is, and the one that sounds: indexes of written notes. */
  mark: number | undefined;
  sounding: number | undefined;
}

type Listener = (state: State) => void;

export class Store {
  #state: State;
  readonly #listeners: { keys: readonly (keyof State)[]; tell: Listener }[] = [];

  constructor(first: State) {
    this.#state = first;
  }

  get state(): Readonly<State> {
    return this.#state;
  }

  /** Changes some values; those who listen to one that really changed are told, once each. */
  set(change: Partial<State>): void {
    const keys = (Object.keys(change) as (keyof State)[]).filter(
      (key) => change[key] !== this.#state[key],
    );
    if (keys.length === 0) return;
    this.#state = { ...this.#state, ...change };
    for (const listener of this.#listeners) {
      if (listener.keys.some((key) => keys.includes(key))) listener.tell(this.#state);
    }
  }

  /** Calls `tell` after each change of one of these, and once now. */
  show(keys: readonly (keyof State)[], tell: Listener): void {
    this.#listeners.push({ keys, tell });
    tell(this.#state);
  }
}
