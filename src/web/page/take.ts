// What can be taken away: each file as the program on a terminal writes it, byte for byte.
import { zip } from "fflate";

import { element, hand_over } from "./dom.ts";
import { place_of } from "./faults.ts";
import type { Keeper } from "./keeper.ts";
import { why_not } from "./long_work.ts";
import type { Notices } from "./notices.ts";
import { bytes_of, pages_of, sheet_words, type Finding, type Program } from "./program.ts";
import type { SheetChoices, Store } from "./store.ts";
import { say, type Word } from "./words.ts";

interface Format {
  word: Word;
  ending: string;
  kind: string;
}

const kFormats: readonly Format[] = [
  { word: "take_text", ending: "yubifu", kind: "text/plain;charset=utf-8" },
  { word: "take_musicxml", ending: "musicxml", kind: "application/vnd.recordare.musicxml+xml" },
  { word: "take_mxl", ending: "mxl", kind: "application/vnd.recordare.musicxml" },
  { word: "take_midi", ending: "mid", kind: "audio/midi" },
  { word: "take_svg", ending: "svg", kind: "image/svg+xml" },
  { word: "take_html", ending: "html", kind: "text/html" },
  { word: "take_json", ending: "json", kind: "application/json" },
];
/** In the archive of all tunes. */
const kArchived = ["yubifu", "musicxml", "mid", "svg", "json"];

