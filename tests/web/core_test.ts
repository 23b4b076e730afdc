// The program as WebAssembly under Node.js: what a caller of src/web/core may count on.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { Worker } from "node:worker_threads";
import { gzipSync } from "node:zlib";

import { Core, NoAnswer, type WorkerLike } from "../../src/web/core/client.ts";
import { startProgram } from "../../src/web/core/core.ts";

declare const BUILD: string;
declare const ROOT: string;
declare const WORKER: string;

const wasm = new WebAssembly.Module(readFileSync(join(BUILD, "core/yubifu.wasm")));
const start = () => startProgram(wasm);
const bytes = (text: string) => new TextEncoder().encode(text);
const text = (data: Uint8Array | undefined) => new TextDecoder().decode(data);
const kTune = "flute: 6\nmeter: 4/4\n\n三 四 五 六 |\n";
const kLoose = "flute: 6\nmeter: 4/4\n\n三   四 五 六 |\n";
const tune = new Map([["tune.yubifu", bytes(kTune)]]);

test("it is small enough to be sent to a phone: 1.2 MB as hosts compress it", () => {
  const size = gzipSync(readFileSync(join(BUILD, "core/yubifu.wasm")), { level: 9 }).length;
  assert.ok(size <= 1_200_000, `${size} bytes`);
});

test("files are read and written under the names of the words", async () => {
  const program = await start();
  const answer = program.run(["convert", "tune.yubifu", "-o", "tune.musicxml"], tune);
  assert.equal(answer.status, 0);
  assert.equal(answer.output.length, 0);
  assert.match(answer.messages, /^tune\.yubifu → tune\.musicxml: flute 6, 4 notes\n$/);
  assert.deepEqual([...answer.files.keys()], ["tune.musicxml"]);
  assert.match(text(answer.files.get("tune.musicxml")), /<score-partwise/);
});

test("names may be Japanese and lie in folders", async () => {
  const program = await start();
  const given = new Map([["曲/祭り 囃子.yubifu", bytes(kTune)]]);
  const answer = program.run(["convert", "曲", "--to", "midi", "--out-dir", "出力"], given);
  assert.equal(answer.status, 0, answer.messages);
  assert.deepEqual([...answer.files.keys()], ["出力/祭り 囃子.mid"]);
});

test("a file that is written anew is an output, one that is read is none", async () => {
  const program = await start();
  const given = new Map([["loose.yubifu", bytes(kLoose)]]);
  const answer = program.run(["tidy", "--in-place", "loose.yubifu"], given);
  assert.deepEqual([...answer.files.keys()], ["loose.yubifu"]);
  assert.equal(text(answer.files.get("loose.yubifu")), kTune);
  assert.equal(text(given.get("loose.yubifu")), kLoose);
});

test("the file - is standard input, and the next run has none of it", async () => {
  const program = await start();
  const words = ["tidy", "-"];
  assert.equal(text(program.run(words, new Map([["-", bytes(kTune)]])).output), kTune);
  assert.equal(text(program.run(words).output), "");
});

test("a name that leads out of the working folder is refused", async () => {
  for (const name of ["/tune.yubifu", "../tune.yubifu", "a//b.yubifu", ""]) {
    const program = await start();
    assert.throws(() => program.run(["check", "."], new Map([[name, bytes(kTune)]])), RangeError);
  }
});

test("each run speaks its own language, and knows nothing of the one before", async () => {
  const program = await start();
  const said = (language: string) =>
    program.run(["check", "x.yubifu", `--language=${language}`]).messages;
  const english = said("en");
  assert.match(english, /No such file or directory/);
  assert.match(said("ja"), /そのような|ありません/);
  assert.equal(said("en"), english);
  assert.equal(program.run(["check", "tune.yubifu"]).status, 2, "files of earlier runs are gone");
});

test("without --language the environment decides, not the machine", async () => {
  const messages = async (environment: Record<string, string>) =>
    (await startProgram(wasm, environment)).run(["check", "x.yubifu"]).messages;
  assert.match(await messages({}), /No such file/);
  assert.doesNotMatch(await messages({ LANG: "ja_JP.UTF-8" }), /No such file/);
});

