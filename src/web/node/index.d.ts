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

/**
 * A program of one's own, which keeps its memory between runs: quicker for many of them.
 * `environment` are variables of its process, such as `{ LANG: "ja_JP.UTF-8" }`.
 */
export function start(environment?: Readonly<Record<string, string>>): Promise<Program>;

/**
 * Runs the program once, in this thread: `await run(["convert", "a.mid", "--to", "text"],
 * new Map([["a.mid", bytes]]))`. It sees the given files alone, and "-" among them is its standard
 * input. Whether it found faults is in the status; it rejects only when it failed itself, and the
 * next call has a new one.
 */
export function run(
  words: readonly string[],
  files?: ReadonlyMap<string, Uint8Array>,
): Promise<Answer>;
