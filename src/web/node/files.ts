// The file system of the machine for the program, in place of the one in memory. The program
// speaks of folders as POSIX does; under Windows `C:\songs` is its `C:/songs`.
import type nodeFs from "node:fs";
import type { PlatformPath } from "node:path";
import type { EmscriptenModule, FsNode, FsStream } from "yubifu-module";

/** Of Node.js, what is used of its files; another one in tests. */
export interface Host {
  fs: typeof nodeFs;
  path: PlatformPath;
  /** The working folder. */
  folder: string;
}

// The numbers of the program's C library (those of WASI) for what a system says.
const kErrors: Readonly<Record<string, number>> = {
  EACCES: 2, EAGAIN: 6, EBADF: 8, EBUSY: 10, EDQUOT: 19, EEXIST: 20, EFBIG: 22, EINVAL: 28, EIO: 29,
  EISDIR: 31, ELOOP: 32, EMFILE: 33, ENAMETOOLONG: 37, ENFILE: 41, ENOENT: 44, ENOSPC: 51,
  ENOTDIR: 54, ENOTEMPTY: 55, EPERM: 63, EPIPE: 64, EROFS: 69, ESPIPE: 70, ETXTBSY: 74, EXDEV: 75,
};

// What the program asks for when it opens a file; other systems have other numbers.
const kAccess = 3;
const kAppend = 0o2000;
const kPermissions = 0o7777;
const kFolder = 0o40777;
const kFile = 0o100777;
const kFromHere = 1;
const kFromEnd = 2;

/** Calls the machine; what it refuses, the program is told as its C library says it. */
export function told<Result>(FS: EmscriptenModule["FS"], call: () => Result): Result {
  try {
    return call();
  } catch (fault) {
    const { code } = fault as NodeJS.ErrnoException;
    if (code === undefined) throw fault;
    throw new FS.ErrnoError(kErrors[code] ?? kErrors.EIO!);
  }
}

const isDrive = (name: string): boolean => /^[A-Za-z]:$/.test(name);

/** A word of the command line as the program takes it: under Windows paths with `/`. */
export function wordFor(path: PlatformPath, word: string): string {
  return path.sep === "\\" ? word.replaceAll("\\", "/") : word;
}

/** A folder of the machine as the program's working folder: under Windows `/C:/songs`. */
function folderFor(path: PlatformPath, folder: string): string {
  return path.sep === "\\" ? `/${folder.replaceAll("\\", "/")}` : folder;
}

interface HostStream extends FsStream {
  handle: number;
}

/** Lets the program work on the machine's files, from the host's working folder on. */
export function useFiles({ FS }: EmscriptenModule, host: Host): void {
  // What a file allows, the machine says.
  FS.ignorePermissions = true;
  FS.root = null;
  FS.mount(hostFiles(FS, host), {}, "/");
  FS.chdir(folderFor(host.path, host.folder));
}

