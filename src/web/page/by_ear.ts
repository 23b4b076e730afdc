// A flute played to the microphone, sign by sign: the next one is named, and the program says of each
// attempt whether it was that. A sign can be played again, left out, or taken in another order.
import { element } from "./dom.ts";
import { holes_named, lying_flute } from "./fingers.ts";
import { Attempts, decibels, Microphone } from "./microphone.ts";
import type { Chart, Gauged, GaugedSign } from "./program.ts";
import { in_16_bits, wav_of } from "./recording.ts";
import { say, say_all, type Language } from "./words.ts";

type Sign = Chart["entries"][number];

/** What was played of one sign. */
interface Take {
  samples: Int16Array;
  heard: GaugedSign;
}

/** What the program makes of a recording in which these signs were played. */
export type Judge = (recording: Uint8Array, signs: readonly string[]) => Promise<Gauged>;

/** What `gauge` asks for where nobody names signs. */
export function plain_signs(chart: Chart): string[] {
  return chart.entries.filter(({ half, cross }) => !half && !cross).map(({ sign }) => sign);
}

const kQuietDb = -60;

export class ByEar {
  readonly element = element("div", { id: "by-ear" });
  readonly #takes = new Map<string, Take>();
  readonly #plain: readonly string[];
  readonly #now = element("div", { class: "now" });
  readonly #hint = element("p", { role: "status", class: "hint" });
  readonly #level = element("meter", {
    min: String(kQuietDb), max: "0", value: String(kQuietDb), "data-say-label": "ear_level",
  });
  readonly #list = element("ol", { class: "played" });
  readonly #leave: HTMLButtonElement;
  readonly #done: HTMLButtonElement;
  #microphone: Microphone | undefined;
  #attempts: Attempts | undefined;
  /** Samples a second of what was played. */
  #rate = 0;
  /** The sign to be played. */
  #sign: Sign | undefined;
  /** Attempts are judged one after another. */
  #judging: Promise<void> = Promise.resolve();

  constructor(
    private readonly chart: Chart,
    private readonly language: () => Language,
    private readonly judge: Judge,
    ended: () => void,
    private readonly failed: (error: unknown) => void,
  ) {
    this.#plain = plain_signs(chart);
    this.#sign = chart.entries.find(({ sign }) => sign === this.#plain[0]);
    this.#leave = element("button", { id: "ear-leave", "data-say": "ear_leave", click: () => this.#go_on() });
    this.#done = element("button", { id: "ear-done", class: "main", "data-say": "ear_done", click: ended });
    this.element.append(
      this.#now,
      element("div", { class: "row" }, element("span", { "aria-hidden": "true", "data-say": "ear_level" }), this.#level),
      this.#hint,
      element("div", { class: "row" }, this.#leave, this.#done),
      this.#list,
      element("p", { class: "remark", "data-say": "ear_signs" }),
    );
  }

  /** Asks for the microphone and listens. */
  async listen(): Promise<void> {
    const lost = (): void => {
      this.rest();
      this.#tell(say(this.language(), "ear_lost"));
    };
    this.#microphone = await Microphone.open((samples) => this.#heard(samples), lost);
    this.#attempts = new Attempts(this.#microphone.rate);
    this.#rate = this.#microphone.rate;
  }

  /** How many signs were played. */
  get count(): number {
    return this.#takes.size;
  }

  /** Lets the microphone go; what was played stays. */
  rest(): void {
    this.#microphone?.close();
    this.#microphone = undefined;
    this.#attempts?.forget();
  }

  /** Every sign that was played, in the order of the flute; undefined when none was. */
  recording(): { wav: Uint8Array; signs: readonly string[] } | undefined {
    const takes = this.#in_order();
    if (takes.length === 0) return undefined;
    return {
      wav: wav_of(takes.map(([, { samples }]) => samples), this.#rate),
      signs: takes.map(([sign]) => sign),
    };
  }

  /** Nothing more is judged than what has already sounded. */
  settled(): Promise<void> {
    return this.#judging;
  }

  #in_order(): [string, Take][] {
    return this.chart.entries.flatMap(({ sign }): [string, Take][] => {
      const take = this.#takes.get(sign);
      return take ? [[sign, take]] : [];
    });
  }

  #heard(samples: Float32Array): void {
    if (!this.#attempts) return;
    this.#level.value = Math.max(kQuietDb, decibels(samples));
    const attempt = this.#attempts.take(samples);
    this.element.classList.toggle("sounding", this.#attempts.sounding);
    const sign = this.#sign;
    if (!attempt || !sign) return;
    this.#judging = this.#judging
      .then(() => (sign === this.#sign ? this.#judged(sign, in_16_bits(attempt)) : undefined))
      .catch(this.failed);
  }

  // The sign is laid beside its neighbour that was played already: how loud a tone is beside its echo,
  // and whether it is the higher of two, the program hears from both.
  async #judged(sign: Sign, samples: Int16Array): Promise<void> {
    const others = this.#in_order().filter(([name]) => name !== sign.sign);
    const place = (name: string): number => this.chart.entries.findIndex((entry) => entry.sign === name);
    const before = others.filter(([name]) => place(name) < place(sign.sign)).at(-1);
    const after = before ? undefined : others[0];
    const row: [string, Int16Array][] = [[sign.sign, samples]];
    if (before) row.unshift([before[0], before[1].samples]);
    if (after) row.push([after[0], after[1].samples]);
    const gauged = await this.judge(
      wav_of(row.map(([, piece]) => piece), this.#rate),
      row.map(([name]) => name),
    );
    if (sign !== this.#sign) return;
    const heard = gauged.signs.find((one) => one.sign === sign.sign);
    const remarks = gauged.findings.filter(({ rule }) => rule.startsWith("tone-") && rule !== "tone-extra");
    const hint = [...new Set(remarks.flatMap(({ hint }) => hint ?? []))].join(" ");
    // Where it puts the neighbour in doubt, it is not sure either.
    if (heard && gauged.signs.length === row.length) {
      this.#takes.set(sign.sign, { samples, heard });
      this.#tell(hint ? `${sign.sign}: ${hint}` : "");
      this.#go_on();
    } else if (hint) {
      this.#tell(hint);
    } else if (heard || gauged.findings.some(({ rule }) => rule === "tone-extra")) {
      this.#tell(say(this.language(), "ear_unsure", { sign: sign.sign }));
    }
  }

  #tell(hint: string): void {
    this.#hint.textContent = hint;
  }

  /** To the next plain sign that was not played yet, those behind this one first. */
  #go_on(): void {
    const at = this.chart.entries.findIndex((entry) => entry === this.#sign);
    const wanted = ({ sign }: Sign): boolean => this.#plain.includes(sign) && !this.#takes.has(sign);
    this.#sign = this.chart.entries.slice(at + 1).find(wanted);
    this.show();
  }

  #choose(sign: Sign): void {
    this.#sign = sign;
    this.#attempts?.forget();
    this.#tell("");
    this.show();
  }

  /** Everything anew, in the language of now. */
  show(): void {
    const language = this.language();
    const sign = this.#sign;
    say_all(this.element, language);
    this.#leave.disabled = sign === undefined;
    this.#done.disabled = this.#takes.size === 0;
    this.#now.replaceChildren(
      ...(sign
        ? [
            element("span", { class: "sign", lang: "ja", "aria-hidden": "true" }, sign.sign),
            element(
              "div",
              { class: "wide" },
              lying_flute(sign.holes[0] ?? ""),
              element("p", { "aria-hidden": "true" }, say(language, "ear_now", { sign: sign.sign })),
            ),
          ]
        : []),
      element(
        "p",
        { role: "status", class: sign ? "unseen" : "" },
        sign
          ? say(language, "ear_now_said", {
              sign: sign.sign,
              holes: holes_named(sign.holes[0] ?? "", language),
            })
          : say(language, "ear_all"),
      ),
    );
    const focused = document.activeElement?.getAttribute("data-sign");
    this.#list.replaceChildren(
      ...this.chart.entries.map((entry) => {
        const hz = this.#takes.get(entry.sign)?.heard.hz.toFixed(1);
        return element(
          "li",
          {},
          element(
            "button",
            {
              class: entry.half || entry.cross ? "small" : "",
              "data-sign": entry.sign,
              ...(entry === sign ? { "aria-current": "step" } : {}),
              "aria-label": hz
                ? say(language, "ear_again", { sign: entry.sign, hz })
                : say(language, "ear_play", { sign: entry.sign }),
              click: () => this.#choose(entry),
            },
            element("b", { lang: "ja" }, entry.sign),
            element("span", {}, hz ?? "–"),
          ),
        );
      }),
    );
    if (focused) this.#list.querySelector<HTMLElement>(`[data-sign="${CSS.escape(focused)}"]`)?.focus();
  }
}
