// Plays MusicXML files with Verovio and prints, for each, one line of JSON:
// {"file": NAME, "notes": [[key, onset, length], ...]} with times in quarters, repeats played out.
//
//   node verovio_notes.mjs FILE...        packages are looked for in the folder NODE_PATH
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

const packages = path.resolve(process.env.NODE_PATH ?? 'node_modules');
const load = (file) => import(pathToFileURL(path.join(packages, file)).href);
const { parseMidi } = createRequire(path.join(packages, 'x.js'))('midi-file');

// The notes of a MIDI file in the order of their onsets.
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

const { default: createModule } = await load('verovio/dist/verovio-module.mjs');
const { VerovioToolkit } = await load('verovio/dist/verovio.mjs');
const toolkit = new VerovioToolkit(await createModule());
toolkit.setOptions({ expandAlways: true });

for (const file of process.argv.slice(2)) {
  if (!toolkit.loadData(fs.readFileSync(file, 'utf8'))) throw new Error(`${file}: not loaded`);
  const bytes = Buffer.from(toolkit.renderToMIDI(), 'base64');
  console.log(JSON.stringify({ file: path.basename(file), notes: playedNotes(bytes) }));
}
