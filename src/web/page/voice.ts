// The tone itself: an oscillator and filtered noise, with clicks beside them.

import type { Tone } from "./plan.ts";

// Seconds, hertz and parts of full loudness; all of this is our choice, by ear.
const kAttack = 0.018;
const kSlurTime = 0.012;
const kWaver = { hertz: 4.5, cents: 18, after: 0.2 };
const kPartials = [0, 1, 0.34, 0.16, 0.05, 0.025];
const kNoise = { level: 0.03, burst: 0.08, burst_time: 0.05, width: 1.4 };
const kClick = { first: 1760, other: 1174, level: 0.25, length: 0.035 };
/** When it is stopped it fades so long, after what the context has begun to render. */
const kStop = 0.012;
const kRendered = 0.008;

/** The same noise every time, so that a test renders what it rendered before. */
export function noise_buffer(context: BaseAudioContext): AudioBuffer {
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
export class Voice {
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
