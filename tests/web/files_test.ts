// The machine's files under the package for Node.js, as Windows names them: its paths, on a file
// system that takes them apart into folders of this machine.
import assert from "node:assert/strict";
import * as fs from "node:fs";
import { tmpdir } from "node:os";
import { join, posix, win32 } from "node:path";
import { test } from "node:test";

import { call, connect, startInstance } from "../../src/web/core/instance.ts";
import { useFiles, wordFor } from "../../src/web/node/files.ts";

declare const BUILD: string;

const wasm = new WebAssembly.Module(fs.readFileSync(join(BUILD, "core/yubifu.wasm")));
const kTune = "flute: 6\nmeter: 4/4\n\n三 四 五 六 |\n";
const kTakePaths = ["lstatSync", "chmodSync", "truncateSync", "mkdirSync", "writeFileSync",
                    "renameSync", "unlinkSync", "rmdirSync", "readdirSync", "readlinkSync", "openSync"];

/** Files under `folder`, a drive each folder of it; anything but a whole Windows path is refused. */
function windowsFiles(folder: string): typeof fs {
  const here = (place: unknown): unknown => {
    if (typeof place !== "string") return place;
    assert.match(place, /^[A-Z]:\\/);
    assert.doesNotMatch(place, /\//);
    return join(folder, place[0]!, ...place.slice(3).split("\\"));
  };
  return new Proxy(fs, {
    get(all, name) {
      const own = all[name as keyof typeof fs];
      if (!kTakePaths.includes(name as string)) return own;
      const takesTwo = name === "renameSync";
      return (first: unknown, second: unknown, ...rest: unknown[]) =>
        (own as (...all: unknown[]) => unknown)(here(first), takesTwo ? here(second) : second, ...rest);
    },
  });
}

/** Drives C and D with a tune on each, and the program in C:\songs. */
async function onWindows(use: (run: (...words: string[]) => string, folder: string) => void) {
  const folder = fs.mkdtempSync(join(tmpdir(), "yubifu-files-"));
  try {
    for (const place of ["C/songs/of summer", "D/other"]) fs.mkdirSync(join(folder, place), { recursive: true });
    fs.writeFileSync(join(folder, "C/songs/of summer/一.yubifu"), kTune);
    fs.writeFileSync(join(folder, "D/other/two.yubifu"), kTune);
    const module = await startInstance(wasm, {});
    useFiles(module, { fs: windowsFiles(folder), path: win32, folder: "C:\\songs" });
    let said = "";
    const decoder = new TextDecoder();
    for (const descriptor of [1, 2] as const) {
      connect(module, descriptor, (bytes) => {
        said += decoder.decode(bytes.slice());
        return bytes.length;
      });
    }
    use((...words) => {
      said = "";
      const status = call(module, words.map((word) => wordFor(win32, word)));
      return `${status} ${said}`;
    }, folder);
  } finally {
    fs.rmSync(folder, { recursive: true });
  }
}

test("paths with backslashes are found from the working folder", () =>
  onWindows((run) => {
    assert.match(run("check", ".\\of summer"), /^0 1 file checked/, "before any of its files");
    assert.match(run("check", "of summer\\一.yubifu"), /^0 /);
    assert.match(run("check", "C:\\songs"), /^0 1 file checked/, "with the folders in it");
    assert.match(run("check", "of summer\\none.yubifu"), /^2 of summer\/none\.yubifu: .*No such file/);
  }));

test("drives are found from anywhere, with either slash", () =>
  onWindows((run) => {
    assert.match(run("check", "C:\\songs\\of summer\\一.yubifu"), /^0 /);
    assert.match(run("compare", "C:/songs/of summer/一.yubifu", "D:\\other\\two.yubifu"), /^0 /);
    assert.match(run("check", "\\songs\\of summer\\一.yubifu"), /^0 /, "of the drive in use");
  }));

test("outputs are written where they are named", () =>
  onWindows((run, folder) => {
    assert.match(run("convert", "of summer\\一.yubifu", "-o", "D:\\other\\一.mid"), /^0 /);
    assert.match(run("convert", "..\\songs\\of summer", "--to", "svg", "--out-dir", "C:\\out\\pages"), /^0 /);
    assert.deepEqual(fs.readdirSync(join(folder, "D/other")), ["two.yubifu", "一.mid"]);
    assert.deepEqual(fs.readdirSync(join(folder, "C/out/pages")), ["一.svg"]);
  }));

test("an existing file is replaced, and keeps what it allows", () =>
  onWindows((run, folder) => {
    const place = join(folder, "D/other/out.mid");
    fs.writeFileSync(place, "old", { mode: 0o640 });
    assert.match(run("convert", "of summer\\一.yubifu", "-o", "D:\\other\\out.mid"), /^0 /);
    assert.equal(fs.readFileSync(place).subarray(0, 4).toString(), "MThd");
    assert.equal(fs.statSync(place).mode & 0o777, 0o640);
    assert.deepEqual(fs.readdirSync(join(folder, "D/other")), ["out.mid", "two.yubifu"]);
  }));

test("elsewhere a backslash is a letter of a name", () => {
  assert.equal(wordFor(posix, "a\\b"), "a\\b");
});
