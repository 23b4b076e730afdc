// Plays the MusicXML files of a folder with Verovio, repeats played out, and compares what sounds
// with the notes expected beside each file (NNN.notes.json, see oracle_scores.cpp).
//
//   node verovio_notes.mjs NODE_MODULES FOLDER
//
// Keys must be equal. Verovio ends every note a tick (1/120 quarter) early and rounds fifths and
// sevenths of a quarter by a tick or two, so times may differ a little.
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

const ONSET_TOLERANCE = 1 / 100;
const LENGTH_TOLERANCE = 1 / 50;
// Verovio's time grows faster than the score.
const MOST_NOTES = 5000;

const [packages, folder] = process.argv.slice(2).map((argument) => path.resolve(argument));
const load = (file) => import(pathToFileURL(path.join(packages, file)).href);
const { parseMidi } = createRequire(path.join(packages, 'packages.js'))('midi-file');

// [key, onset, length] of the notes in a MIDI file, in the order of their onsets.
function playedNotes(bytes) {
  const { header, tracks } = parseMidi(bytes);
  const notes = [];
  for (const track of tracks) {
    const sounding = new Map();
    let now = 0;
    for (const event of track) {
      now += event.deltaTime;
      if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
      const begun = sounding.get(event.noteNumber);
      if (begun !== undefined) {
        const quarters = (ticks) => ticks / header.ticksPerBeat;
        notes.push([event.noteNumber, quarters(begun), quarters(now - begun)]);
        sounding.delete(event.noteNumber);
      }
      if (event.type === 'noteOn' && event.velocity > 0) sounding.set(event.noteNumber, now);
    }
  }
  return notes.sort((a, b) => a[1] - b[1]);
}

function quarters(fraction) {
  const [above, below = 1] = fraction.split('/').map(Number);
  return above / below;
}

function firstDifference(played, expected) {
  for (let i = 0; i < Math.min(played.length, expected.length); ++i) {
    const [key, onset, length] = expected[i];
    const same = played[i][0] === key &&
        Math.abs(played[i][1] - quarters(onset)) <= ONSET_TOLERANCE &&
        Math.abs(played[i][2] - quarters(length)) <= LENGTH_TOLERANCE;
    if (!same) return `note ${i}: played ${played[i]}, expected ${key} at ${onset} for ${length}`;
  }
  if (played.length === expected.length) return null;
  return `${played.length} notes, expected ${expected.length}`;
}

const { default: createModule } = await load('verovio/dist/verovio-module.mjs');
const { VerovioToolkit } = await load('verovio/dist/verovio.mjs');
const toolkit = new VerovioToolkit(await createModule());
toolkit.setOptions({ expandAlways: true });
// It warns of every hidden direction.
console.warn = console.error = () => {};

let count = 0;
let failures = 0;
for (const name of fs.readdirSync(folder).filter((file) => file.endsWith('.musicxml')).sort()) {
  const file = path.join(folder, name);
  const expected = JSON.parse(fs.readFileSync(file.replace(/musicxml$/, 'notes.json'), 'utf8'));
  if (expected.length > MOST_NOTES) continue;
  const loaded = toolkit.loadData(fs.readFileSync(file, 'utf8'));
  const played = loaded ? playedNotes(Buffer.from(toolkit.renderToMIDI(), 'base64')) : [];
  const difference = firstDifference(played, expected);
  ++count;
  if (difference === null) continue;
  ++failures;
  console.log(`${name}: ${difference}`);
}
console.log(`${count} files played, ${failures} that differ`);
process.exit(failures === 0 && count > 0 ? 0 : 1);
