// Files that are brought in: dropped or chosen, several at once. What is no fingering text goes through
// the program and stays beside the tune that came of it, so that another flute, part or grid is one
// choice away.
import { element, hand_over } from "./dom.ts";
import { item } from "./faults.ts";
import type { Editor } from "./editor.ts";
import type { Keeper } from "./keeper.ts";
import { why_not, type LongWork } from "./long_work.ts";
import type { Notices } from "./notices.ts";
import { text_of, type Finding, type Fit, type Input, type Program, type Result } from "./program.ts";
import type { Storage } from "./storage.ts";
import type { Origin, Store } from "./store.ts";
import { say, type Word } from "./words.ts";

/** A choice for the reading of a file: an option of the program with its values. */
interface Choice {
  option: string;
  word: Word;
  /** Names of formats that have it; all when absent. */
  of?: "staff" | "midi";
  /** Values of a list, or the kind of a field. */
  values: "number" | "text" | readonly (readonly [string, Word])[];
}

const kChoices: readonly Choice[] = [
  { option: "--octave", word: "option_octave", values: "number" },
  { option: "--move", word: "option_move", values: "number" },
  {
    option: "--avoid",
    word: "option_avoid",
    values: [["half-holes", "option_avoid_half"], ["third", "option_avoid_third"], ["cross", "option_avoid_cross"]],
  },
  { option: "--part", word: "option_part", of: "staff", values: "text" },
  { option: "--voice", word: "option_voice", of: "staff", values: "number" },
  { option: "--staff-number", word: "option_staff", of: "staff", values: "number" },
  { option: "--track", word: "option_track", of: "midi", values: "number" },
  { option: "--channel", word: "option_channel", of: "midi", values: "number" },
  { option: "--line", word: "option_line", of: "midi", values: [["top", "option_top"], ["bottom", "option_bottom"]] },
  { option: "--grid", word: "option_grid", of: "midi", values: "number" },
  { option: "--meter", word: "option_meter", of: "midi", values: "text" },
];

type Kind = "text" | "staff" | "midi" | "json" | "flute";

/** What a flute is measured by: sounds that browsers know, and tables. */
const kMeasured = ["wav", "flac", "ogg", "oga", "opus", "mp3", "m4a", "aac", "mp4", "webm", "csv", "tsv"];

function kind_of(name: string): Kind {
  const ending = /\.([^.]+)$/u.exec(name.toLowerCase())?.[1] ?? "";
  if (ending === "yubifu" || ending === "txt") return "text";
  if (ending === "json") return "json";
  if (kMeasured.includes(ending)) return "flute";
  return ending === "mid" || ending === "midi" ? "midi" : "staff";
}

/** The value that words give to an option. */
function value_of(choices: readonly string[], option: string): string {
  const at = choices.indexOf(option);
  return at < 0 ? "" : (choices[at + 1] ?? "");
}

/** The words with another value for an option; without it when that is empty. */
function with_value(choices: readonly string[], option: string, value: string): string[] {
  const at = choices.indexOf(option);
  const others = at < 0 ? [...choices] : choices.filter((_, index) => index !== at && index !== at + 1);
  return value === "" ? others : [...others, option, value];
}

/** A name that the program can be given as a file of its working folder, and no option. */
export function plain_name(name: string): string {
  return name.replace(/[/\\\0-\x1f]/gu, "_").replace(/^[-.]+/u, "_") || "_";
}

function why(findings: readonly Finding[]): string {
  const first = findings.find(({ severity }) => severity === "error") ?? findings[0];
  return first ? (first.hint ? `${first.message} (${first.hint})` : first.message) : "";
}

class Refused extends Error {}

