// The program: words of a command line and named files in; status, output, messages and files out.
import type { FsNode } from "yubifu-module";
import { call, connect, startInstance } from "./instance.ts";

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
   * folders of it ("songs/one.mid"); the file "-" is standard input. A fault of the program itself
   * (no memory left) throws, and so does a name that leads out of the working folder.
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

  readonly add = (bytes: Uint8Array): number => {
    this.pieces.push(bytes.slice());
    this.size += bytes.length;
    return bytes.length;
  };

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

/** Starts the program with a file system of its own in memory. */
export async function startProgram(
  wasm: WebAssembly.Module,
  environment: Readonly<Record<string, string>> = {},
): Promise<Program> {
  const module = await startInstance(wasm, environment);
  const { FS } = module;
  const output = new Sink();
  const errors = new Sink();
  let input: Uint8Array = new Uint8Array();
  connect(module, 0, (room) => {
    const piece = input.subarray(0, room.length);
    room.set(piece);
    input = input.subarray(piece.length);
    return piece.length;
  });
  connect(module, 1, output.add);
  connect(module, 2, errors.add);
  FS.mkdir(kFolder);

  const put = (name: string, bytes: Uint8Array): FsNode => {
    if (name.split("/").some((part) => part === "" || part === "." || part === "..")) {
      throw new RangeError(`no name of a file in the working folder: ${name}`);
    }
    const slash = name.lastIndexOf("/");
    if (slash > 0) FS.mkdirTree(`${kFolder}/${name.slice(0, slash)}`);
    FS.writeFile(name, bytes);
    return FS.lookupPath(name).node;
  };
  // A file that the program writes anew is another node, even under the same name.
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
      input = files.get(kStandardInput) ?? new Uint8Array();
      const given = new Set<FsNode>();
      for (const [name, bytes] of files) {
        if (name !== kStandardInput) given.add(put(name, bytes));
      }
      const status = call(module, words);
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
