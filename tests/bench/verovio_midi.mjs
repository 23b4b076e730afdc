// Loads a MusicXML file with Verovio and writes its MIDI file.
//
//   node verovio_midi.mjs NODE_MODULES IN.musicxml OUT.mid
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [packages, input, output] = process.argv.slice(2).map((name) => path.resolve(name));
const load = (file) => import(pathToFileURL(path.join(packages, file)).href);
const { default: createModule } = await load('verovio/dist/verovio-module.mjs');
const { VerovioToolkit } = await load('verovio/dist/verovio.mjs');
const toolkit = new VerovioToolkit(await createModule());
console.warn = console.error = () => {};
if (!toolkit.loadData(fs.readFileSync(input, 'utf8'))) process.exit(1);
fs.writeFileSync(output, Buffer.from(toolkit.renderToMIDI(), 'base64'));