export class Bring {
  readonly #chooser = element("input", {
    type: "file",
    multiple: true,
    accept: [".musicxml,.xml,.mxl,.mid,.midi,.yubifu,.txt,.json", ...kMeasured.map((one) => `.${one}`)].join(),
  });
  /** The fits of the tune whose origin is shown. */
  #fits: { tune: string; fits: readonly Fit[] } | undefined;
  #more = false;

  constructor(
    private readonly dialog: HTMLDialogElement,
    private readonly panel: HTMLElement,
    private readonly store: Store,
    private readonly storage: Storage,
    private readonly keeper: Keeper,
    private readonly editor: Editor,
    private readonly notices: Notices,
    private readonly long_work: LongWork,
    private readonly measure: (file?: File) => void,
    private readonly go_to_bar: (bar: string) => void,
  ) {
    this.#chooser.addEventListener("change", () => {
      const files = [...(this.#chooser.files ?? [])];
      this.#chooser.value = "";
      this.dialog.close();
      void this.#all(files);
    });
    const drop = document.getElementById("drop")!;
    addEventListener("dragover", (event) => {
      if (!event.dataTransfer?.types.includes("Files")) return;
      event.preventDefault();
      drop.hidden = false;
    });
    addEventListener("dragleave", (event) => {
      if (!event.relatedTarget) drop.hidden = true;
    });
    addEventListener("drop", (event) => {
      drop.hidden = true;
      if (!event.dataTransfer?.files.length) return;
      event.preventDefault();
      void this.#all([...event.dataTransfer.files]);
    });
    store.show(["language"], () => this.#show_dialog());
    store.show(["tune", "origins", "language", "text"], () => this.#show_origin());
  }

  open(): void {
    this.dialog.showModal();
  }

  #show_dialog(): void {
    const { language } = this.store.state;
    this.#chooser.setAttribute("aria-label", say(language, "bring_choose"));
    this.dialog.replaceChildren(
      element("h2", { id: "bring-title" }, say(language, "bring_title")),
      element("p", {}, say(language, "bring_what")),
      this.#chooser,
      element("p", {}, say(language, "bring_flute")),
      element(
        "button",
        {
          id: "bring-gauge",
          click: () => {
            this.dialog.close();
            this.measure();
          },
        },
        say(language, "gauge"),
      ),
      element("p", { class: "remark" }, say(language, "kept_how")),
      element("form", { method: "dialog" }, element("button", {}, say(language, "close"))),
    );
  }

  async #all(files: readonly File[]): Promise<void> {
    for (const file of files) {
      const name = plain_name(file.name);
      if (kind_of(name) === "flute") {
        this.measure(file);
        continue;
      }
      try {
        await this.long_work.run(name, async (program) => {
          await this.#one({ name, bytes: new Uint8Array(await file.arrayBuffer()) }, program);
        });
      } catch (error) {
        const why = why_not(error, this.store);
        this.notices.tell({
          about: name,
          ...(why === undefined
            ? { word: "cancelled", values: { name } }
            : { word: "not_brought", values: { name, why } }),
        });
      }
    }
  }

  async #one(input: Input, program: Program): Promise<void> {
    const kind = kind_of(input.name);
    if (kind === "json" && text_of(input.bytes.subarray(0, 4000)).includes('"yubifu-flute"')) {
      await this.#flute(input, program);
      return;
    }
    if (kind === "text") {
      await this.#text(input, program);
      return;
    }
    const read = await this.#read(input, [], program);
    // A melody that no flute was named for goes to the one that suits it best.
    const unnamed = read.findings.some(({ rule }) => rule === "no-flute-given");
    const fits = await program.fit(input, this.#own_flutes());
    const choices = unnamed ? (fits.fits[0]?.options ?? []).filter((word) => word !== "--refinger") : [];
    const best = choices.length ? await this.#read(input, choices, program) : read;
    const id = this.keeper.add(best.text, input.name.replace(/\.[^.]+$/u, ""));
    this.#fits = { tune: id, fits: fits.fits };
    const origin: Origin = { ...input, choices, findings: best.findings, text: best.text };
    this.store.set({ origins: new Map(this.store.state.origins).set(id, origin) });
    this.notices.tell({ about: input.name, word: "brought", values: { name: input.name } });
  }

  #own_flutes(): string[] {
    const { flutes } = this.store.state;
    return flutes.length ? ["--flute", ["1", ...flutes.map(({ file }) => file)].join(",")] : [];
  }

  async #read(
    input: Input,
    choices: readonly string[],
    program: Program,
  ): Promise<{ text: string; findings: readonly Finding[] }> {
    const result: Result = await program.ask(
      ["convert", input.name, "-o", "brought.yubifu", ...choices],
      input,
    );
    const bytes = result.files.get("brought.yubifu");
    if (!bytes) throw new Refused(why(result.findings));
    return { text: text_of(bytes), findings: result.findings };
  }

  async #flute(input: Input, program: Program): Promise<void> {
    const findings = await program.check(input);
    if (findings.some(({ severity }) => severity === "error")) throw new Refused(why(findings));
    const text = text_of(input.bytes);
    const title = (JSON.parse(text) as { title?: string }).title ?? input.name;
    const flute = { file: input.name, title, text };
    const others = this.store.state.flutes.filter(({ file }) => file !== flute.file);
    this.store.set({ flutes: [...others, flute] });
    const kept = this.storage.keep_flute(flute);
    if (kept === "full") this.notices.tell({ about: "keeping", word: "not_kept_full" });
    this.notices.tell({ about: input.name, word: "flute_brought", values: { title, file: flute.file } });
  }

  // Fingering text stays as it was typed, faults and all; another text is refused.
  async #text(input: Input, program: Program): Promise<void> {
    const result = await program.ask(["convert", input.name, "-o", "brought.json"], input);
    const refused = result.findings.find(({ rule }) => rule === "unknown-format" || rule === "unreadable-text");
    if (refused) throw new Refused(why([refused]));
    const text = text_of(input.bytes).replace(/^\uFEFF/u, "").replaceAll("\r\n", "\n");
    this.keeper.add(text, input.name.replace(/\.[^.]+$/u, ""));
    this.notices.tell({ about: input.name, word: "brought", values: { name: input.name } });
  }

  async #again(choices: readonly string[]): Promise<void> {
    const { tune, origins, text } = this.store.state;
    const origin = origins.get(tune);
    if (!origin) return;
    try {
      const read = await this.long_work.run(origin.name, (program) => this.#read(origin, choices, program));
      if (this.store.state.tune !== tune) return;
      if (text !== origin.text) this.notices.tell({ about: "again", word: "origin_changed" });
      this.store.set({ origins: new Map(origins).set(tune, { ...origin, choices, ...read }) });
      this.editor.replace(read.text);
    } catch (error) {
      const why = why_not(error, this.store);
      if (why === undefined) return;
      this.notices.tell({ about: "again", word: "not_brought", values: { name: origin.name, why } });
      this.#show_origin();
    }
  }

  async #annotated(origin: Origin): Promise<void> {
    const name = origin.name.replace(/(\.[^.]+)$/u, "-fingered$1");
    try {
      const result = await this.long_work.run(origin.name, (program) =>
        program.ask(["annotate", origin.name, "-o", name, ...origin.choices], origin),
      );
      const bytes = result.files.get(name);
      if (!bytes) throw new Refused(why(result.findings));
      hand_over(name, bytes, "application/octet-stream");
      this.notices.tell({ about: "taken", word: "taken", values: { name } });
    } catch (error) {
      const why = why_not(error, this.store);
      if (why !== undefined) this.notices.tell({ about: "taken", word: "not_taken", values: { name, why } });
    }
  }

  #show_origin(): void {
    const { tune, origins, language, text } = this.store.state;
    const origin = origins.get(tune);
    this.panel.hidden = origin === undefined;
    if (!origin) {
      this.panel.replaceChildren();
      return;
    }
    const shown = `${tune} ${language} ${origin.choices.join(" ")} ${text === origin.text}`;
    if (this.panel.dataset["shown"] === shown && this.#fits?.tune === tune) return;
    this.panel.dataset["shown"] = shown;
    const before = this.panel.querySelector("details");
    const open = before ? before.open : matchMedia("(min-width: 60em)").matches;
    const more = element(
      "details",
      { class: "more", ...(this.#more ? { open: true } : {}) },
      element("summary", {}, say(language, "origin_more")),
      element("div", { class: "choices" }, ...this.#choices(origin)),
    );
    more.addEventListener("toggle", () => (this.#more = more.open));
    this.panel.replaceChildren(
      element(
        "details",
        open ? { open: true } : {},
        element("summary", {}, say(language, "origin_from", { name: origin.name })),
        ...this.#table(origin),
        more,
        element("h2", {}, say(language, "origin_left")),
        origin.findings.length === 0
          ? element("p", {}, say(language, "origin_whole"))
          : element(
              "ol",
              { class: "findings" },
              ...origin.findings.map((one) => {
                const bar = one.measures?.[0];
                return item({ ...one, line: undefined! } as Finding, language, bar === undefined ? undefined : () => this.go_to_bar(bar));
              }),
            ),
        ...(kind_of(origin.name) === "staff"
          ? [element("button", { id: "annotated", click: () => void this.#annotated(origin) }, say(language, "origin_annotated"))]
          : []),
        element("p", { class: "remark" }, say(language, "origin_session")),
      ),
    );
  }

  #table(origin: Origin): HTMLElement[] {
    const { language, tune, flutes } = this.store.state;
    const fits = this.#fits?.tune === tune ? this.#fits.fits : [];
    if (fits.length === 0) return [];
    const name = (fit: Fit): string =>
      fit.flute ? (flutes.find(({ file }) => file === fit.flute)?.title ?? fit.flute) : String(fit.size);
    const row = (fit: Fit): HTMLElement => {
      const words = fit.options.filter((word) => word !== "--refinger");
      const taken = value_of(origin.choices, "--flute") === value_of(words, "--flute");
      const take = (): void => {
        const octave = value_of(words, "--octave");
        void this.#again(
          with_value(with_value(origin.choices, "--flute", value_of(words, "--flute")), "--octave", octave),
        );
      };
      const cells = [
        fit.do.replaceAll("#", "♯").replaceAll("b", "♭"),
        fit.octave > 0 ? `+${fit.octave}` : String(fit.octave),
        String(fit.plain),
        String(fit["half-usual"] + fit["half-hard"]),
        String(fit.bent),
        String(fit["out-of-reach"]),
        String(fit["effort-a-note"]),
      ];
      return element(
        "tr",
        { class: taken ? "taken" : "", title: fit.remark ?? "" },
        element("th", { scope: "row" }, name(fit)),
        element(
          "td",
          {},
          taken
            ? element("span", {}, say(language, "taken_flute"))
            : element(
                "button",
                { "aria-label": say(language, "take_flute_label", { flute: name(fit) }), click: take },
                say(language, "take_flute"),
              ),
        ),
        ...cells.map((cell) => element("td", {}, cell)),
      );
    };
    const heads: Word[] = ["fit_do", "fit_octave", "fit_plain", "fit_half", "fit_bent", "fit_out", "fit_effort"];
    return [
      element(
        "div",
        { class: "fits", tabindex: "0", role: "region", "aria-label": say(language, "origin_flutes") },
        element(
          "table",
          {},
          element("caption", {}, say(language, "origin_flutes")),
          element(
            "thead",
            {},
            element(
              "tr",
              {},
              element("th", { scope: "col" }, say(language, "flute")),
              element("td", {}),
              ...heads.map((word) => element("th", { scope: "col" }, say(language, word))),
            ),
          ),
          element("tbody", {}, ...fits.map(row)),
        ),
      ),
    ];
  }

  #choices(origin: Origin): HTMLElement[] {
    const { language } = this.store.state;
    const kind = kind_of(origin.name);
    return kChoices
      .filter((choice) => !choice.of || choice.of === kind)
      .map((choice) => {
        const value = value_of(origin.choices, choice.option);
        const changed = (event: Event): void => {
          const field = event.target as HTMLInputElement | HTMLSelectElement;
          void this.#again(with_value(origin.choices, choice.option, field.value.trim()));
        };
        const field =
          typeof choice.values === "string"
            ? element("input", { type: choice.values, value, change: changed, placeholder: say(language, "option_found") })
            : element(
                "select",
                { change: changed },
                element("option", { value: "" }, "–"),
                ...choice.values.map(([one, word]) =>
                  element("option", { value: one, ...(one === value ? { selected: true } : {}) }, say(language, word)),
                ),
              );
        return element("label", {}, element("span", {}, say(language, choice.word)), field);
      });
  }
}
