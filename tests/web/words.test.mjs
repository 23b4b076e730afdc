// The tables of the page against those of the project: what the editor completes and colours is what the
// editor grammar knows, every word of the page is said somewhere, and its colours fit the text.
import { describe, it } from "node:test";
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { assert, root } from "./support.mjs";

const { build } = createRequire(`${process.env.YUBIFU_WEB_PACKAGES}/`)("esbuild");
const folder = join(root, "src/web/page");
const made = await build({
  stdin: {
    contents: ["grammar", "completion", "words"].map((name) => `export * from "./${name}.ts";`).join("\n"),
    resolveDir: folder,
    loader: "ts",
  },
  bundle: true, write: false, format: "esm", platform: "node",
});
const file = join(tmpdir(), `yubifu-words-${process.pid}.mjs`);
await writeFile(file, made.outputFiles[0].text);
const { brace_words, kBraceWords, kHeaderKeys, pieces, say } = await import(pathToFileURL(file));
await rm(file);

describe("The tables of the page", () => {
  it("complete every mark and direction that the grammar of editors knows, and no other", () => {
    assert.deepEqual(Object.keys(kBraceWords).sort(), brace_words().sort());
  });

  it("complete every key of the header that the grammar knows", async () => {
    const grammar = JSON.parse(await readFile(join(root, "examples/editor/yubifu.tmLanguage.json"), "utf8"));
    const keys = grammar.repository["header-line"].patterns
      .map(({ begin }) => /\(((?:[a-z]+\|)*[a-z]+)\)/.exec(begin)?.[1])
      .filter(Boolean)
      .flatMap((list) => list.split("|"));
    assert.deepEqual(Object.keys(kHeaderKeys).sort(), keys.sort());
  });

  it("say nothing that no module or page asks for", async () => {
    const words = (await readFile(join(folder, "words.ts"), "utf8")).matchAll(/^ {2}(\w+): \{/gm);
    let used = "";
    for (const name of await readdir(folder)) {
      if (/\.(ts|html)$/.test(name) && name !== "words.ts") used += await readFile(join(folder, name), "utf8");
    }
    const unused = [...words].map(([, word]) => word).filter((word) => !new RegExp(`["'\`]${word}["'\`]`).test(used));
    // These are put together from what they name.
    assert.deepEqual(unused.filter((word) => !/^(error|warning|note|paper_.*|sheet|staff|fingers|low|second|third)$/.test(word)), []);
  });

  it("put values into sentences, whatever stands in them", () => {
    assert.equal(say("en", "brought", { name: "a {name} $& b" }), "a {name} $& b is here.");
    assert.equal(say("ja", "brought", { name: "曲" }), "曲 を取り込みました。");
  });

  it("colour a line as the grammar names its pieces", () => {
    const scopes = (line) => pieces(line).map(({ from, to, scope }) => [line.slice(from, to), scope.split(".").slice(0, 3).join(".")]);
    assert.deepEqual(scopes("三メ (- 7):2 |= # x").filter(([, scope]) => !/^(punctuation\.section|meta)/.test(scope)), [
      ["三", "variable.other.sign"],
      ["メ", "storage.modifier.half-hole"],
      ["-", "keyword.operator.hold"],
      ["7", "constant.numeric.sign"],
      [":", "punctuation.separator.length"],
      ["2", "constant.numeric.length"],
      ["|=", "punctuation.separator.bar"],
      ["# x", "comment.line.number-sign"],
      ["#", "punctuation.definition.comment"],
    ]);
    assert.deepEqual(scopes("title: # and {text}").at(-1), ["# and {text}", "string.unquoted.header"]);
    assert.deepEqual(scopes("二三")[0], ["二三", "invalid.illegal.word"]);
    // A brace that is never closed ends with its line.
    assert.equal(pieces("{text \"a").at(-1).to, 8);
  });
});
