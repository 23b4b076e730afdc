// Runs the program as WebAssembly and the native one with the same words and files: status,
// outputs and messages must be the same bytes. Prints what differs.
//
//   node equal.mjs BUILD [OUT]
//
// BUILD is the native build with its tests, OUT what src/web/build.sh made (build/web). The files
// are those of examples/ and of the fuzz corpora, own hard ones, 200 scores of the generator of the
// tests, and those of the folder that YUBIFU_STAFF_FILES names. With YUBIFU_EVERY=N only each Nth
// question is asked.
import { execFile, execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, extname, join, relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../..");
const build = resolve(process.argv[2]);
const out = resolve(process.argv[3] ?? join(root, "build/web"));
const { start } = await import(pathToFileURL(join(out, "node/index.mjs")));
const environment = { LC_ALL: "C.UTF-8" };
const program = await start(environment);
const work = mkdtempSync(join(tmpdir(), "yubifu-equal-"));
const languages = ["en", "ja"];

/** The files of a folder and of those in it, by their paths from it. */
function filesIn(folder) {
  const found = new Map();
  const walk = (at) => {
    for (const entry of readdirSync(at, { withFileTypes: true })) {
      const path = join(at, entry.name);
      if (entry.isDirectory()) walk(path);
      else found.set(relative(folder, path), readFileSync(path));
    }
  };
  walk(folder);
  return found;
}

/** The native program on these files: what WebAssembly answers with. */
async function native(words, files) {
  const folder = mkdtempSync(join(work, "run-"));
  for (const [name, bytes] of files) {
    if (name === "-") continue;
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  // What is written anew is another file, even under the same name.
  const nodes = new Map([...filesIn(folder).keys()].map((name) => [name, statSync(join(folder, name)).ino]));
  const answer = await new Promise((done) => {
    const child = execFile(join(build, "yubifu"), words,
      { cwd: folder, env: environment, encoding: "buffer", maxBuffer: 1 << 30 },
      (fault, output, messages) => done({ status: fault === null ? 0 : fault.code, output, messages }));
    child.stdin.on("error", () => {});
    child.stdin.end(files.get("-") ?? "");
  });
  answer.files = filesIn(folder);
  for (const name of answer.files.keys()) {
    if (nodes.get(name) === statSync(join(folder, name)).ino) answer.files.delete(name);
  }
  rmSync(folder, { recursive: true });
  return answer;
}

const kSheets = ["text", "musicxml", "mxl", "midi", "json", "svg", "html"];
const isStaff = (name) => [".musicxml", ".xml", ".mxl"].includes(extname(name));
const isText = (name) => extname(name) === ".yubifu";

/** What is asked of a file. */
function questions(name) {
  const converted = kSheets.map((to) => ["convert", name, "--to", to, "-o", `out.${to}`]);
  return [
    ...converted,
    ["check", name], ["check", name, "--report", "json"], ["fit", name],
    ["convert", name, "--to", "text", "--ascii", "--flute", "6", "--refinger", "--explain"],
    ["compare", name, name],
    ...(isStaff(name) ? [["annotate", name, "-o", "out.xml"]] : []),
    ...(isText(name) ? [["tidy", name], ["tidy", name, "--ascii", "-o", "out.yubifu"]] : []),
    ...(extname(name) === ".json" ? [["chart", "--flute", name], ["chart", "--flute", name, "--to", "svg"]] : []),
  ];
}

/** An XML file that declares an encoding and is in it, with a text that needs it. */
const declared = (encoding, title) => Buffer.concat([
  Buffer.from(`<?xml version="1.0" encoding="${encoding}"?>
<score-partwise version="4.0"><work><work-title>`), title, Buffer.from(`</work-title></work>
<part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats>
<beat-type>4</beat-type></time></attributes>
<note><pitch><step>A</step><octave>4</octave></pitch><duration>2</duration></note>
<note><pitch><step>E</step><alter>-1</alter><octave>5</octave></pitch><duration>2</duration></note>
</measure></part></score-partwise>
`)]);

const hard = new Map(Object.entries({
  // Two characters of each; a half hole has none in Latin encodings.
  "shift-jis.musicxml": declared("Shift_JIS", Buffer.from([0x93, 0x4a, 0x90, 0xba])),
  "windows-31j.musicxml": declared("Windows-31J", Buffer.from([0x87, 0x40, 0xfa, 0xb1])),
  "euc-jp.musicxml": declared("EUC-JP", Buffer.from([0xc5, 0xab, 0xc0, 0xbc])),
  "latin-1.musicxml": declared("ISO-8859-1", Buffer.from([0xe9, 0xa4])),
  "latin-9.musicxml": declared("latin-9", Buffer.from([0xe9, 0xa4])),
  "windows-1252.musicxml": declared("windows-1252", Buffer.from([0x80, 0x99])),
  "ascii.musicxml": declared("US-ASCII", Buffer.from("plain")),
  "not-shift-jis.musicxml": declared("Shift_JIS", Buffer.from([0x93, 0x20])),
  "yen.musicxml": declared("Shift_JIS", Buffer.from([0x5c, 0x7e, 0x81, 0x5f, 0x81, 0x60])),
  "declared-utf-16.musicxml": declared("UTF-16", Buffer.from("plain")),
  "unknown.musicxml": declared("X-NOWHERE", Buffer.from([0xe9])),
  "utf-16le.musicxml": Buffer.from("\ufeff" + declared("UTF-16", Buffer.from("笛")), "utf16le"),
  "shift-jis.yubifu": Buffer.concat([Buffer.from("flute: 6\n\n"), Buffer.from([0x8e, 0x4f, 0x20, 0x8e, 0x6c, 0x0a])]),
  "deep.musicxml": Buffer.from(`<score-partwise>${"<a>".repeat(100_000)}`),
  "deep.yubifu": Buffer.from(`flute: 6\n\n${"(".repeat(100_000)}`),
  "deep.json": Buffer.from("[".repeat(100_000)),
  "empty.yubifu": Buffer.alloc(0), "empty.mid": Buffer.alloc(0), "empty.musicxml": Buffer.alloc(0),
  "zeros.mxl": Buffer.alloc(1000),
  "笛 の 譜.yubifu": Buffer.from("flute: 8+15c\n\n三 四メ (五 六) 七 |\n"),
}));

/** Questions without a file of their own, or with several. */
function others(examples) {
  const scores = new Map([...examples].filter(([name]) => name.startsWith("scores/")));
  const both = [...scores.keys()].slice(0, 2);
  return [
    [["help"]], [["help", "notation"]], [["help", "convert"]], [["--version"]], [[]], [["convrt"]],
    [["convert"]], [["convert", "--to", "xyz", "-"]], [["schema"]], [["schema", "report"]],
    [["new", "-o", "tune.yubifu"]], [["chart"]], [["chart", "--to", "svg", "--flute", "7.5"]],
    [["chart", "--flute", "3+15c", "--tuning", "442"]], [["check", "score.yubifu"], scores],
    [["check", "scores"], scores], [["check", "scores", "--report", "sarif"], scores],
    [["check", "."], examples], [["compare", ...both], scores],
    [["convert", "scores", "--to", "midi", "--out-dir", "out"], scores],
    [["convert", "scores", "--to", "html", "-o", "book.html"], scores],
    [["tidy", "--in-place", "scores"], scores], [["tidy", "--check", "scores"], scores],
    [["convert", "-", "--to", "svg"], new Map([["-", Buffer.from("三 四 五 六 |")]])],
    [["convert", "scores", "-o", "out.mid"], scores],
    [["convert", both[0], "-o", "no/such/folder/x.mid"], scores],
    [["convert", both[0], "-o", "scores"], scores],
    [["check", "scores", "--jobs", "4"], scores],
  ].map(([words, files]) => [words, files ?? new Map()]);
}

const examples = filesIn(join(root, "examples"));
const cases = [];
const ask = (words, files, language) => cases.push({ words: [...words, "--language", language], files });
const askAll = (name, bytes, spoken) => {
  for (const [i, words] of questions(name).entries()) {
    for (const language of spoken(i)) ask(words, new Map([[name, bytes]]), language);
  }
};
const gather = (files) => {
  for (const [name, bytes] of files) askAll(basename(name), bytes, () => languages);
};
gather([...examples].filter(([name]) => /\.(yubifu|musicxml|mid|json)$/.test(name)));
gather(hard);
for (const [words, files] of others(examples)) {
  for (const language of languages) ask(words, files, language);
}
// The corpora have no suffixes; their folders say what they hold.
const kSuffixes = { fingering_text: "yubifu", midi_bytes: "mid", staff_text: "musicxml",
                    staff_container: "mxl", score_json: "json", flute_json: "json" };
for (const [folder, suffix] of Object.entries(kSuffixes)) {
  for (const [name, bytes] of filesIn(join(root, "tests/fuzz/corpus", folder))) {
    askAll(`${name}.${suffix}`, bytes, (i) => [languages[i % 2]]);
  }
}
const generated = join(work, "generated");
mkdirSync(generated);
execFileSync(join(build, "tests/oracles/oracle_scores"), [generated, "200", "written"]);
for (const [index, [name, bytes]] of [...filesIn(generated)].entries()) {
  askAll(name, bytes, (i) => [languages[(index + i) % 2]]);
}
if (process.env.YUBIFU_STAFF_FILES) gather(filesIn(process.env.YUBIFU_STAFF_FILES));

/** What differs between two answers; nothing when they are equal. */
function difference(a, b) {
  if (a.status !== b.status) return `status ${a.status} and ${b.status}: ${b.messages}`;
  const messages = Buffer.from(b.messages, "utf8");
  if (!messages.equals(a.messages)) return `messages:\n${a.messages}and:\n${b.messages}`;
  if (!a.output.equals(b.output)) return "standard output";
  const names = new Set([...a.files.keys(), ...b.files.keys()]);
  for (const name of names) {
    if (!a.files.has(name) || !b.files.has(name)) return `only one has the file ${name}`;
    if (!a.files.get(name).equals(b.files.get(name))) return `the file ${name}`;
  }
  return undefined;
}

let different = 0;
const parallel = 3;
const every = Number(process.env.YUBIFU_EVERY ?? 1);
const asked = cases.filter((_, index) => index % every === 0);
const waiting = asked.values();
async function worker() {
  for (const { words, files } of waiting) {
    const theirs = native(words, files);
    const own = program.run(words, files);
    const found = difference(await theirs, own);
    if (found === undefined) continue;
    ++different;
    console.log(`${words.join(" ")} (of ${[...files.keys()].slice(0, 3).join(", ")}): ${found.slice(0, 1500)}`);
  }
}
await Promise.all(Array.from({ length: parallel }, worker));
rmSync(work, { recursive: true });
console.log(`${asked.length - different} of ${asked.length} runs are equal to the native program's`);
process.exitCode = different === 0 ? 0 : 1;