test("messages have no colours", async () => {
  const program = await startProgram(wasm, { TERM: "xterm" });
  assert.doesNotMatch(program.run(["check", "x.yubifu"]).messages, /\x1b/);
});

test("thousands of runs do not grow", async () => {
  const program = await start();
  const score = readFileSync(join(ROOT, "examples/scores/ferry-lanterns.yubifu"));
  const formats = ["svg", "musicxml", "midi", "json", "mxl", "html", "text"];
  const runs = (count: number) => {
    for (let i = 0; i < count; ++i) {
      const format = formats[i % formats.length]!;
      const answer = program.run(["convert", "song.yubifu", "-o", `out.${format}`, "--to", format],
                                 new Map([["song.yubifu", score]]));
      assert.equal(answer.status, 0);
      assert.equal(answer.files.size, 1);
    }
    return program.memory();
  };
  const early = runs(200);
  assert.equal(runs(1800), early);
});

const kGroups = 100_000;
const deep: readonly [string, string, RegExp][] = [
  ["deep.musicxml", `<score-partwise>${"<a>".repeat(kGroups)}`, /nest more than 200 deep/],
  ["deep.yubifu", `flute: 6\n\n${"(".repeat(kGroups)}`, /more than 64 groups inside each other/],
  ["deep.json", "[".repeat(kGroups), /deep|nest/],
];
for (const [name, content, sentence] of deep) {
  test(`${name} meets a limit of the program`, async () => {
    const program = await start();
    const answer = program.run(["check", name], new Map([[name, bytes(content)]]));
    assert.notEqual(answer.status, 0);
    assert.match(answer.messages, sentence);
    assert.equal(program.run(["check", "tune.yubifu"], tune).status, 0, "it goes on after it");
  });
}

/** A worker of Node.js as browsers have them. */
class WebWorker implements WorkerLike {
  onmessage: WorkerLike["onmessage"] = null;
  onerror: WorkerLike["onerror"] = null;
  private readonly worker = new Worker(WORKER, { eval: true });

  constructor() {
    this.worker.on("message", (data) => this.onmessage?.({ data }));
    this.worker.on("error", (error: Error) => this.onerror?.(error));
  }
  postMessage(message: unknown): void {
    this.worker.postMessage(message);
  }
  terminate(): void {
    void this.worker.terminate();
  }
}

async function withCore(use: (core: Core, made: () => number) => Promise<void>): Promise<void> {
  let made = 0;
  const core = new Core(() => {
    ++made;
    return new WebWorker();
  }, { wasm, environment: {} });
  try {
    await use(core, () => made);
  } finally {
    core.close();
  }
}

// Long enough that it is under way when it is cancelled.
const kLong = `flute: 6\n\n${"三 四 五 六 |\n".repeat(20_000)}`;
const long = new Map([["long.yubifu", bytes(kLong)]]);
const fails = (run: Promise<unknown>, reason: NoAnswer["reason"]) =>
  assert.rejects(run, (fault: NoAnswer) => fault instanceof NoAnswer && fault.reason === reason);

test("a core answers in the order of the questions", () =>
  withCore(async (core) => {
    const answers: number[] = [];
    await Promise.all([
      core.run(["check", "long.yubifu"], long).then(() => answers.push(1)),
      core.run(["check", "tune.yubifu"], tune).then(() => answers.push(2)),
      core.run(["--version"]).then(() => answers.push(3)),
    ]);
    assert.deepEqual(answers, [1, 2, 3]);
  }));

test("what is cancelled gives no answer, and the next question has one", () =>
  withCore(async (core, made) => {
    await core.run(["--version"]);
    const ended = fails(core.run(["convert", "long.yubifu", "--to", "svg"], long), "cancelled");
    const forgotten = fails(core.run(["--version"]), "cancelled");
    core.cancel();
    await Promise.all([ended, forgotten]);
    assert.equal(made(), 3, "the second one stood ready, a third one stands now");
    assert.match(text((await core.run(["--version"])).output), /^yubifu /);
  }));

test("a crash is told, and the next question has an answer", () =>
  withCore(async (core) => {
    const given = new Map([["../out", bytes("")]]);
    await fails(core.run(["--version"], given), "crashed");
    assert.match(text((await core.run(["--version"])).output), /^yubifu /);
  }));
