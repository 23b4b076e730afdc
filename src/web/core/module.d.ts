// What the module that emscripten makes of the program gives, as far as it is used. Bundles find
// it in the folder of the build under this name.
declare module "yubifu-module" {
  export interface FsNode {
    mode: number;
    /** Of a folder its nodes by name, of a file its bytes. */
    contents: Record<string, FsNode> | Uint8Array;
  }

  export interface FsStream {
    tty: unknown;
    seekable: boolean;
    stream_ops: Record<string, unknown>;
  }

  export interface EmscriptenModule {
    ENV: Record<string, string>;
    FS: {
      streams: (FsStream | undefined)[];
      filesystems: { MEMFS: object };
      mkdir(path: string): FsNode;
      mkdirTree(path: string): void;
      chdir(path: string): void;
      mount(type: object, options: object, path: string): FsNode;
      unmount(path: string): void;
      isDir(mode: number): boolean;
      lookupPath(path: string): { node: FsNode };
      getPath(node: FsNode): string;
      readFile(path: string): Uint8Array;
      writeFile(path: string, bytes: Uint8Array): void;
    };
    HEAPU32: Uint32Array;
    stackSave(): number;
    stackRestore(stack: number): void;
    stackAlloc(bytes: number): number;
    allocateUTF8OnStack(text: string): number;
    _umask(mask: number): number;
    _main(count: number, words: number): number;
  }

  export interface Start {
    instantiateWasm(
      imports: WebAssembly.Imports,
      started: (instance: WebAssembly.Instance, wasm: WebAssembly.Module) => void,
    ): object;
    preRun: ((module: EmscriptenModule) => void)[];
  }

  export default function createModule(start: Start): Promise<EmscriptenModule>;
}
