// One instance of the program as emscripten made it, whatever its files and streams are.
import createModule, { type EmscriptenModule } from "yubifu-module";

export type { EmscriptenModule };

/** Moves bytes between a stream of the program and the piece of its memory that it gives: how many
 * were moved. */
export type Transfer = (bytes: Uint8Array) => number;

// What emscripten would give a program that is not told otherwise, the browser's language among it.
const kInvented = ["USER", "LOGNAME", "PATH", "PWD", "HOME", "LANG", "_"];

/** As UTF-8 in which each character stands for a byte, as emscripten copies variables. */
function bytesOf(text: string): string {
  return String.fromCharCode(...new TextEncoder().encode(text));
}

/** Starts an instance. The environment is that of its process: variables such as `LC_ALL`. */
export function startInstance(
  wasm: WebAssembly.Module,
  environment: Readonly<Record<string, string | undefined>>,
): Promise<EmscriptenModule> {
  return new Promise((done, failed) => {
    createModule({
      instantiateWasm(imports, started) {
        // Where it fails, createModule would wait for ever.
        WebAssembly.instantiate(wasm, imports).then((made) => started(made, wasm), failed);
        return {};
      },
      preRun: [
        ({ ENV }) => {
          for (const name of kInvented) ENV[name] = undefined;
          for (const [name, value] of Object.entries(environment)) {
            if (value !== undefined) ENV[bytesOf(name)] = bytesOf(value);
          }
        },
      ],
    }).then(done, failed);
  });
}

/** Lets standard input (0), output (1) or errors (2) go through `transfer`; `terminal` says that it
 * is one. */
export function connect(
  module: EmscriptenModule,
  descriptor: 0 | 1 | 2,
  transfer: Transfer,
  terminal = false,
): void {
  const stream = module.FS.streams[descriptor]!;
  stream.tty = terminal ? {} : undefined;
  stream.seekable = false;
  const through = (_: unknown, memory: Int8Array, offset: number, length: number): number =>
    transfer(new Uint8Array(memory.buffer, memory.byteOffset + offset, length));
  stream.stream_ops = descriptor === 0 ? { read: through } : { write: through };
}

/** Runs the program once: its exit status. */
export function call(module: EmscriptenModule, words: readonly string[]): number {
  const stack = module.stackSave();
  const all = ["yubifu", ...words];
  const list = module.stackAlloc(4 * (all.length + 1));
  all.forEach((word, i) => {
    module.HEAPU32[list / 4 + i] = module.allocateUTF8OnStack(word);
  });
  module.HEAPU32[list / 4 + all.length] = 0;
  const status = module._main(all.length, list);
  module.stackRestore(stack);
  return status;
}
