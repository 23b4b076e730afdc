// A microphone while it is wanted, and the attempts that are heard in it: stretches of sound between
// silences. What sounded in one, the program says; here only loudness counts.

/** Why there is no sound to be had. */
export class NoMicrophone extends Error {
  constructor(readonly reason: "ear_denied" | "ear_absent" | "ear_unsafe") {
    super(reason);
  }
}

// Runs beside the page's own thread, so that no sound is lost while that is busy.
const kEar = `
registerProcessor("ear", class extends AudioWorkletProcessor {
  #block = new Float32Array(1024);
  #full = 0;
  process([[samples]]) {
    for (const sample of samples ?? []) {
      this.#block[this.#full++] = sample;
      if (this.#full < this.#block.length) continue;
      this.port.postMessage(this.#block);
      this.#full = 0;
    }
    return true;
  }
});
`;

async function ear(context: AudioContext, heard: (samples: Float32Array) => void): Promise<AudioNode> {
  const address = URL.createObjectURL(new Blob([kEar], { type: "text/javascript" }));
  try {
    await context.audioWorklet.addModule(address);
  } catch {
    // Chromium lets a page from the disk have none: there the page's own thread hears, in larger pieces.
    const node = context.createScriptProcessor(4096, 1, 1);
    node.onaudioprocess = ({ inputBuffer }) => heard(inputBuffer.getChannelData(0).slice());
    return node;
  } finally {
    URL.revokeObjectURL(address);
  }
  const node = new AudioWorkletNode(context, "ear", { channelCount: 1, channelCountMode: "explicit" });
  node.port.onmessage = ({ data }: MessageEvent<Float32Array>) => heard(data);
  return node;
}

export class Microphone {
  private constructor(
    private readonly context: AudioContext,
    private readonly stream: MediaStream,
  ) {}

  /** Samples a second. */
  get rate(): number {
    return this.context.sampleRate;
  }

  /** Asks for a microphone; `heard` is given its sound piece by piece, `lost` is called when it goes. */
  static async open(heard: (samples: Float32Array) => void, lost: () => void): Promise<Microphone> {
    // Pages from an unprotected host are given none.
    if (!navigator.mediaDevices?.getUserMedia) throw new NoMicrophone("ear_unsafe");
    // What makes speech clear would bend and cut a flute.
    const plain = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
    let stream: MediaStream;
    try {
      stream = await navigator.mediaDevices.getUserMedia({ audio: { ...plain, channelCount: 1 } });
    } catch (error) {
      const denied = error instanceof DOMException && /NotAllowed|Security/u.test(error.name);
      throw new NoMicrophone(denied ? "ear_denied" : "ear_absent");
    }
    const context = new AudioContext();
    const microphone = new Microphone(context, stream);
    try {
      // What comes out of the ear is silence; only what leads to the loudspeaker runs.
      const source = context.createMediaStreamSource(stream);
      source.connect(await ear(context, heard)).connect(context.destination);
      stream.getAudioTracks()[0]!.onended = lost;
      await context.resume();
    } catch (error) {
      microphone.close();
      throw error;
    }
    return microphone;
  }

  close(): void {
    for (const track of this.stream.getTracks()) track.stop();
    void this.context.close();
  }
}

/** Of one attempt no more is kept. */
export const kMostSeconds = 10;

const kSilenceDb = -100;
const kBeforeSeconds = 0.5;
const kFloorSeconds = 2;
/** Over the quietest of the last two seconds. */
const kSoundsOverDb = 10;
const kEndsOverDb = 6;
/** Under the loudest of the attempt: its echo is no part of it. */
const kEndsUnderDb = 20;
const kEndSeconds = 0.3;
/** Clicks, and what a hand does on the table. */
const kLeastSeconds = 0.06;

export function decibels(samples: Float32Array): number {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return Math.max(kSilenceDb, 10 * Math.log10(sum / Math.max(1, samples.length) + 1e-12));
}

/** Parts what a microphone hears into attempts. */
export class Attempts {
  #before: Float32Array[] = [];
  #levels: number[] = [];
  #loud: Float32Array[] = [];
  #attempt: { blocks: Float32Array[]; floor: number; peak: number; quiet: number } | undefined;

  constructor(private readonly rate: number) {}

  get sounding(): boolean {
    return this.#attempt !== undefined;
  }

  /** Takes the next sound in; gives an attempt out once it has ended, with the silence at both ends. */
  take(block: Float32Array): Float32Array | undefined {
    const level = decibels(block);
    const blocks = (seconds: number): number => Math.ceil((seconds * this.rate) / block.length);
    if (!this.#attempt) {
      const floor = this.#levels.length ? Math.min(...this.#levels) : level;
      this.#levels = [...this.#levels, level].slice(-blocks(kFloorSeconds));
      this.#loud = level > floor + kSoundsOverDb ? [...this.#loud, block] : [];
      this.#before = [...this.#before, block].slice(-blocks(kBeforeSeconds));
      if (this.#loud.length >= blocks(kLeastSeconds)) {
        this.#attempt = { blocks: this.#before, floor, peak: level, quiet: 0 };
      }
      return undefined;
    }
    const attempt = this.#attempt;
    attempt.blocks.push(block);
    attempt.peak = Math.max(attempt.peak, level);
    const ends = level < Math.max(attempt.floor + kEndsOverDb, attempt.peak - kEndsUnderDb);
    attempt.quiet = ends ? attempt.quiet + 1 : 0;
    const over = attempt.quiet >= blocks(kEndSeconds);
    if (!over && attempt.blocks.length < blocks(kMostSeconds)) return undefined;
    this.forget();
    // After too long a sound this is how loud the room is.
    if (!over) this.#levels = [level];
    return joined(attempt.blocks);
  }

  /** Begins anew, as if nothing had sounded. */
  forget(): void {
    this.#attempt = undefined;
    this.#before = [];
    this.#loud = [];
  }
}

function joined(blocks: readonly Float32Array[]): Float32Array {
  const whole = new Float32Array(blocks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const block of blocks) {
    whole.set(block, at);
    at += block.length;
  }
  return whole;
}
