// Sentences above the tune, each with what can be done about it. They are read out, and stay until
// they are dismissed or what they tell has passed.
import { element } from "./dom.ts";
import { say, type Language, type Word } from "./words.ts";

export interface Notice {
  word: Word;
  values?: Record<string, string | number>;
  /** What the program says of it, a line each. */
  lines?: readonly string[];
  actions?: readonly { word: Word; act: () => void }[];
  /** Of what it tells: a later notice of the same subject takes its place. */
  about: string;
}

export class Notices {
  readonly #shown = new Map<string, Notice>();

  constructor(
    private readonly parent: HTMLElement,
    private readonly language: () => Language,
  ) {}

  tell(notice: Notice): void {
    this.#shown.delete(notice.about);
    this.#shown.set(notice.about, notice);
    this.show();
  }

  has(about: string): boolean {
    return this.#shown.has(about);
  }

  done(about: string): void {
    if (this.#shown.delete(about)) this.show();
  }

  show(): void {
    const language = this.language();
    this.parent.replaceChildren(
      ...[...this.#shown.values()].map((notice) => {
        const close = (): void => this.done(notice.about);
        return element(
          "div",
          { class: "notice", "data-about": notice.about },
          element("p", {}, say(language, notice.word, notice.values)),
          ...(notice.lines?.length
            ? [element("ul", {}, ...notice.lines.map((line) => element("li", {}, line)))]
            : []),
          ...(notice.actions ?? []).map(({ word, act }) =>
            element(
              "button",
              {
                click: () => {
                  close();
                  act();
                },
              },
              say(language, word),
            ),
          ),
          element("button", { class: "plain", click: close }, say(language, "dismiss")),
        );
      }),
    );
  }
}
