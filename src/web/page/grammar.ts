// The colours of the tune, from the grammar that other editors use: a small reader of the rules of a
// TextMate grammar. Every rule of this grammar ends on its line, so a line is read by itself.
import source from "../../../examples/editor/yubifu.tmLanguage.json";

interface Captures {
  [group: string]: { name: string };
}
interface Rule {
  include?: string;
  name?: string;
  match?: string;
  begin?: string;
  end?: string;
  contentName?: string;
  captures?: Captures;
  beginCaptures?: Captures;
  endCaptures?: Captures;
  patterns?: Rule[];
}
const grammar = source as { patterns: Rule[]; repository: Record<string, Rule> };

/** A stretch of a line and the scope that the grammar gives it. */
export interface Piece {
  from: number;
  to: number;
  scope: string;
}

const compiled = new Map<string, RegExp>();
function pattern(text: string): RegExp {
  let found = compiled.get(text);
  if (!found) compiled.set(text, (found = new RegExp(text, "dgu")));
  return found;
}

const flattened = new Map<readonly Rule[], readonly Rule[]>();
function flat(rules: readonly Rule[]): readonly Rule[] {
  let found = flattened.get(rules);
  if (!found) {
    found = rules.flatMap((rule) => {
      if (rule.include) return flat([grammar.repository[rule.include.slice(1)] ?? {}]);
      return rule.match || rule.begin ? [rule] : flat(rule.patterns ?? []);
    });
    flattened.set(rules, found);
  }
  return found;
}

class Line {
  readonly pieces: Piece[] = [];
  // What each pattern found last, so that none looks twice through what it has seen.
  readonly #found = new Map<string, RegExpExecArray | null>();

  constructor(readonly text: string) {}

  next(of: string, at: number): RegExpExecArray | null {
    const before = this.#found.get(of);
    if (before === null || (before && before.index >= at)) return before;
    const regular = pattern(of);
    regular.lastIndex = at;
    const match = regular.exec(this.text);
    this.#found.set(of, match);
    return match;
  }

  add(from: number, to: number, scope: string | undefined): void {
    if (scope && to > from) this.pieces.push({ from, to, scope });
  }

  capture(match: RegExpExecArray, captures: Captures | undefined): void {
    for (const [group, { name }] of Object.entries(captures ?? {})) {
      const place = match.indices?.[Number(group)];
      if (place) this.add(place[0], place[1], name);
    }
  }

  /** Reads from `at` to the end of the line or of the rule; returns where that is. */
  read(at: number, rules: readonly Rule[], within: Rule | undefined): number {
    for (;;) {
      const end = within?.end ? this.next(within.end, at) : null;
      let first: { rule: Rule; match: RegExpExecArray } | undefined;
      for (const rule of flat(rules)) {
        const match = this.next(rule.match ?? rule.begin ?? "", at);
        if (!match || (!rule.begin && match[0] === "")) continue;
        if (!first || match.index < first.match.index) first = { rule, match };
      }
      if (end && (!first || end.index <= first.match.index)) {
        this.add(at, end.index, within?.contentName ?? within?.name);
        this.capture(end, within?.endCaptures);
        return end.index + end[0].length;
      }
      if (!first) {
        this.add(at, this.text.length, within?.contentName);
        return this.text.length;
      }
      const { rule, match } = first;
      this.add(at, match.index, within?.contentName);
      const after = match.index + match[0].length;
      if (rule.begin) {
        this.capture(match, rule.beginCaptures);
        at = this.read(after, rule.patterns ?? [], rule);
      } else {
        this.add(match.index, after, rule.name);
        this.capture(match, rule.captures);
        at = after;
      }
      if (at >= this.text.length) return at;
    }
  }
}

/** The pieces of a line in order. */
export function pieces(text: string): Piece[] {
  const line = new Line(text);
  line.read(0, grammar.patterns, undefined);
  return line.pieces;
}

/** The words that may stand first in braces: marks and directions. */
export function brace_words(): string[] {
  const words = new Set<string>();
  for (const rule of grammar.repository["brace"]?.patterns ?? []) {
    const list = /\\s[^(]*\(([^()]+)\)\(\?=/u.exec(rule.begin ?? "")?.[1];
    for (const word of list?.split("|") ?? []) {
      const plain = word.replace(/\\\?\??$/u, "");
      if (/^[a-z-]+$/u.test(plain)) words.add(plain);
    }
  }
  return [...words];
}
