// What of a listing is played when, after the choices of a person: steps for a voice. Nothing here
// makes a sound.

import { quarters, type BarRange, type Listing, type PlayedTone } from "./listing.ts";

export interface PlayChoices {
  /** 1 as written, 0.5 half as fast. */
  tempo: number;
  /** All of it where absent. */
  bars?: BarRange | undefined;
  /** Over and over, until it is stopped. */
  again: boolean;
  /** Bars of clicks before the first note. */
  count_in: number;
  /** A click on every beat. */
  click: boolean;
}

export const kPlain: PlayChoices = { tempo: 1, again: false, count_in: 0, click: false };

// Seconds and parts of a tone; all of this is our choice, by ear.
/** How long a tone fades at its end, at most. */
export const kRelease = 0.015;
/** Silence that parts two tones: the tongue, a finger's strike, a breath. */
const kParted = { tongued: 0.03, struck: 0.022, breath: 0.3 };
/** The most that such a silence takes of a tone. */
const kMostParted = { tongued: 0.25, struck: 0.25, breath: 0.4 };
const kStaccato = 0.5;
const kSlideTime = 0.18;
const kMostSlide = 0.4;
const kLevel = 0.22;

/** One step of the playing; times in seconds from the start of a pass. */
export type Step =
  | { kind: "begin"; at: number; tone: Tone; slurred: boolean }
  | { kind: "slide"; at: number; until: number; hz: number }
  | { kind: "end"; at: number; until: number }
  | { kind: "silence"; at: number }
  | { kind: "click"; at: number; first: boolean };

/** A tone with the times at which it really sounds, after the choices. */
export interface Tone {
  note: number;
  at: number;
  /** Where the next one may begin, and where this one is silent. */
  end: number;
  until: number;
  hz: number;
  level: number;
  tongued: boolean;
  wavers: boolean;
}

/** Times in seconds from the first sound of the count-in. */
export interface Plan {
  /** Of the count-in. */
  lead: number;
  /** Of one pass after it. */
  length: number;
  counted: readonly Step[];
  steps: readonly Step[];
  tones: readonly Tone[];
}

/** What is played of a listing: [from, to) in its seconds. */
export function window_of(listing: Listing, bars: BarRange | undefined): { from: number; to: number } {
  const first = bars && listing.bars[bars.first];
  const last = bars && listing.bars[bars.last];
  if (!first || !last) return { from: 0, to: listing.seconds };
  return { from: first.at, to: last.at + last.seconds };
}

function has(tone: PlayedTone, ...marks: string[]): boolean {
  return tone.marks?.some((mark) => marks.includes(mark)) ?? false;
}

/** High tones are louder in the ear than they are. */
function level_of(tone: PlayedTone): number {
  return kLevel * (tone.loudness / 80) ** 1.5 * Math.min(1, (1200 / tone.hz) ** 0.35);
}

// Two times that are one but for their rounding.
const kSame = 1e-6;

/** The steps of one pass and of the count-in before the first. */
export function plan_of(listing: Listing, choices: PlayChoices): Plan {
  const { from, to } = window_of(listing, choices.bars);
  const scaled = (seconds: number) => seconds / choices.tempo;
  const within = (at: number) => scaled(Math.min(Math.max(at, from), to) - from);
  const heard = listing.played.filter(
    (tone) => tone.at + tone.seconds > from + kSame && tone.at < to - kSame,
  );
  const steps: Step[] = [];
  const tones: Tone[] = [];
  for (const [i, tone] of heard.entries()) {
    const next = heard[i + 1];
    const at = within(tone.at);
    const end = within(tone.at + tone.seconds);
    const length = end - at;
    const follows = next !== undefined && next.at - (tone.at + tone.seconds) < kSame;
    const slides = has(tone, "suri") && follows;
    const slurred = i > 0 && tone.attack === "slurred" && tone.at >= from;
    const joined = follows && (next.attack === "slurred" || slides);
    const parting = has(tone, "breath", "breath?") ? "breath"
      : next?.attack === "struck" ? "struck" : "tongued";
    let until = end;
    if (parting === "breath" || (follows && !joined) || (!next && end > scaled(to - from) - kSame)) {
      until -= Math.min(kParted[parting], length * kMostParted[parting]);
    }
    if (has(tone, "staccato")) until = Math.min(until, at + length * kStaccato);
    const before = heard[i - 1];
    const made: Tone = {
      note: tone.note, at, end, until, hz: tone.hz, level: level_of(tone),
      tongued: tone.attack === "tongued", wavers: has(tone, "yuri"),
    };
    tones.push(made);
    const slid = before !== undefined && has(before, "suri") &&
      tone.at - (before.at + before.seconds) < kSame;
    steps.push({ kind: "begin", at, tone: made, slurred: slurred || slid });
    if (slides) {
      const slide = Math.min(kSlideTime, length * kMostSlide);
      steps.push({ kind: "slide", at: end - slide, until: end, hz: next.hz });
    }
    if (!joined || until < end) {
      const release = Math.min(kRelease, (until - at) * 0.3);
      steps.push({ kind: "end", at: until - release, until });
    }
    if (!follows) steps.push({ kind: "silence", at: end });
  }
  if (choices.click) {
    for (const click of listing.clicks) {
      if (click.at < from - kSame || click.at > to - kSame) continue;
      steps.push({ kind: "click", at: within(click.at), first: click.first });
    }
  }
  steps.sort((a, b) => a.at - b.at);
  const counted = count_in(listing, choices, from);
  return { ...counted, length: scaled(to - from), steps, tones };
}

/** Whole bars of the first bar's meter, then what a short first bar lacks. */
function count_in(
  listing: Listing,
  choices: PlayChoices,
  from: number,
): { lead: number; counted: Step[] } {
  const count = listing.bars.find((bar) => bar.at >= from - kSame)?.count;
  if (!count || choices.count_in === 0) return { lead: 0, counted: [] };
  const counted: Step[] = [];
  const lead = choices.count_in * count.bar + count.lacking;
  for (let bar = 0; bar < lead - kSame; bar += count.bar) {
    for (let at = bar; at < Math.min(bar + count.bar, lead) - kSame; at += count.beat) {
      counted.push({ kind: "click", at: at / choices.tempo, first: at === bar });
    }
  }
  return { lead: lead / choices.tempo, counted };
}

/**
 * Where another listing has what stands at `at` in one: in the same written bar, the same time of
 * its playing, as many quarters after its start, at most at its end. Undefined without that bar.
 */
export function same_place(old: Listing, at: number, other: Listing): number | undefined {
  if (old === other) return at;
  let here = 0;
  for (const [i, bar] of old.bars.entries()) {
    if (bar.at <= at + kSame) here = i;
  }
  const bar = old.bars[here];
  if (!bar) return undefined;
  let times = old.bars.slice(0, here + 1).filter((one) => one.measure === bar.measure).length;
  const there = other.bars.find((one) => one.measure === bar.measure && --times === 0);
  if (!there) return undefined;
  const inside = ((at - bar.at) / bar.seconds) * quarters(bar.length);
  return there.at + Math.min(1, inside / quarters(there.length)) * there.seconds;
}
