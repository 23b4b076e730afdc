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
  smuflTextFont: 'none',
});
if (!toolkit.loadData(fs.readFileSync(staff, 'utf8'))) process.exit(1);
// The beat of the tempo is the one sign set as text, in a font that a picture cannot count on: a
// notehead of the staff and a stem stand for it.
function withDrawnBeat(drawing) {
  const beat = /<text x="(\d+)" y="(\d+)"([^>]*)>(\s*(?:<tspan[^>]*>\s*)*)<tspan font-family="[^"]*"[^>]*>\uECA5<\/tspan>/u;
  const head = drawing.match(/<use xlink:href="#E0A4-[^"]*"/)[0];
  return drawing.replace(beat, (_, x, y, rest, spans) => {
    const [left, foot] = [Number(x), Number(y) - 80];
    return `${head} transform="translate(${left}, ${foot}) scale(0.5, 0.5)" />
      <path d="M${left + 148} ${foot - 20} V${foot - 430}" stroke-width="22" />
      <text x="${left + 175}" y="${y}"${rest}>${spans}`;
  });
}

// White also where the page around it is dark.
const drawing = withDrawnBeat(toolkit.renderToSVG(1)).replace(
  '<svg ', '<svg style="background:#fff" ');
if (/font-face|font-family="(?!Times)/.test(drawing)) throw new Error('the picture needs a font');
fs.writeFileSync(picture, drawing);
