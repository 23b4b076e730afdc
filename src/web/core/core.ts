// The program: words of a command line and named files in; status, output, messages and files out.
import createModule, { type EmscriptenModule, type FsNode } from "yubifu-module";

/** What a run of the program leaves. */
export interface Answer {
  /** As of a process: 0 for done, 1 for findings, 2 for refused. */
  status: number;
  /** Standard output. */
  output: Uint8Array;
  /** Standard error, whole. */
  messages: string;
  /** What was written, by the names that the words gave. */
  files: Map<string, Uint8Array>;
}

/** One instance of the program. After `run` has thrown, it is of no more use. */
export interface Program {
  /**
   * Runs the program to its end. Names of files count from the working folder, and may lie in
   * folders of it; the file "-" is standard input. A fault of the program itself (no memory left)
   * throws.
   */
  run(words: readonly string[], files?: ReadonlyMap<string, Uint8Array>): Answer;
  /** The bytes that the instance holds, which never shrink. */
  memory(): number;
}

const kFolder = "/work";
const kStandardInput = "-";

/** Collects what is written to a stream of the program. */
class Sink {
  private pieces: Uint8Array[] = [];
  private size = 0;

  add(bytes: Uint8Array): void {
    this.pieces.push(bytes);
    this.size += bytes.length;
  }

  take(): Uint8Array {
    const whole = new Uint8Array(this.size);
    let at = 0;
    for (const piece of this.pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    this.pieces = [];
    this.size = 0;
    return whole;
  }
}

/** Starts an instance. The environment is that of its process: variables such as `LC_ALL`. */
export async function startProgram(
  wasm: WebAssembly.Module,
  environment: Readonly<Record<string, string>> = {},
): Promise<Program> {
  const module = await createModule({
    // Who called would wait for ever if the instance could not be made.
    instantiateWasm(imports, started) {
      WebAssembly.instantiate(wasm, imports).then((instance) => started(instance, wasm));
      return {};
    },
    preRun: [
      (starting: EmscriptenModule) => {
        for (const name of Object.keys(starting.ENV)) delete starting.ENV[name];
        Object.assign(starting.ENV, environment);
      },
    ],
  });
  const { FS } = module;
  // It starts with one that forbids whatever file is made to be read.
  module._umask(0o022);
  const output = new Sink();
  const errors = new Sink();
  let input: Uint8Array = new Uint8Array();
  let inputAt = 0;
  const connect = (
    descriptor: number,
    transfer: (buffer: Uint8Array, offset: number, length: number) => number,
  ): void => {
    const stream = FS.streams[descriptor]!;
    stream.tty = undefined;
    stream.seekable = false;
    const through = (_: unknown, buffer: Int8Array, offset: number, length: number): number =>
      transfer(new Uint8Array(buffer.buffer, buffer.byteOffset), offset, length);
    stream.stream_ops = descriptor === 0 ? { read: through } : { write: through };
  };
  const into = (sink: Sink) => (buffer: Uint8Array, offset: number, length: number) => {
    sink.add(buffer.slice(offset, offset + length));
    return length;
  };
  connect(0, (buffer, offset, length) => {
    const piece = input.subarray(inputAt, inputAt + length);
    buffer.set(piece, offset);
    inputAt += piece.length;
    return piece.length;
  });
  connect(1, into(output));
  connect(2, into(errors));
  FS.mkdir(kFolder);

  /** Files that were not given as they are now. */
  const written = (folder: FsNode, given: ReadonlySet<FsNode>): Map<string, Uint8Array> => {
    const found = new Map<string, Uint8Array>();
    const gather = (node: FsNode, path: string): void => {
      for (const [name, child] of Object.entries(node.contents as Record<string, FsNode>)) {
        if (FS.isDir(child.mode)) gather(child, `${path}${name}/`);
        else if (!given.has(child)) found.set(path + name, FS.readFile(FS.getPath(child)));
      }
    };
    gather(folder, "");
    return found;
  };

  return {
    run(words, files = new Map()) {
      const folder = FS.mount(FS.filesystems.MEMFS, {}, kFolder);
      FS.chdir(kFolder);
      const given = new Set<FsNode>();
      input = new Uint8Array();
      inputAt = 0;
      for (const [name, bytes] of files) {
        if (name === kStandardInput) {
          input = bytes;
          continue;
        }
        const slash = name.lastIndexOf("/");
        if (slash > 0) FS.mkdirTree(`${kFolder}/${name.slice(0, slash)}`);
        FS.writeFile(name, bytes);
        given.add(FS.lookupPath(name).node);
      }
      const stack = module.stackSave();
      const all = ["yubifu", ...words];
      const list = module.stackAlloc(4 * (all.length + 1));
      all.forEach((word, i) => {
        module.HEAPU32[list / 4 + i] = module.allocateUTF8OnStack(word);
      });
      module.HEAPU32[list / 4 + all.length] = 0;
      const status = module._main(all.length, list);
      module.stackRestore(stack);
      const answer = {
        status,
        output: output.take(),
        messages: new TextDecoder().decode(errors.take()),
        files: written(folder, given),
      };
      FS.chdir("/");
      FS.unmount(kFolder);
      return answer;
    },
    memory: () => module.HEAPU32.byteLength,
  };
}
