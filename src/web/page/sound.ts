// Lets a listing sound: a plain breathy tone of oscillator and filtered noise, at the frequencies
// that the program gives. The same graph plays into a loudspeaker and into a buffer.

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

// Seconds; all of this section is our choice, by ear.
const kAttack = 0.018;
const kRelease = 0.015;
/** Silence that parts two tones: the tongue, a finger's strike, a breath. */
const kParted = { tongued: 0.03, struck: 0.022, breath: 0.3 };
/** The most that such a silence takes of a tone. */
const kMostParted = { tongued: 0.25, struck: 0.25, breath: 0.4 };
const kStaccato = 0.5;
const kSlurTime = 0.012;
const kSlideTime = 0.18;
const kMostSlide = 0.4;
const kWaver = { hertz: 4.5, cents: 18, after: 0.2 };
const kLevel = 0.22;
const kPartials = [0, 1, 0.34, 0.16, 0.05, 0.025];
const kNoise = { level: 0.03, burst: 0.08, burst_time: 0.05, width: 1.4 };
const kClick = { first: 1760, other: 1174, level: 0.25, length: 0.035 };
/** When it is stopped it fades so long, after what the context has begun to render. */
const kStop = 0.012;
const kRendered = 0.008;

/** One step of the playing; times in seconds from the start of a pass. */
type Step =
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
function window_of(listing: Listing, bars: BarRange | undefined): { from: number; to: number } {
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

/** The same noise every time, so that a test renders what it rendered before. */
function noise_buffer(context: BaseAudioContext): AudioBuffer {
  const buffer = context.createBuffer(1, 2 * context.sampleRate, context.sampleRate);
  const samples = buffer.getChannelData(0);
  let state = 0x2f6e2b1;
  for (let i = 0; i < samples.length; ++i) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    samples[i] = state / 0x80000000 - 1;
  }
  return buffer;
}

/** The tone, and the clicks beside it. All times are the context's; they must not go back. */
class Voice {
  readonly #context: BaseAudioContext;
  readonly #gate: GainNode;
  readonly #envelope: GainNode;
  readonly #breath: GainNode;
  readonly #waver: GainNode;
  readonly #oscillator: OscillatorNode;
  readonly #filter: BiquadFilterNode;
  readonly #sources: AudioScheduledSourceNode[];
  #level = 0;
  #hz = 0;
  #free_from = 0;

  constructor(context: BaseAudioContext, buffer: AudioBuffer) {
    this.#context = context;
    this.#gate = new GainNode(context);
    this.#gate.connect(context.destination);
    this.#envelope = new GainNode(context, { gain: 0 });
    this.#envelope.connect(this.#gate);
    this.#breath = new GainNode(context, { gain: kNoise.level });
    this.#breath.connect(this.#envelope);
    const wave = context.createPeriodicWave(kPartials.map(() => 0), kPartials);
    this.#oscillator = new OscillatorNode(context, { periodicWave: wave, frequency: 440 });
    this.#oscillator.connect(this.#envelope);
    this.#filter = new BiquadFilterNode(context, { type: "bandpass", Q: kNoise.width });
    this.#filter.connect(this.#breath);
    const noise = new AudioBufferSourceNode(context, { buffer, loop: true });
    noise.connect(this.#filter);
    this.#waver = new GainNode(context, { gain: 0 });
    this.#waver.connect(this.#oscillator.detune);
    const slow = new OscillatorNode(context, { frequency: kWaver.hertz });
    slow.connect(this.#waver);
    this.#sources = [this.#oscillator, noise, slow];
    for (const source of this.#sources) source.start();
  }

  /** A tone of a length, until `end` is called; out of the one before it where that still sounds. */
  begin(tone: Tone, at: number, slurred: boolean): void {
    at = this.#not_before(at);
    const length = tone.until - tone.at;
    const sounding = this.#level > 0;
    if (slurred && sounding) {
      const turn = Math.min(kSlurTime, length * 0.25);
      this.#tune(at, this.#hz, at + turn, tone.hz);
      this.#swell(at, at + turn, tone.level);
    } else {
      this.#tune(at, tone.hz, at, tone.hz);
      this.#swell(at, at + Math.min(kAttack, length * 0.3), tone.level);
      if (tone.tongued) {
        this.#breath.gain.setValueAtTime(kNoise.burst, at);
        const calm = at + Math.min(kNoise.burst_time, length * 0.5);
        this.#breath.gain.linearRampToValueAtTime(kNoise.level, calm);
      }
    }
    const wavers = tone.wavers && length > 2 * kWaver.after;
    this.#waver.gain.setValueAtTime(0, at);
    if (wavers) {
      this.#waver.gain.setValueAtTime(0, at + kWaver.after);
      this.#waver.gain.linearRampToValueAtTime(kWaver.cents, at + 2 * kWaver.after);
    }
  }

  /** From where it is to another frequency, where the next tone takes over. */
  slide(at: number, until: number, hz: number): void {
    at = this.#not_before(at);
    if (until > at) this.#tune(at, this.#hz, until, hz);
  }

  /** Fades from `at` to silence at `until`. */
  end(at: number, until: number): void {
    at = this.#not_before(at);
    this.#swell(at, Math.max(until, at + 0.004), 0);
  }

  click(at: number, first: boolean): void {
    if (at < this.#context.currentTime) return;
    const tone = new OscillatorNode(this.#context, { frequency: first ? kClick.first : kClick.other });
    const envelope = new GainNode(this.#context, { gain: 0 });
    tone.connect(envelope).connect(this.#gate);
    envelope.gain.setValueAtTime(0, at);
    envelope.gain.linearRampToValueAtTime(kClick.level, at + 0.001);
    envelope.gain.exponentialRampToValueAtTime(1e-4, at + kClick.length);
    tone.start(at);
    tone.stop(at + kClick.length);
    tone.onended = () => envelope.disconnect();
  }

  /** Silent within 20 ms of `at`, whatever was asked for before. */
  close(at: number): void {
    at += kRendered;
    this.#gate.gain.setValueAtTime(1, at);
    this.#gate.gain.linearRampToValueAtTime(0, at + kStop);
    for (const source of this.#sources) source.stop(at + 2 * kStop);
    this.#oscillator.onended = () => this.#gate.disconnect();
  }

  get hz(): number | undefined {
    return this.#level > 0 ? this.#hz : undefined;
  }

  // What comes too late, as the page was busy, begins late rather than with a crack.
  #not_before(at: number): number {
    const now = this.#context.currentTime;
    return Math.max(at, this.#free_from, now > 0 ? now + kRendered : 0);
  }

  #tune(at: number, from: number, until: number, to: number): void {
    for (const pitch of [this.#oscillator.frequency, this.#filter.frequency]) {
      pitch.setValueAtTime(from, at);
      if (until > at) pitch.exponentialRampToValueAtTime(to, until);
    }
    this.#hz = to;
  }

  #swell(at: number, until: number, level: number): void {
    this.#envelope.gain.setValueAtTime(this.#level, at);
    this.#envelope.gain.linearRampToValueAtTime(level, until);
    this.#level = level;
    this.#free_from = until;
  }
}

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
    clearTimeout(this.#wake);
    this.#hand_over();
  }

  #hand_over(): void {
    const run = this.#run;
    if (!run) return;
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
