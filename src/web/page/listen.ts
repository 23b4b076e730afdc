// To listen: the tune at the pitches of this very flute, slower, a range of bars, over and over, with a
// count before it and clicks. The note that sounds is told to every view.
import { element, part } from "./dom.ts";
import { bars_between } from "./listing.ts";
import { Player, type PlayChoices } from "./sound.ts";
import type { Store } from "./store.ts";
import { say, type Language } from "./words.ts";

/** In percent of the written tempo. */
const kTempos = [40, 50, 60, 70, 80, 90, 100, 110, 120];

export class Listen {
  readonly #parent = part("listen");
  #player: Player | undefined;
  #tempo = 100;
  #from = "";
  #to = "";
  #again = false;
  #count_in = 0;
  #click = false;
  #more: boolean;
  readonly #button = element("button", { id: "play", class: "main", click: () => this.#toggle() });

  constructor(private readonly store: Store) {
    this.#more = matchMedia("(min-width: 60em)").matches;
    store.show(["language"], ({ language }) => this.#show(language));
    store.show(["tune"], () => this.stop());
    store.show(["made"], ({ made }) => {
      if (made?.listing && this.#player?.playing) this.#player.exchange(made.listing, this.#choices());
      if (!made || made.listing) this.#button.disabled = !made?.listing?.played.length;
    });
    addEventListener("keydown", (event) => {
      const beside = document.querySelector("dialog[open]") === null;
      if (beside && event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
        event.preventDefault();
        this.#toggle();
      }
    }, { capture: true });
  }

  stop(): void {
    this.#player?.stop();
    this.#ended();
  }

  #toggle(): void {
    const { made } = this.store.state;
    if (this.#player?.playing) {
      this.stop();
    } else if (made?.listing?.played.length) {
      // A browser gives sound only to who has clicked or typed, so that it is asked for here.
      this.#player ??= new Player(
        new AudioContext(),
        (note) => this.store.set({ sounding: note ?? undefined }),
        () => this.#ended(),
      );
      this.#player.play(made.listing, this.#choices());
      this.#label();
    }
  }

  #ended(): void {
    this.store.set({ sounding: undefined });
    this.#label();
  }

  #choices(): PlayChoices {
    const listing = this.store.state.made?.listing;
    const first = this.#from || (listing?.bars[0]?.number ?? "");
    const last = this.#to || (listing?.bars.at(-1)?.number ?? "");
    const whole = !this.#from && !this.#to;
    return {
      tempo: this.#tempo / 100,
      bars: whole || !listing ? undefined : bars_between(listing, first, last),
      again: this.#again,
      count_in: this.#count_in,
      click: this.#click,
    };
  }

  #changed(): void {
    const { made } = this.store.state;
    if (made?.listing && this.#player?.playing) this.#player.exchange(made.listing, this.#choices());
  }

  #label(): void {
    const { language } = this.store.state;
    const playing = this.#player?.playing ?? false;
    this.#button.textContent = `${playing ? "■" : "▶"} ${say(language, playing ? "stop" : "listen")}`;
    this.#button.classList.toggle("playing", playing);
  }

  #show(language: Language): void {
    const tempo = element(
      "select",
      {
        id: "tempo",
        change: () => {
          this.#tempo = Number(tempo.value);
          this.#changed();
        },
      },
      ...kTempos.map((percent) => element("option", { value: String(percent) }, `${percent} %`)),
    );
    tempo.value = String(this.#tempo);
    const bar = (id: string, value: string, set: (bar: string) => void): HTMLInputElement => {
      const field: HTMLInputElement = element("input", {
        id,
        value,
        size: "3",
        inputmode: "numeric",
        change: () => {
          set(field.value.trim());
          this.#changed();
        },
      });
      return field;
    };
    const check = (id: string, word: "listen_again" | "listen_click", on: boolean, set: (on: boolean) => void): HTMLElement => {
      const box: HTMLInputElement = element("input", {
        id,
        type: "checkbox",
        checked: on,
        change: () => {
          set(box.checked);
          this.#changed();
        },
      });
      return element("label", { class: "check" }, box, element("span", {}, say(language, word)));
    };
    const count = element(
      "select",
      {
        id: "count-in",
        change: () => {
          this.#count_in = Number(count.value);
        },
      },
      ...[0, 1, 2].map((bars) =>
        element("option", { value: String(bars) }, bars === 0 ? "–" : say(language, "listen_bars_n", { bars })),
      ),
    );
    count.value = String(this.#count_in);
    const label = (word: "listen_tempo" | "listen_from" | "listen_to" | "listen_count", field: HTMLElement): HTMLElement =>
      element("label", {}, element("span", {}, say(language, word)), field);
    const more = element(
      "details",
      { open: this.#more, toggle: () => (this.#more = more.open) },
      element("summary", {}, say(language, "listen_more")),
      element(
        "div",
        { class: "choices" },
        label("listen_from", bar("from-bar", this.#from, (value) => (this.#from = value))),
        label("listen_to", bar("to-bar", this.#to, (value) => (this.#to = value))),
        check("again", "listen_again", this.#again, (on) => (this.#again = on)),
        label("listen_count", count),
        check("click", "listen_click", this.#click, (on) => (this.#click = on)),
      ),
    );
    this.#label();
    this.#parent.replaceChildren(this.#button, label("listen_tempo", tempo), more);
  }
}
