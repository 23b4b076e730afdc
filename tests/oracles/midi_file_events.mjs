// Reads the MIDI files of a folder with midi-file and prints their events, one file a line:
// [name, format, ticks a quarter note, tracks of events as midi-file gives them].
//
//   node midi_file_events.mjs NODE_MODULES FOLDER
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';

const [packages, folder] = process.argv.slice(2).map((argument) => path.resolve(argument));
const { parseMidi } = createRequire(path.join(packages, 'packages.js'))('midi-file');

for (const name of fs.readdirSync(folder).filter((file) => file.endsWith('.mid')).sort()) {
  const { header, tracks } = parseMidi(fs.readFileSync(path.join(folder, name)));
  console.log(JSON.stringify([name, header.format, header.ticksPerBeat, tracks]));
}
