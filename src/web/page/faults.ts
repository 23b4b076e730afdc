// What is wrong with the tune, as a list under it; each leads to its place.
import { element } from "./dom.ts";
import type { Finding } from "./program.ts";
import type { Store } from "./store.ts";
import { say, type Language } from "./words.ts";

/** Where a finding stands, in words: its line in the text, else its bar. */
export function place_of(finding: Finding, language: Language): string {
  if (finding.line) return say(language, "fault_at", { line: finding.line });
  const bars = finding.measures ?? [];
  return bars.length ? say(language, "fault_bar", { bar: bars.join(", ") }) : "";
}

/** One finding as an item of a list; a button where it leads somewhere. */
export function item(finding: Finding, language: Language, go: (() => void) | undefined): HTMLElement {
  const place = place_of(finding, language);
  const kind = say(language, finding.severity);
  const sentence = finding.hint ? `${finding.message} – ${finding.hint}` : finding.message;
  const words = [
    element("b", { class: finding.severity }, place ? `${kind}, ${place}` : kind),
    element("span", {}, sentence),
  ];
  return element("li", {}, go ? element("button", { class: "plain", click: go }, ...words) : element("p", {}, ...words));
}

export class Faults {
  constructor(parent: HTMLElement, store: Store, go_to: (finding: Finding) => void) {
    const list = parent.querySelector("ol")!;
    store.show(["findings", "language"], ({ findings, language }) => {
      parent.hidden = findings.length === 0;
      parent.classList.toggle("errors", findings.some(({ severity }) => severity === "error"));
      list.replaceChildren(
        ...findings.map((one) => item(one, language, one.line ? () => go_to(one) : undefined)),
      );
    });
  }
}
