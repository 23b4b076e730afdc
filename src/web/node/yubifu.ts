// The command: the program with the files, streams and environment of the machine.
import * as fs from "node:fs";
import * as path from "node:path";
import * as tty from "node:tty";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";
import { call, connect, startInstance, type Transfer } from "../core/instance.ts";
import { told, useFiles, wordFor } from "./files.ts";

// While the other end of a pipe is not ready.
const kWaitMilliseconds = 5;
const kRefused = 2;

const isReady = ({ code }: NodeJS.ErrnoException): boolean => code !== "EAGAIN";

function patiently(transfer: () => number): number {
  const clock = new Int32Array(new SharedArrayBuffer(4));
  for (;;) {
    try {
      return transfer();
    } catch (fault) {
      if (isReady(fault as NodeJS.ErrnoException)) throw fault;
      Atomics.wait(clock, 0, 0, kWaitMilliseconds);
    }
  }
}

const fromInput: Transfer = (room) => {
  try {
    return patiently(() => fs.readSync(0, room));
  } catch (fault) {
    // The end of a terminal's input under Windows.
    if ((fault as NodeJS.ErrnoException).code === "EOF") return 0;
    throw fault;
  }
};

// Most runs are over before compiling it all has paid: on one core a start takes half the time, and a
// thousand small tunes a third less, when each function is compiled as it is first called, and anew, to
// be quicker, only after very many bytes of it have run. V8 has these flags since its version 10.
setFlagsFromString("--wasm-lazy-compilation");
setFlagsFromString("--wasm-lazy-validation");
setFlagsFromString("--wasm-tiering-budget=2147483647");

const wasm = new WebAssembly.Module(
  fs.readFileSync(fileURLToPath(new URL("yubifu.wasm", import.meta.url))));
const environment = { ...process.env };
if (environment.APPDATA !== undefined) environment.APPDATA = wordFor(path, environment.APPDATA);
const module = await startInstance(wasm, environment);
const { FS } = module;

useFiles(module, { fs, path, folder: process.cwd() });
connect(module, 0, (room) => told(FS, () => fromInput(room)), tty.isatty(0));
for (const descriptor of [1, 2] as const) {
  const write: Transfer = (bytes) => told(FS, () => patiently(() => fs.writeSync(descriptor, bytes)));
  connect(module, descriptor, write, tty.isatty(descriptor));
}

try {
  process.exitCode = call(module, process.argv.slice(2).map((word) => wordFor(path, word)));
} catch (fault) {
  fs.writeSync(2, `yubifu: error: the program failed: ${fault}\n`);
  process.exitCode = kRefused;
}
