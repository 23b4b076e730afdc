// The program as a module: words of a command line and named files in, an answer out.
import { readFile } from "node:fs/promises";
import { startProgram, type Answer, type Program } from "../core/core.ts";

export type { Answer, Program };

const compiled = readFile(new URL("yubifu.wasm", import.meta.url)).then((bytes) =>
  WebAssembly.compile(new Uint8Array(bytes)));

/**
 * A program of one's own, which keeps its memory between runs: quicker for many of them.
 * `environment` are variables of its process, such as `{ LANG: "ja_JP.UTF-8" }`.
 */
export async function start(environment: Readonly<Record<string, string>> = {}): Promise<Program> {
  return startProgram(await compiled, environment);
}

let program: Promise<Program> | undefined;

/**
 * Runs the program once, in this thread: `await run(["convert", "a.mid", "--to", "text"],
 * new Map([["a.mid", bytes]]))`. It sees the given files alone, and "-" among them is its standard
 * input. Whether it found faults is in the status; it rejects only when it failed itself, and
 * the next call has a new one.
 */
export async function run(
  words: readonly string[],
  files: ReadonlyMap<string, Uint8Array> = new Map(),
): Promise<Answer> {
  program ??= start();
  try {
    return (await program).run(words, files);
  } catch (fault) {
    program = undefined;
    throw fault;
  }
}
