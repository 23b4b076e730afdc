// The program in a worker of its own, as the page asks it.
import type { Answer } from "./core.ts";
import type { Beginning, Question, Reply } from "./worker.ts";

/** Of a worker, what a core uses. */
export interface WorkerLike {
  onmessage: ((event: { data: Reply }) => void) | null;
  onerror: ((event: { message?: string }) => void) | null;
  postMessage(message: Beginning | Question): void;
  terminate(): void;
}

/** Why a run gave no answer. */
export class NoAnswer extends Error {
  /** `crashed`: the program failed, as when memory ran out; the next run has a new instance. */
  readonly reason: "cancelled" | "crashed";

  constructor(reason: "cancelled" | "crashed", message: string) {
    super(message);
    this.name = "NoAnswer";
    this.reason = reason;
  }
}

interface Waiting {
  question: Question;
  answered(answer: Answer): void;
  failed(fault: NoAnswer): void;
}

/** A worker whose program starts as soon as it is made. */
class Instance {
  private readonly started: Promise<void>;
  private current: { done(reply: Reply): void } | undefined;

  constructor(
    private readonly worker: WorkerLike,
    beginning: Beginning,
  ) {
    this.started = this.next().then(({ crash }) => {
      if (crash !== undefined) throw new NoAnswer("crashed", crash);
    });
    // Told to who asks first.
    this.started.catch(() => {});
    worker.onmessage = ({ data }) => this.current?.done(data);
    worker.onerror = ({ message }) => this.current?.done({ crash: message ?? "" });
    worker.postMessage(beginning);
  }

  async ask(question: Question): Promise<Answer> {
    await this.started;
    const reply = this.next();
    this.worker.postMessage(question);
    const { answer, crash } = await reply;
    if (answer === undefined) throw new NoAnswer("crashed", crash ?? "");
    return answer;
  }

  end(): void {
    this.worker.terminate();
  }

  private next(): Promise<Reply> {
    return new Promise((done) => {
      this.current = { done };
    });
  }
}

/** Runs the program, one run after another in the order in which they are asked for. */
export class Core {
  private readonly waiting: Waiting[] = [];
  private busy: Waiting | undefined;
  private instance: Instance;
  private spare: Instance | undefined;

  /** `spawn` makes a worker that has called `serve`. */
  constructor(
    private readonly spawn: () => WorkerLike,
    private readonly beginning: Beginning,
  ) {
    this.instance = this.made();
  }

  /** Fails with NoAnswer alone. The bytes of the files stay the caller's. */
  run(words: readonly string[], files: ReadonlyMap<string, Uint8Array> = new Map()): Promise<Answer> {
    return new Promise((answered, failed) => {
      this.waiting.push({ question: { words, files }, answered, failed });
      this.advance();
    });
  }

  /** Ends the run under way and forgets those that wait. */
  cancel(): void {
    const ended = this.waiting.splice(0);
    if (this.busy !== undefined) {
      ended.unshift(this.busy);
      this.renew();
    }
    for (const one of ended) one.failed(new NoAnswer("cancelled", "cancelled"));
  }

  /** Ends the workers; nothing can be run any more. */
  close(): void {
    this.cancel();
    this.instance.end();
    this.spare?.end();
  }

  private made(): Instance {
    return new Instance(this.spawn(), this.beginning);
  }

  private renew(): void {
    this.instance.end();
    this.busy = undefined;
    this.instance = this.spare ?? this.made();
    this.spare = this.made();
  }

  private advance(): void {
    if (this.busy !== undefined) return;
    const next = this.waiting.shift();
    if (next === undefined) return;
    this.busy = next;
    this.instance.ask(next.question).then(
      (answer) => {
        if (this.busy !== next) return;
        this.busy = undefined;
        next.answered(answer);
        this.advance();
        // A second one stands ready from the first answer on, so that it does not delay that.
        this.spare ??= this.made();
      },
      (fault: NoAnswer) => {
        if (this.busy !== next) return;
        this.renew();
        next.failed(fault);
        this.advance();
      },
    );
  }
}
