// Work that may take long, in a program of its own, with a sign that it goes on and a way to stop it.
import type { Core } from "../core/client.ts";
import { NoAnswer } from "../core/client.ts";
import { element } from "./dom.ts";
import { Program } from "./program.ts";
import type { Store } from "./store.ts";
import { say } from "./words.ts";

export class LongWork {
  readonly #progress = element("div", { id: "progress" });
  #core: Core | undefined;

  constructor(
    private readonly store: Store,
    private readonly new_core: () => Promise<Core>,
  ) {}

  /** Fails with NoAnswer when it is stopped. */
  async run<T>(name: string, work: (program: Program) => Promise<T>): Promise<T> {
    const { language } = this.store.state;
    this.#core ??= await this.new_core();
    const core = this.#core;
    this.#progress.replaceChildren(
      element("span", { role: "status" }, say(language, "reading", { name })),
      element("progress", { "aria-label": say(language, "reading", { name }) }),
      element("button", { click: () => core.cancel() }, say(language, "cancel")),
    );
    // Beside an open dialog nothing can be pressed.
    (document.querySelector("dialog[open]") ?? document.body).append(this.#progress);
    try {
      return await work(new Program((words, files) => core.run(words, files), () => this.store.state));
    } finally {
      this.#progress.remove();
    }
  }
}

/** Why work gave nothing, in words; undefined where the person stopped it. */
export function why_not(error: unknown, store: Store): string | undefined {
  if (!(error instanceof NoAnswer)) return error instanceof Error ? error.message : String(error);
  if (error.reason === "cancelled") return undefined;
  return say(store.state.language, "crashed", { why: error.message });
}
