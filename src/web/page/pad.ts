// The signs of the flute in force as keys, with half holes, time and bars. A key never takes the focus
// from where it is, so that no keyboard opens on a phone; with a real keyboard the arrows move in it.
import { element } from "./dom.ts";
import type { Editor } from "./editor.ts";
import type { Chart } from "./program.ts";
import type { Store } from "./store.ts";
import { say, type Language, type Word } from "./words.ts";

interface Key {
  sign: string;
  name: string;
  small?: boolean;
  press(editor: Editor): void;
}

/** A word of the tune: it stands by itself, with a space to each side where a word already stands. */
function word(sign: string): Key["press"] {
  return (editor) =>
    editor.type((before, after) => {
      const left = /[^\s(（]$/u.test(before) ? " " : "";
      const right = sign !== "(" && /^[^\s)）{~]/u.test(after) ? " " : "";
      return left + sign + right;
    });
}

/** What belongs to the word before it. */
function behind(sign: string): Key["press"] {
  return (editor) => editor.type(() => sign);
}

const kTime: readonly (readonly [string, Word, Key["press"]])[] = [
  ["-", "key_hold", word("-")],
  ["・", "key_rest", word("・")],
  ["(", "key_open", word("(")],
  [")", "key_close", behind(")")],
  ["|", "key_bar", word("|")],
  ["|:", "key_repeat_from", word("|:")],
  [":|", "key_repeat", word(":|")],
  ["|=", "key_end", word("|=")],
];
const kMarks: readonly (readonly [string, string, Word | undefined])[] = [
  ["打", "uchi", undefined],
  ["上", "age", undefined],
  ["スリ", "suri", undefined],
  ["ユリ", "yuri", undefined],
  ["息", "breath", undefined],
  ["延", "fermata", undefined],
];

export class Pad {
  constructor(
    private readonly parent: HTMLElement,
    private readonly store: Store,
    private readonly editor: Editor,
    private readonly meaning: (brace: string, language: Language) => string,
  ) {
    // The focus stays where it is; a press by keyboard still comes as a click.
    parent.addEventListener("pointerdown", (event) => event.preventDefault());
    parent.addEventListener("mousedown", (event) => event.preventDefault());
    parent.addEventListener("keydown", (event) => this.#move(event));
    store.show(["chart", "language"], () => this.#show());
    store.show(["pad_open"], ({ pad_open }) => (parent.hidden = !pad_open));
  }

  #show(): void {
    const { chart, language } = this.store.state;
    const rows: HTMLElement[] = [];
    const row = (name: Word, keys: Key[]): void => {
      if (keys.length === 0) return;
      rows.push(
        element(
          "div",
          { class: `keys ${keys[0]!.small ? "small" : ""}`, role: "group", "aria-label": say(language, name) },
          ...keys.map((key) =>
            element(
              "button",
              {
                tabindex: "-1",
                lang: "ja",
                title: key.name,
                "aria-label": `${key.sign} ${key.name}`,
                click: () => key.press(this.editor),
              },
              key.sign,
            ),
          ),
        ),
      );
    };
    const signs = (registers: readonly string[], half: boolean): Key[] =>
      (chart?.entries ?? [])
        .filter((one) => registers.includes(one.register) && one.half === half)
        .map((one) => ({ ...key_of(one), small: half }));
    row("low", signs(["tube", "low"], false));
    row("second", signs(["second"], false));
    row("third", signs(["third"], false));
    row("halves", signs(["tube", "low", "second", "third"], true));
    row("time", [
      ...kTime.map(([sign, name, press]) => ({ sign, name: say(language, name), press })),
      { sign: "~", name: say(language, "key_slur"), press: behind("~") },
      { sign: "⏎", name: say(language, "key_line"), press: (editor) => editor.type(() => "\n") },
      { sign: "⌫", name: say(language, "key_erase"), press: (editor) => editor.erase() },
    ]);
    row(
      "marks",
      kMarks.map(([sign, brace]) => ({
        sign,
        name: this.meaning(brace, language),
        small: true,
        press: behind(`{${brace}}`),
      })),
    );
    this.parent.replaceChildren(...rows);
    this.parent.querySelector("button")?.setAttribute("tabindex", "0");
  }

  #move(event: KeyboardEvent): void {
    const step = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    const keys = [...this.parent.querySelectorAll("button")];
    const at = keys.indexOf(event.target as HTMLButtonElement);
    const next = step === undefined ? undefined : keys[(at + step + keys.length) % keys.length];
    if (!next) return;
    event.preventDefault();
    keys[at]?.setAttribute("tabindex", "-1");
    next.setAttribute("tabindex", "0");
    next.focus();
  }
}

function key_of(entry: Chart["entries"][number]): Key {
  return { sign: entry.sign, name: entry.note.replaceAll("#", "♯").replaceAll("b", "♭"), press: word(entry.sign) };
}
