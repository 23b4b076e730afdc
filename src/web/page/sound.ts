// Lets a listing sound: a plain breathy tone of oscillator and filtered noise, at the frequencies
// that the program gives. The same graph plays into a loudspeaker and into a buffer.

import type { Listing } from "./listing.ts";
import {
  kPlain, kRelease, plan_of, same_place, window_of, type Plan, type PlayChoices, type Step,
} from "./plan.ts";
import { noise_buffer, Voice } from "./voice.ts";

export { kPlain, type PlayChoices } from "./plan.ts";

/** What a view is to show from a time of the context on. */
interface Mark {
  time: number;
  note: number | null;
}

/** Hands the steps of a plan to a voice, as far as it is asked to. */
class Run {
  #plan: Plan;
  #steps: readonly Step[];
  #next = 0;
  /** The context's time at which the steps count 0. */
  #origin: number;
  #again: boolean;
  #done = false;

  constructor(readonly voice: Voice, plan: Plan, origin: number, again: boolean) {
    this.#plan = plan;
    this.#origin = origin;
    this.#again = again;
    this.#steps = plan.counted;
  }

  /** Plays every step before a time. What begins there is told. */
  advance(horizon: number): Mark[] {
    const marks: Mark[] = [];
    while (!this.#done) {
      const step = this.#steps[this.#next];
      if (!step) {
        const end = this.#origin + (this.#is_counting() ? this.#plan.lead : this.#plan.length);
        if (end >= horizon || !this.#turn(end)) break;
        continue;
      }
      const time = this.#origin + step.at;
      if (time >= horizon) break;
      this.#next += 1;
      const mark = this.#play(step, time);
      if (mark !== undefined) marks.push({ time, note: mark });
    }
    return marks;
  }

  /** Nothing more will come; true after the last step of music that is not played again. */
  get done(): boolean {
    return this.#done;
  }

  /** When one pass ends. */
  get end(): number {
    return this.#origin + (this.#is_counting() ? this.#plan.lead : 0) + this.#plan.length;
  }

  /** The place in a pass at a time, undefined in the count-in. */
  place(time: number): number | undefined {
    if (this.#is_counting()) return undefined;
    return Math.min(Math.max(time - this.#origin, 0), this.#plan.length);
  }

  /**
   * Goes on with another plan: what was `place` in the old one at `time` is `other` in it. Only
   * what was not handed over before `time` changes.
   */
  exchange(plan: Plan, time: number, other: number, again: boolean): Mark[] {
    this.#plan = plan;
    this.#again = again;
    this.#done = false;
    this.#steps = plan.steps;
    this.#origin = time - other;
    this.#next = plan.steps.findIndex((step) => step.at >= other);
    if (this.#next < 0) this.#next = plan.steps.length;
    const tone = plan.tones.find((one) => one.at < other && other < one.until - kRelease);
    if (!tone) {
      if (this.voice.hz !== undefined) this.voice.end(time, time + kRelease);
      return [{ time, note: null }];
    }
    if (this.voice.hz === undefined || Math.abs(this.voice.hz - tone.hz) > 1e-3) {
      this.voice.begin({ ...tone, at: other, tongued: false }, time, true);
    }
    return [{ time, note: tone.note }];
  }

  /** Another text during the count-in: the count goes on, before other music. */
  exchange_counting(plan: Plan, again: boolean): void {
    this.#plan = { ...plan, lead: this.#plan.lead, counted: this.#plan.counted };
    this.#again = again;
  }

  #is_counting(): boolean {
    return this.#steps === this.#plan.counted;
  }

  #turn(end: number): boolean {
    if (!this.#is_counting() && !this.#again) {
      this.#done = true;
      return false;
    }
    if (this.#plan.length <= 0) {
      this.#done = true;
      return false;
    }
    this.#steps = this.#plan.steps;
    this.#next = 0;
    this.#origin = end;
    return true;
  }

  #play(step: Step, time: number): number | null | undefined {
    switch (step.kind) {
      case "begin":
        this.voice.begin(step.tone, time, step.slurred);
        return step.tone.note;
      case "slide":
        this.voice.slide(time, this.#origin + step.until, step.hz);
        return undefined;
      case "end":
        this.voice.end(time, this.#origin + step.until);
        return undefined;
      case "silence":
        return null;
      case "click":
        this.voice.click(time, step.first);
        return undefined;
    }
  }
}

/** All of it into a buffer, once; `stop` closes it early, as a person would. */
export async function render(
  listing: Listing,
  choices: PlayChoices,
  sample_rate = 48_000,
  stop?: number,
): Promise<AudioBuffer> {
  const plan = plan_of(listing, choices);
  const frames = Math.max(1, Math.ceil((plan.lead + plan.length) * sample_rate));
  const context = new OfflineAudioContext(1, frames, sample_rate);
  const voice = new Voice(context, noise_buffer(context));
  new Run(voice, plan, 0, false).advance(Infinity);
  if (stop !== undefined) voice.close(stop);
  return context.startRendering();
}

// Steps are handed over so many seconds before they sound: a text that changes is heard soon, and a
// page that is busy drawing does not stumble. Browsers wake a hidden page once a second.
const kAhead = 0.25;
const kAheadHidden = 1.6;
const kWake = 50;
const kFirst = 0.06;

/** Plays through a loudspeaker and tells which note sounds. */
export class Player {
  readonly #context: AudioContext;
  readonly #onnote: (note: number | null) => void;
  readonly #onend: () => void;
  #noise: AudioBuffer | undefined;
  #run: Run | undefined;
  #listing: Listing | undefined;
  #choices: PlayChoices = kPlain;
  #marks: Mark[] = [];
  #shown: number | null = null;
  #wake: ReturnType<typeof setTimeout> | undefined;
  #tell: ReturnType<typeof setTimeout> | undefined;
  #horizon = 0;
  #began = 0;

  /**
   * `onnote` is told the number of the written note that begins to sound, null where nothing does,
   * at the time at which the loudspeaker has it; `onend` that all has been played, or that a
   * changed text has no such place any more. Browsers want a click or key before the first `play`.
   */
  constructor(context: AudioContext, onnote: (note: number | null) => void, onend = () => {}) {
    this.#context = context;
    this.#onnote = onnote;
    this.#onend = onend;
    // Before the browser lets the page sleep for a second at a time.
    document.addEventListener("visibilitychange", () => this.#hand_over());
  }

  get playing(): boolean {
    return this.#run !== undefined;
  }

  /** The time of the context at which the last `play` began, its count-in included. */
  get began(): number {
    return this.#began;
  }

  /** From the start of the choices' bars. What played before stops. */
  play(listing: Listing, choices: PlayChoices): void {
    this.stop();
    if (this.#context.state === "suspended") void this.#context.resume();
    this.#listing = listing;
    this.#choices = choices;
    this.#noise ??= noise_buffer(this.#context);
    const plan = plan_of(listing, choices);
    const voice = new Voice(this.#context, this.#noise);
    const origin = this.#context.currentTime + kFirst;
    this.#began = origin;
    this.#run = new Run(voice, plan, origin, choices.again);
    this.#horizon = origin;
    this.#hand_over();
  }

  /** Silent within 30 ms. */
  stop(): void {
    clearTimeout(this.#wake);
    clearTimeout(this.#tell);
    this.#run?.voice.close(this.#context.currentTime);
    this.#run = undefined;
    this.#marks = [];
    this.#show(null);
  }

  /**
   * Another listing or other choices while it plays: goes on in the bar in which it is, and stops
   * where there is no such bar any more. While nothing plays, nothing happens.
   */
  exchange(listing: Listing, choices: PlayChoices = this.#choices): void {
    const run = this.#run;
    const old = this.#listing;
    if (!run || !old) return;
    const plan = plan_of(listing, choices);
    const time = Math.max(this.#horizon, this.#context.currentTime + 0.01);
    const place = run.place(time);
    if (place === undefined) {
      run.exchange_counting(plan, choices.again);
    } else {
      const from = window_of(old, this.#choices.bars).from;
      const here = same_place(old, from + place * this.#choices.tempo, listing);
      const { from: begin, to } = window_of(listing, choices.bars);
      if (here === undefined || here < begin || here > to) {
        this.stop();
        this.#onend();
        return;
      }
      const marks = run.exchange(plan, time, (here - begin) / choices.tempo, choices.again);
      this.#marks.push(...marks);
    }
    this.#listing = listing;
    this.#choices = choices;
    this.#hand_over();
  }

  #hand_over(): void {
    const run = this.#run;
    if (!run) return;
    clearTimeout(this.#wake);
    const ahead = document.hidden ? kAheadHidden : kAhead;
    const now = this.#context.currentTime;
    if (run.done) {
      if (now > run.end + kFirst && this.#marks.length === 0) {
        this.stop();
        this.#onend();
        return;
      }
    } else {
      this.#horizon = Math.max(this.#horizon, now + ahead);
      this.#marks.push(...run.advance(this.#horizon));
      this.#wait_for_mark();
    }
    this.#wake = setTimeout(() => this.#hand_over(), kWake);
  }

  /** The time of the page at which the loudspeaker has what the context plays at `time`. */
  #heard_at(time: number): number {
    const { contextTime, performanceTime } = this.#context.getOutputTimestamp();
    if (contextTime === undefined || performanceTime === undefined || performanceTime === 0) {
      const late = this.#context.currentTime - (this.#context.outputLatency || 0);
      return performance.now() + (time - late) * 1000;
    }
    return performanceTime + (time - contextTime) * 1000;
  }

  #wait_for_mark(): void {
    clearTimeout(this.#tell);
    const first = this.#marks[0];
    if (!first) return;
    const left = this.#heard_at(first.time) - performance.now();
    this.#tell = setTimeout(() => this.#tell_marks(), Math.max(0, left));
  }

  #tell_marks(): void {
    // A timer may wake a little early; a mark that is due with the next picture need not wait.
    const due = performance.now() + 4;
    let last: Mark | undefined;
    for (;;) {
      const mark = this.#marks[0];
      if (!mark || this.#heard_at(mark.time) > due) break;
      last = this.#marks.shift();
    }
    if (last) this.#show(last.note);
    this.#wait_for_mark();
  }

  #show(note: number | null): void {
    if (note === this.#shown && note === null) return;
    this.#shown = note;
    this.#onnote(note);
  }
}
