// Draws a staff file with Verovio, tight around the music.
//
//   node staff_picture.mjs NODE_MODULES STAFF_FILE PICTURE
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [packages, staff, picture] = process.argv.slice(2).map((argument) => path.resolve(argument));
const load = (file) => import(pathToFileURL(path.join(packages, file)).href);
const { default: createModule } = await load('verovio/dist/verovio-module.mjs');
const { VerovioToolkit } = await load('verovio/dist/verovio.mjs');

const toolkit = new VerovioToolkit(await createModule());
toolkit.setOptions({
  // The same identifiers each time, so that the picture changes only with the music.
  xmlIdSeed: 1,
  pageWidth: 1500,
  scale: 40,
  adjustPageHeight: true,
  header: 'none',
  footer: 'none',
  breaks: 'auto',
  svgViewBox: true,
});
if (!toolkit.loadData(fs.readFileSync(staff, 'utf8'))) process.exit(1);
// White also where the page around it is dark.
const drawing = toolkit.renderToSVG(1).replace('<svg ', '<svg style="background:#fff" ');
fs.writeFileSync(picture, drawing);