/** A type of file system, as emscripten mounts them. */
function hostFiles(FS: EmscriptenModule["FS"], { fs, path, folder }: Host): object {
  const root = path.parse(folder).root;
  const place = (node: FsNode): string =>
    node.parent === node ? root : within(node.parent, node.name);
  const within = (parent: FsNode, name: string): string => {
    // A drive is where it is, in whatever folder it is named.
    if (path.sep === "\\" && isDrive(name)) return `${name}\\`;
    const folder = place(parent);
    return folder.endsWith(path.sep) ? folder + name : folder + path.sep + name;
  };
  // What a folder was seen to hold, and need not be asked for one by one; each is told once.
  const seen = new WeakMap<FsNode, Map<string, number>>();
  const kindOf = (parent: FsNode, name: string): number | undefined => {
    const kind = seen.get(parent)?.get(name);
    seen.get(parent)?.delete(name);
    return kind;
  };
  const host = <Result>(call: () => Result): Result => told(FS, call);
  const made = (parent: FsNode | null, name: string, mode: number): FsNode => {
    const node = FS.createNode(parent, name, mode, 0);
    node.node_ops = node_ops;
    node.stream_ops = stream_ops;
    return node;
  };

  const node_ops = {
    getattr(node: FsNode) {
      const about = host(() => fs.lstatSync(place(node)));
      const { dev, ino, mode, nlink, uid, gid, size, atime, mtime, ctime } = about;
      return { dev, ino, mode, nlink, uid, gid, size, atime, mtime, ctime, rdev: 0, blksize: 4096,
               blocks: Math.ceil(size / 512) };
    },
    setattr(node: FsNode, { mode, size }: { mode?: number; size?: number }) {
      host(() => {
        if (mode !== undefined) {
          fs.chmodSync(place(node), mode & kPermissions);
          node.mode = mode;
        }
        if (size !== undefined) fs.truncateSync(place(node), size);
      });
    },
    lookup(parent: FsNode, name: string) {
      const mode = kindOf(parent, name) ?? host(() => fs.lstatSync(within(parent, name)).mode);
      return made(parent, name, mode);
    },
    mknod(parent: FsNode, name: string, mode: number) {
      host(() => {
        if (FS.isDir(mode)) fs.mkdirSync(within(parent, name), mode & kPermissions);
        else fs.writeFileSync(within(parent, name), "", { mode: mode & kPermissions, flag: "wx" });
      });
      return node_ops.lookup(parent, name);
    },
    rename(node: FsNode, parent: FsNode, name: string) {
      host(() => fs.renameSync(place(node), within(parent, name)));
      node.name = name;
    },
    unlink(parent: FsNode, name: string) {
      host(() => fs.unlinkSync(within(parent, name)));
    },
    rmdir(parent: FsNode, name: string) {
      host(() => fs.rmdirSync(within(parent, name)));
    },
    readdir(node: FsNode) {
      const entries = host(() => fs.readdirSync(place(node), { withFileTypes: true }));
      const plain = entries.filter((entry) => entry.isFile() || entry.isDirectory());
      seen.set(node, new Map(plain.map((entry) => [entry.name, entry.isFile() ? kFile : kFolder])));
      return [".", "..", ...entries.map(({ name }) => name)];
    },
    readlink(node: FsNode) {
      const target = host(() => fs.readlinkSync(place(node)));
      return path.isAbsolute(target) ? folderFor(path, target) : wordFor(path, target);
    },
  };

  const piece = (memory: Int8Array, offset: number, length: number): Uint8Array =>
    new Uint8Array(memory.buffer, memory.byteOffset + offset, length);
  // A pipe or a terminal has no places.
  const placed = (stream: FsStream, position: number): number | null =>
    FS.isFile(stream.node.mode) ? position : null;
  const stream_ops = {
    open(stream: HostStream) {
      if (FS.isDir(stream.node.mode)) return;
      const ways = [fs.constants.O_RDONLY, fs.constants.O_WRONLY, fs.constants.O_RDWR];
      const appends = (stream.flags & kAppend) === 0 ? 0 : fs.constants.O_APPEND;
      stream.handle = host(() =>
        fs.openSync(place(stream.node), ways[stream.flags & kAccess]! | appends));
    },
    close(stream: HostStream) {
      if (!FS.isDir(stream.node.mode)) host(() => fs.closeSync(stream.handle));
    },
    read(stream: HostStream, memory: Int8Array, offset: number, length: number, at: number) {
      return host(() =>
        fs.readSync(stream.handle, piece(memory, offset, length), 0, length, placed(stream, at)));
    },
    write(stream: HostStream, memory: Int8Array, offset: number, length: number, at: number) {
      return host(() =>
        fs.writeSync(stream.handle, piece(memory, offset, length), 0, length, placed(stream, at)));
    },
    llseek(stream: HostStream, offset: number, whence: number) {
      if (whence === kFromHere) return offset + stream.position;
      return whence === kFromEnd ? offset + host(() => fs.fstatSync(stream.handle).size) : offset;
    },
    fsync(stream: HostStream) {
      host(() => fs.fsyncSync(stream.handle));
      return 0;
    },
  };

  return { mount: () => made(null, "/", kFolder) };
}