/** A title as the name of a file, on every system. */
export function file_name(title: string): string {
  const plain = title.replace(/[\\/:*?"<>|\0-\x1f\x7f]+/gu, " ").replace(/\s+/gu, " ").trim();
  return plain.replace(/^[-.]+|[. ]+$/gu, "").slice(0, 80) || "tune";
}

export class Take {
  constructor(
    private readonly dialog: HTMLDialogElement,
    private readonly store: Store,
    private readonly program: Program,
    private readonly keeper: Keeper,
    private readonly notices: Notices,
  ) {
    store.show(["language", "sheet"], () => this.#show());
    store.show(["sheet"], ({ sheet }) => page_size(sheet));
  }

  open(): void {
    this.dialog.showModal();
  }

  #show(): void {
    const { language, sheet } = this.store.state;
    const button = (id: string, word: Word, act: () => void): HTMLElement =>
      element(
        "li",
        {},
        element(
          "button",
          {
            id: `take-${id}`,
            click: () => {
              this.dialog.close();
              act();
            },
          },
          say(language, word),
        ),
      );
    const paper = element(
      "select",
      { change: () => this.#set({ size: paper.value as SheetChoices["size"] }) },
      ...(["a4", "letter"] as const).map((size) =>
        element("option", { value: size, ...(size === sheet.size ? { selected: true } : {}) }, say(language, `paper_${size}`)),
      ),
    );
    const chart = element("input", {
      type: "checkbox",
      ...(sheet.with_chart ? { checked: true } : {}),
      change: () => this.#set({ with_chart: chart.checked }),
    });
    this.dialog.replaceChildren(
      element("h2", { id: "take-title" }, say(language, "take_title")),
      element(
        "ul",
        { class: "formats" },
        button("print", "take_print", () => print()),
        ...kFormats.map((format) => button(format.ending, format.word, () => void this.#take(format))),
        button("chart", "take_chart", () => void this.#chart()),
        button("all", "take_all", () => void this.#all()),
      ),
      element("h3", {}, say(language, "take_how")),
      element(
        "div",
        { class: "choices" },
        element("label", {}, element("span", {}, say(language, "paper")), paper),
        element("label", { class: "check" }, chart, element("span", {}, say(language, "with_chart"))),
      ),
      element("form", { method: "dialog" }, element("button", {}, say(language, "close"))),
    );
  }

  #set(change: Partial<SheetChoices>): void {
    this.store.set({ sheet: { ...this.store.state.sheet, ...change } });
  }

  #name(): string {
    const { tunes, tune } = this.store.state;
    return file_name(tunes.find(({ id }) => id === tune)?.name ?? "");
  }

  async #take(format: Format): Promise<void> {
    const stem = this.#name();
    const { text } = this.store.state;
    // The text is the person's own: it goes as it stands, faults and all.
    if (format.ending === "yubifu") {
      this.#hand([[`${stem}.yubifu`, bytes_of(text)]], format.kind, []);
      return;
    }
    const made = await this.#made(`${stem}.yubifu`, text, format.ending);
    this.#hand(made.files, format.kind, made.findings, `${stem}.${format.ending}`);
  }

  async #chart(): Promise<void> {
    const { text, sheet } = this.store.state;
    const name = `${this.#name()}-chart.svg`;
    const flute = this.store.state.chart?.name ?? "8";
    try {
      const tune = { name: "tune.yubifu", bytes: bytes_of(text) };
      const words = ["chart", "--flute", flute, "-o", "chart.svg", "--size", sheet.size];
      const answer = await this.program.plain(words, tune);
      const pages = pages_of(answer.files, "chart");
      this.#hand(numbered(pages, name), "image/svg+xml", [], name, answer.messages);
    } catch (error) {
      this.#failed(name, error);
    }
  }

  /** The files of one format, by the names that they are handed over with. */
  async #made(
    name: string,
    text: string,
    ending: string,
  ): Promise<{ files: [string, Uint8Array][]; findings: readonly Finding[] }> {
    const stem = name.replace(/\.yubifu$/u, "");
    const output = `${stem}.${ending}`;
    const drawn = ending === "svg" || ending === "html";
    const choices = drawn ? sheet_words(this.store.state.sheet) : [];
    try {
      const result = await this.program.ask(["convert", name, "-o", output, ...choices], {
        name,
        bytes: bytes_of(text),
      });
      const files: [string, Uint8Array][] =
        ending === "svg"
          ? numbered(pages_of(result.files, stem), output)
          : [...result.files].filter(([made]) => made === output);
      return { files, findings: result.findings };
    } catch (error) {
      this.#failed(output, error);
      return { files: [], findings: [] };
    }
  }

  #hand(
    files: readonly [string, Uint8Array][],
    kind: string,
    findings: readonly Finding[],
    wanted = files[0]?.[0] ?? "",
    otherwise = "",
  ): void {
    const { language } = this.store.state;
    const lines = findings.map((one) => [place_of(one, language), one.message].filter(Boolean).join(": "));
    if (files.length === 0) {
      if (lines.length || otherwise) {
        this.notices.tell({
          about: "taken",
          word: "not_taken",
          values: { name: wanted, why: lines[0] ?? otherwise.trim() },
        });
      }
      return;
    }
    for (const [name, bytes] of files) hand_over(name, bytes, kind);
    this.notices.tell({ about: "taken", word: lines.length ? "taken_with" : "taken", values: { name: wanted }, lines });
  }

  #failed(name: string, error: unknown): void {
    const why = why_not(error, this.store);
    if (why !== undefined) this.notices.tell({ about: "taken", word: "not_taken", values: { name, why } });
  }

  async #all(): Promise<void> {
    const { language, flutes } = this.store.state;
    const name = `${language === "ja" ? "曲" : "tunes"}.zip`;
    this.notices.tell({ about: "taken", word: "working" });
    const archive: Record<string, Uint8Array> = {};
    const lines: string[] = [];
    for (const flute of flutes) archive[flute.file] = bytes_of(flute.text);
    const used = new Set<string>();
    for (const { tune, text } of this.keeper.texts()) {
      let stem = file_name(tune.name);
      for (let copy = 2; used.has(stem); ++copy) stem = `${file_name(tune.name)} (${copy})`;
      used.add(stem);
      archive[`${stem}/${stem}.yubifu`] = bytes_of(text);
      for (const ending of kArchived.slice(1)) {
        const { files, findings } = await this.#made(`${stem}.yubifu`, text, ending);
        for (const [file, bytes] of files) archive[`${stem}/${file}`] = bytes;
        if (files.length === 0 && findings[0]) lines.push(`${stem}.${ending}: ${findings[0].message}`);
      }
    }
    zip(archive, (error, bytes) => {
      if (error) {
        this.#failed(name, error);
        return;
      }
      hand_over(name, bytes, "application/zip");
      this.notices.tell({ about: "taken", word: lines.length ? "taken_with" : "taken", values: { name }, lines });
    });
  }
}

/** A page keeps the name; of several each has its number. */
function numbered(pages: readonly Uint8Array[], name: string): [string, Uint8Array][] {
  return pages.map((page, index) => [
    pages.length === 1 ? name : name.replace(/(\.[^.]+)$/u, `-${index + 1}$1`),
    page,
  ]);
}

const paper_rule = document.head.appendChild(element("style"));
/** Tells the printer on what the sheet is. */
function page_size(sheet: SheetChoices): void {
  paper_rule.textContent = `@page { size: ${sheet.size === "a4" ? "210mm 297mm" : "215.9mm 279.4mm"}; margin: 0 }`;
}
