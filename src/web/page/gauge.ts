// A flute that follows no scale: measured from a recording, a table of readings, or a microphone. What
// sounds, the program finds; it writes the flute file that can be used or taken away.
import { plain_name } from "./bring.ts";
import { ByEar, plain_signs } from "./by_ear.ts";
import { element, hand_over } from "./dom.ts";
import { item } from "./faults.ts";
import { kSizes } from "./header.ts";
import { why_not, type LongWork } from "./long_work.ts";
import { kMostSeconds, NoMicrophone } from "./microphone.ts";
import type { Notices } from "./notices.ts";
import { text_of, type Chart, type Gauged, type GaugedSign, type Input, type Program } from "./program.ts";
import { for_gauge, kMostOther, kMostWav, NoRecording } from "./recording.ts";
import type { Storage } from "./storage.ts";
import type { Store } from "./store.ts";
import { file_name } from "./take.ts";
import { say, type Language, type Word } from "./words.ts";

/** What the person says of the flute, as typed. */
interface Said {
  name: string;
  like: string;
  signs: string;
  celsius: string;
  tuning: string;
}

/** A recording or a table with what was measured in it. */
interface Measured {
  input: Input;
  /** The signs that were played to the microphone; undefined for a file. */
  played: readonly string[] | undefined;
  output: string;
  gauged: Gauged;
}

const signed = (cents: number | undefined): string =>
  cents === undefined ? "" : `${cents > 0 ? "+" : cents < 0 ? "−" : ""}${Math.abs(cents).toFixed(1)}`;

/** The columns of the table: heading and cell. */
function columns(language: Language, like: string): [string, (sign: GaugedSign) => string][] {
  return [
    [say(language, "gauge_hz"), ({ hz }) => hz.toFixed(2)],
    [say(language, "gauge_note"), ({ note }) => note.replaceAll("#", "♯").replaceAll("b", "♭")],
    [say(language, "gauge_cents"), ({ cents }) => signed(cents)],
    [say(language, "gauge_from", { flute: like }), (sign) => signed(sign["cents-from-like"])],
    [say(language, "gauge_spread"), ({ spread }) => (spread === undefined ? "" : `±${spread.toFixed(1)}`)],
    [say(language, "gauge_seconds"), ({ seconds }) => seconds?.map((at) => at.toFixed(1)).join("–") ?? ""],
  ];
}

export class Gauge {
  readonly #chooser = element("input", { type: "file", accept: "audio/*,.wav,.flac,.ogg,.csv,.tsv" });
  readonly #body = element("div", { id: "gauge-body" });
  readonly #told = element("p", { role: "status", class: "notice told" });
  #said: Said = { name: "", like: "8", signs: "", celsius: "", tuning: "" };
  #chart: Chart | undefined;
  #ear: ByEar | undefined;
  #view: "begin" | "playing" | "measured" = "begin";
  #measured: Measured | undefined;
  #more = false;
  #pending: Promise<void> = Promise.resolve();

