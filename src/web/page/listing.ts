// What sounds, as the program lists it: `convert --to sound`, schemas/sound.schema.json.

export type Mark =
  | "fermata" | "breath" | "breath?" | "uchi" | "age" | "suri" | "yuri" | "trill" | "accent"
  | "staccato" | "tenuto";

/** A tone as it is written; its place in the list is its number, `data-note` in pictures. */
export interface WrittenTone {
  bar: string;
  measure: number;
  /** Bytes of the UTF-8 text. A grace note has the place of its note's word. */
  from?: number;
  to?: number;
  /** Null for a pitch that the flute cannot finger. */
  sign: string | null;
  holes?: string;
  pitch?: string;
  grace?: "before" | "after";
}

/** A bar as it is played; times in seconds of the score's tempos, `start` and `length` in quarters. */
export interface PlayedBar {
  number: string;
  measure: number;
  start: string;
  length: string;
  at: number;
  seconds: number;
  meter: string;
  /** How it is counted in; absent in free time. */
  count?: { beat: number; bar: number; lacking: number };
}

export interface PlayedTone {
  /** Its place in `written`. */
  note: number;
  /** The place of its bar in `bars`. */
  bar: number;
  start: string;
  length: string;
  at: number;
  seconds: number;
  hz: number;
  attack: "tongued" | "struck" | "slurred";
  /** 80 at mf. */
  loudness: number;
  marks?: readonly Mark[];
}

export interface Listing {
  "yubifu-sound": 1;
  tuning: number;
  length: string;
  seconds: number;
  written: readonly WrittenTone[];
  bars: readonly PlayedBar[];
  clicks: readonly { at: number; first: boolean }[];
  played: readonly PlayedTone[];
}

/** Reads what the program wrote; throws for anything else. */
export function listing_of(json: string): Listing {
  const value = JSON.parse(json) as Partial<Listing> | null;
  if (value?.["yubifu-sound"] !== 1) throw new Error("this is no listing of what sounds");
  return value as Listing;
}

/** "3/2" in quarters. */
export function quarters(fraction: string): number {
  const [above = "", below = "1"] = fraction.split("/");
  return Number(above) / Number(below);
}

/** Bars as they are played, by their places in `Listing.bars`, both included. */
export interface BarRange {
  first: number;
  last: number;
}

/**
 * The shortest stretch of the playing that begins with a bar and ends with another one, by their
 * printed numbers; undefined where the second is never played after the first.
 */
export function bars_between(
  listing: Listing,
  first: string,
  last: string,
): BarRange | undefined {
  let best: BarRange | undefined;
  let begin: number | undefined;
  for (const [at, bar] of listing.bars.entries()) {
    if (bar.number === first) begin = at;
    if (bar.number !== last || begin === undefined) continue;
    if (!best || at - begin < best.last - best.first) best = { first: begin, last: at };
  }
  return best;
}
