// Recordings as the program reads them: WAV. What else the browser can play is decoded by it.

/** More of a recording is not taken, in bytes: the program has 2 GB for the sound and its work. */
export const kMostWav = 250_000_000;
/** Decoded, a recording takes up to fifty times the memory. */
export const kMostOther = 16_000_000;
/** To which the browser brings what it decodes, samples a second. */
const kRate = 48_000;

/** Samples from -1 to 1 in 16 bits. */
export function in_16_bits(samples: Float32Array): Int16Array {
  return Int16Array.from(samples, (sample) => Math.round(Math.max(-1, Math.min(1, sample)) * 32767));
}

/** A WAV file of 16 bits: pieces one after another, the samples of each channel in turn. */
export function wav_of(pieces: readonly Int16Array[], rate: number, channels = 1): Uint8Array {
  const size = pieces.reduce((sum, { byteLength }) => sum + byteLength, 0);
  const wav = new Uint8Array(44 + size);
  const view = new DataView(wav.buffer);
  const letters = (at: number, text: string): void => {
    for (let i = 0; i < text.length; ++i) view.setUint8(at + i, text.charCodeAt(i));
  };
  letters(0, "RIFF");
  view.setUint32(4, 36 + size, true);
  letters(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * channels * 2, true);
  view.setUint16(32, channels * 2, true);
  view.setUint16(34, 16, true);
  letters(36, "data");
  view.setUint32(40, size, true);
  // Every browser runs on machines that have the lower byte first, as the file has it.
  let at = 44;
  for (const piece of pieces) {
    wav.set(new Uint8Array(piece.buffer, piece.byteOffset, piece.byteLength), at);
    at += piece.byteLength;
  }
  return wav;
}

async function decoded(bytes: ArrayBuffer): Promise<Uint8Array> {
  const sound = await new OfflineAudioContext(1, 1, kRate).decodeAudioData(bytes);
  const channels = Math.min(2, sound.numberOfChannels);
  const samples = new Int16Array(sound.length * channels);
  for (let channel = 0; channel < channels; ++channel) {
    const line = sound.getChannelData(channel);
    for (let i = 0; i < line.length; ++i) {
      samples[i * channels + channel] = Math.round(Math.max(-1, Math.min(1, line[i]!)) * 32767);
    }
  }
  return wav_of([samples], kRate, channels);
}

/** What keeps a file from being read. */
export class NoRecording extends Error {
  constructor(readonly reason: "gauge_large" | "gauge_foreign") {
    super(reason);
  }
}

/** A file for `gauge`: a table and WAV as they are, another sound as WAV. */
export async function for_gauge(file: File): Promise<Uint8Array> {
  const start = new TextDecoder("latin1").decode(await file.slice(0, 12).arrayBuffer());
  const is_wav = /^RIFF....WAVE$/su.test(start);
  if (file.size > (is_wav ? kMostWav : kMostOther)) throw new NoRecording("gauge_large");
  const bytes = await file.arrayBuffer();
  if (is_wav || /\.(csv|tsv|txt)$/iu.test(file.name) || file.size === 0) return new Uint8Array(bytes);
  try {
    return await decoded(bytes);
  } catch {
    throw new NoRecording("gauge_foreign");
  }
}
