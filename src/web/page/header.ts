// The line above the page and the one above the tune: which tune, which flute, what can be done.
import type { Bring } from "./bring.ts";
import { element, part } from "./dom.ts";
import type { Editor } from "./editor.ts";
import type { Gauge } from "./gauge.ts";
import type { Notices } from "./notices.ts";
import { bytes_of, text_of, type Chart, type Program } from "./program.ts";
import type { State, Store } from "./store.ts";
import type { Take } from "./take.ts";
import type { Tunes } from "./tunes.ts";
import { say } from "./words.ts";
import { kName } from "./workshop.ts";

/** Of sizes 1 to 13 the note of 一, as the help of the program lists it. */
export const kSizes = ["F", "F♯", "G", "A♭", "A", "B♭", "B", "C", "D♭", "D", "E♭", "E", "F"];

/** The text with this flute in its header: on the line that names one, else on a new one. */
export function with_flute(text: string, flute: string): string {
  const lines = text.split("\n");
  let last_key = -1;
  for (let i = 0; i < lines.length; ++i) {
    const line = lines[i]!;
    if (/^\s*flute\s*[:：]/u.test(line)) {
      lines[i] = `flute: ${flute}`;
      return lines.join("\n");
    }
    if (/^\s*[^\s:#>(){}|"~：]+[:：](?:\s|$)/u.test(line)) last_key = i;
    else if (!/^\s*(?:[#＃]|$)/u.test(line)) break;
  }
  lines.splice(last_key + 1, 0, `flute: ${flute}`);
  return lines.join("\n");
}

export class Header {
  readonly #charts = new Map<string, Promise<Chart | undefined>>();
  #offered = "";

  constructor(
    private readonly store: Store,
    private readonly program: Program,
    private readonly editor: Editor,
    private readonly notices: Notices,
    dialogs: { bring: Bring; take: Take; tunes: Tunes; gauge: Gauge },
  ) {
    part("bring-open").addEventListener("click", () => dialogs.bring.open());
    part("take-open").addEventListener("click", () => dialogs.take.open());
    part("tunes-open").addEventListener("click", () => dialogs.tunes.open());
    part("gauge-open").addEventListener("click", () => dialogs.gauge.open());
    part("language").addEventListener("click", () =>
      store.set({ language: store.state.language === "ja" ? "en" : "ja" }),
    );
    part("undo").addEventListener("click", () => editor.undo());
    part("redo").addEventListener("click", () => editor.redo());
    part("tidy").addEventListener("click", () => void this.#tidy());
    part("pad-open").addEventListener("click", () => store.set({ pad_open: !store.state.pad_open }));
    part<HTMLSelectElement>("flute").addEventListener("change", (event) =>
      this.take_flute((event.target as HTMLSelectElement).value),
    );
    store.show(["pad_open"], ({ pad_open }) => part("pad-open").setAttribute("aria-expanded", String(pad_open)));
    store.show(["language"], ({ language }) => {
      const other = language === "ja" ? "en" : "ja";
      part("language").textContent = say(language, "language_other");
      part("language").lang = other;
    });
    store.show(["tunes", "tune", "language"], ({ tunes, tune, language }) => {
      const name = tunes.find(({ id }) => id === tune)?.name || say(language, "untitled");
      part("tune-name").textContent = name;
      part("tunes-open").setAttribute("aria-label", say(language, "tunes_open", { name }));
      document.title = `${name} – yubifu 指譜`;
    });
    store.show(["text", "tune"], () => {
      part<HTMLButtonElement>("undo").disabled = !editor.can_undo;
      part<HTMLButtonElement>("redo").disabled = !editor.can_redo;
    });
    store.show(["made", "flutes", "language"], (state) => this.#show_flutes(state));
    store.show(["made", "mark", "flutes"], (state) => void this.#chart(state));
  }

  // The flute of the whole tune, which its header names.
  #show_flutes({ made, flutes, language }: State): void {
    const choice = part<HTMLSelectElement>("flute");
    const name = made?.flutes[0]?.name ?? "8";
    const key = JSON.stringify([name, flutes, language]);
    if (key !== this.#offered) this.#offer(choice, name, flutes, language);
    this.#offered = key;
    choice.value = name;
  }

  #offer(choice: HTMLSelectElement, name: string, flutes: State["flutes"], language: State["language"]): void {
    const options = kSizes.map((note, index) => {
      const size = String(index + 1);
      return element("option", { value: size }, say(language, "flute_size", { size, note }));
    });
    for (const flute of flutes) options.push(element("option", { value: flute.file }, flute.title));
    if (!options.some(({ value }) => value === name)) {
      const own = flutes.find(({ file }) => name.endsWith(`/${file}`));
      options.push(element("option", { value: name }, own?.title ?? name));
    }
    choice.replaceChildren(...options);
  }

  // The signs of the flute that is in force where the cursor is.
  async #chart({ made, mark }: State): Promise<void> {
    const measure = made?.notes[mark ?? 0]?.measure ?? 0;
    const name = made?.flutes.filter((flute) => flute.measure <= measure).at(-1)?.name ?? "8";
    const own = this.store.state.flutes.find(({ file }) => name === file || name.endsWith(`/${file}`));
    const key = `${name}\n${own?.text ?? ""}`;
    if (!this.#charts.has(key)) this.#charts.set(key, this.program.chart(own?.file ?? name));
    try {
      const chart = await this.#charts.get(key);
      if (chart) this.store.set({ chart });
    } catch {
      this.#charts.delete(key);
    }
  }

  /** The tune that is open goes to another flute. */
  take_flute(flute: string): void {
    const before = this.store.state.text;
    this.editor.replace(with_flute(before, flute));
    this.notices.tell({
      about: "flute",
      word: "fingers_stay",
      actions: [{ word: "keep_pitch", act: () => void this.#refinger(before, flute) }],
    });
  }

  async #refinger(text: string, flute: string): Promise<void> {
    const tune = { name: kName, bytes: bytes_of(text) };
    const words = ["convert", kName, "-o", "new.yubifu", "--flute", flute, "--refinger"];
    const result = await this.program.ask(words, tune);
    const made = result.files.get("new.yubifu");
    if (made) this.editor.replace(text_of(made));
  }

  async #tidy(): Promise<void> {
    const { text } = this.store.state;
    const words = ["tidy", kName, "-o", "tidy.yubifu"];
    const answer = await this.program.plain(words, { name: kName, bytes: bytes_of(text) });
    const made = answer.files.get("tidy.yubifu");
    if (made && this.store.state.text === text) this.editor.replace(text_of(made));
  }
}