  constructor(
    private readonly dialog: HTMLDialogElement,
    private readonly store: Store,
    private readonly program: Program,
    private readonly storage: Storage,
    private readonly notices: Notices,
    private readonly long_work: LongWork,
    private readonly use: (file: string) => void,
    private readonly silence: () => void,
  ) {
    this.#chooser.addEventListener("change", () => {
      const file = this.#chooser.files?.[0];
      if (file) void this.#read(file);
      this.#chooser.value = "";
    });
    dialog.addEventListener("close", () => {
      this.#ear?.rest();
      if (this.#view === "playing") this.#view = "begin";
      this.#tell("");
    });
    store.show(["language", "flutes"], () => this.#show());
  }

  /** Opens the dialog, with a recording or a table when there is one. */
  open(file?: File): void {
    if (!this.dialog.open) {
      this.silence();
      // A flute is most like the one that is being played.
      if (!this.#ear && !this.#measured) this.#said.like = this.store.state.chart?.name ?? "8";
      this.#show();
      this.dialog.showModal();
    }
    if (file) void this.#read(file);
    else void this.#learn_signs();
  }

  #tell(sentence: string): void {
    this.#told.textContent = sentence;
  }

  #failed(error: unknown): void {
    const { language } = this.store.state;
    if (error instanceof NoMicrophone) this.#tell(say(language, error.reason));
    else if (error instanceof NoRecording) {
      this.#tell(say(language, error.reason, { wav: kMostWav / 1e6, other: kMostOther / 1e6 }));
    } else this.#tell(why_not(error, this.store) ?? "");
  }

  /** The signs of the flute that this one is like. */
  async #learn_signs(): Promise<Chart | undefined> {
    try {
      this.#chart = await this.program.chart(this.#said.like);
    } catch (error) {
      this.#failed(error);
    }
    const field = this.dialog.querySelector<HTMLInputElement>("#gauge-signs");
    if (field && this.#chart) field.placeholder = plain_signs(this.#chart).join(" ");
    return this.#chart;
  }

  async #read(file: File): Promise<void> {
    this.#ear?.rest();
    this.#view = "begin";
    this.#measured = undefined;
    this.#show();
    this.#tell("");
    try {
      const input = { name: plain_name(file.name), bytes: await for_gauge(file) };
      await this.#measure(input, undefined);
      await this.#learn_signs();
    } catch (error) {
      this.#failed(error);
    }
  }

  #choices(signs: string): string[] {
    const { like, celsius, tuning } = this.#said;
    const given = { signs: signs.trim(), temperature: celsius, tuning };
    return [
      `--like=${like}`,
      ...Object.entries(given).flatMap(([option, value]) => (value ? [`--${option}=${value}`] : [])),
    ];
  }

  // A name that no other flute has, so that none is lost.
  #output(): string {
    const stem = file_name(this.#said.name || say(this.store.state.language, "gauge_unnamed"));
    const taken = new Set(this.store.state.flutes.map(({ file }) => file));
    let name = `${stem}.json`;
    for (let copy = 2; taken.has(name); ++copy) name = `${stem}-${copy}.json`;
    return name;
  }

  async #measure(input: Input, played: readonly string[] | undefined): Promise<void> {
    const output = this.#output();
    const choices = this.#choices(played?.join(" ") ?? this.#said.signs);
    const gauged = await this.long_work.run(input.name, (program) => program.gauge(input, output, choices));
    this.#measured = { input, played, output, gauged };
    this.#tell("");
    // Somebody may be at a field above.
    if (this.#view === "measured") {
      this.#body.replaceChildren(...this.#shown());
      return;
    }
    this.#view = "measured";
    this.#show();
    this.#body.querySelector<HTMLElement>("h3")?.focus();
  }

  /** With what was said anew. */
  #again(): void {
    const measured = this.#measured;
    if (this.#view !== "measured" || !measured) return;
    this.#pending = this.#measure(measured.input, measured.played).catch((error: unknown) => this.#failed(error));
  }

  /** What came of everything that was said: who types a name and presses a button at once means it. */
  async #made(): Promise<(Measured & { file: Uint8Array }) | undefined> {
    await this.#pending;
    const file = this.#measured?.gauged.file;
    return this.#measured && file && { ...this.#measured, file };
  }

  // To the microphone.

  async #play(): Promise<void> {
    const chart = await this.#learn_signs();
    if (!chart) return;
    const ear: ByEar = new ByEar(
      chart,
      () => this.store.state.language,
      (bytes, signs) =>
        this.program.gauge({ name: "attempt.wav", bytes }, "attempt.json", this.#choices(signs.join(" "))),
      () => void this.#played(ear),
      (error) => this.#failed(error),
    );
    await this.#listen(ear);
  }

  async #listen(ear: ByEar): Promise<void> {
    this.#tell(say(this.store.state.language, "ear_asking"));
    try {
      await ear.listen();
    } catch (error) {
      this.#failed(error);
      return;
    }
    this.#tell("");
    if (!this.dialog.open) {
      ear.rest();
      return;
    }
    this.#ear = ear;
    this.#view = "playing";
    this.#show();
    this.dialog.querySelector<HTMLElement>("#ear-leave")?.focus();
  }

  async #played(ear: ByEar): Promise<void> {
    ear.rest();
    await ear.settled();
    const recording = ear.recording();
    if (!recording) return;
    const name = this.#output().replace(/\.json$/u, ".wav");
    try {
      await this.#measure({ name, bytes: recording.wav }, recording.signs);
    } catch (error) {
      this.#failed(error);
    }
  }

  // What came of it.

  async #use(): Promise<void> {
    const made = await this.#made();
    if (!made) return;
    const { output, file: bytes } = made;
    const text = text_of(bytes);
    const flute = { file: output, title: (JSON.parse(text) as { title: string }).title, text };
    if (this.storage.keep_flute(flute) === "full") this.notices.tell({ about: "keeping", word: "not_kept_full" });
    this.dialog.close();
    this.store.set({ flutes: [...this.store.state.flutes.filter(({ file }) => file !== output), flute] });
    this.use(output);
  }

  async #take(of: (made: Measured & { file: Uint8Array }) => [string, Uint8Array, string]): Promise<void> {
    const made = await this.#made();
    if (!made) return;
    const [name, bytes, kind] = of(made);
    hand_over(name, bytes, kind);
    this.#tell(say(this.store.state.language, "taken", { name }));
  }

  #show(): void {
    const { language } = this.store.state;
    this.#chooser.setAttribute("aria-label", say(language, "gauge_file"));
    this.#body.replaceChildren(...this.#shown());
    this.dialog.replaceChildren(
      // Were a field the first to have the focus, a phone would open its keyboard.
      element("h2", { id: "gauge-title", tabindex: "-1", autofocus: true }, say(language, "gauge")),
      ...(this.#view === "begin" ? [element("p", {}, say(language, "gauge_what"))] : []),
      // Who plays wants to see what, and nothing else.
      ...(this.#view === "playing" ? [] : this.#fields()),
      this.#told,
      this.#body,
      element("form", { method: "dialog" }, element("button", {}, say(language, "close"))),
    );
  }

  #shown(): Node[] {
    if (this.#view === "playing" && this.#ear) {
      this.#ear.show();
      return [this.#ear.element];
    }
    if (this.#view === "measured" && this.#measured) return this.#result(this.#measured);
    const { language } = this.store.state;
    return [
      ...this.#ways(),
      element(
        "p",
        { class: "remark" },
        say(language, "gauge_where", { seconds: kMostSeconds, wav: kMostWav / 1e6, other: kMostOther / 1e6 }),
      ),
    ];
  }

  #ways(): Node[] {
    const { language } = this.store.state;
    const ear = this.#ear;
    return [
      element(
        "div",
        { class: "row" },
        ...(ear?.count
          ? [
              element(
                "button",
                { id: "gauge-back", click: () => void this.#listen(ear) },
                say(language, "gauge_back", { count: ear.count }),
              ),
            ]
          : []),
        element("button", { id: "gauge-play", click: () => void this.#play() }, say(language, "gauge_microphone")),
        element("label", {}, element("span", {}, say(language, "gauge_file")), this.#chooser),
      ),
    ];
  }

  #fields(): HTMLElement[] {
    const { language, flutes } = this.store.state;
    const field = (key: keyof Said, word: Word, more: Record<string, string>): HTMLElement => {
      const input: HTMLInputElement = element("input", {
        id: `gauge-${key}`,
        value: this.#said[key],
        ...more,
        change: () => {
          this.#said = { ...this.#said, [key]: input.value.trim() };
          this.#again();
        },
      });
      return element("label", {}, element("span", {}, say(language, word)), input);
    };
    const like = element(
      "select",
      {
        id: "gauge-like",
        change: () => {
          this.#said = { ...this.#said, like: like.value };
          void this.#learn_signs().then(() => this.#again());
        },
      },
      ...kSizes.map((note, index) => {
        const size = String(index + 1);
        return element("option", { value: size }, say(language, "flute_size", { size, note }));
      }),
      ...flutes.map(({ file, title }) => element("option", { value: file }, title)),
    );
    like.value = this.#said.like;
    if (like.selectedIndex < 0) like.value = this.#said.like = "8";
    const upwards = this.#chart ? plain_signs(this.#chart).join(" ") : "";
    const more = element(
      "details",
      { id: "gauge-more", open: this.#more, toggle: () => (this.#more = more.open) },
      element("summary", {}, say(language, "origin_more")),
      element(
        "div",
        { class: "choices" },
        ...(this.#measured?.played ? [] : [field("signs", "gauge_signs", { lang: "ja", placeholder: upwards })]),
        field("celsius", "gauge_temperature", { type: "number", min: "-30", max: "60", step: "any" }),
        field("tuning", "gauge_tuning", { type: "number", min: "300", max: "600", step: "any", placeholder: "440" }),
      ),
    );
    return [
      element(
        "div",
        { class: "choices" },
        field("name", "gauge_name", { placeholder: say(language, "gauge_unnamed") }),
        element("label", {}, element("span", {}, say(language, "gauge_like")), like),
      ),
      more,
    ];
  }

  #result(measured: Measured): Node[] {
    const { language } = this.store.state;
    const { played, output, gauged } = measured;
    const { file, signs, findings } = gauged;
    const title = this.#chart?.title ?? this.#said.like;
    const shown = columns(language, title).filter(([, cell]) => signs.some((sign) => cell(sign) !== ""));
    const button = (id: string, word: Word, act: () => Promise<void>, kind = ""): HTMLElement =>
      element("button", { id: `gauge-${id}`, class: kind, click: () => void act() }, say(language, word));
    return [
      element(
        "h3",
        { tabindex: "-1" },
        file ? say(language, "gauge_made", { count: signs.length, name: output }) : say(language, "gauge_none"),
      ),
      ...(file
        ? [
            element(
              "div",
              { class: "row" },
              button("use", "gauge_use", () => this.#use(), "main"),
              button("take", "gauge_take", () => this.#take(({ output, file }) => [output, file, "application/json"])),
              ...(played
                ? [button("sound", "gauge_take_sound", () => this.#take(({ input }) => [input.name, input.bytes, "audio/wav"]))]
                : []),
            ),
            element(
              "div",
              { class: "fits", tabindex: "0", role: "region", "aria-label": say(language, "gauge_table") },
              element(
                "table",
                {},
                element("caption", {}, say(language, this.#said.celsius ? "gauge_table_warm" : "gauge_table")),
                element(
                  "thead",
                  {},
                  element(
                    "tr",
                    {},
                    ...[say(language, "gauge_sign"), ...shown.map(([heading]) => heading)].map((heading) =>
                      element("th", { scope: "col" }, heading),
                    ),
                  ),
                ),
                element(
                  "tbody",
                  {},
                  ...signs.map((sign) =>
                    element(
                      "tr",
                      {},
                      element("th", { scope: "row", lang: "ja" }, sign.sign),
                      ...shown.map(([, cell]) => element("td", {}, cell(sign))),
                    ),
                  ),
                ),
              ),
            ),
          ]
        : []),
      ...(findings.length
        ? [element("ol", { class: "findings" }, ...findings.map((one) => item(one, language, undefined)))]
        : []),
      ...this.#ways(),
    ];
  }
}
