// What the page asks of the program, each as the words of a command line, and what it answers.
import type { Answer } from "../core/core.ts";
import type { OwnFlute, SheetChoices } from "./store.ts";
import type { Language } from "./words.ts";

/** One finding of a report (`schemas/report.schema.json`); columns count code points from 1. */
export interface Finding {
  rule: string;
  severity: "error" | "warning" | "note";
  message: string;
  hint?: string;
  line?: number;
  column?: number;
  endLine?: number;
  endColumn?: number;
  measures?: readonly string[];
}

export interface Flute {
  name: string;
  title: string;
  measure: number;
}

/** The table of a flute: what `chart --to json` writes. */
export interface Chart {
  name: string;
  title: string;
  entries: readonly {
    sign: string;
    ascii: string;
    register: "tube" | "low" | "second" | "third";
    half: boolean;
    cross?: true;
    holes: readonly string[];
    note: string;
    hz: number;
  }[];
}

/** A sign as `gauge --report json` tells it. */
export interface GaugedSign {
  sign: string;
  hz: number;
  note: string;
  cents: number;
  "cents-from-like"?: number;
  spread?: number;
  seconds?: readonly [number, number];
}

/** What was measured, and the flute file where there is one. */
export interface Gauged {
  signs: readonly GaugedSign[];
  findings: readonly Finding[];
  file: Uint8Array | undefined;
}

/** A row of `fit --report json`. */
export interface Fit {
  size?: number;
  flute?: string;
  do: string;
  octave: number;
  plain: number;
  "half-usual": number;
  "half-hard": number;
  bent: number;
  loud: number;
  "out-of-reach": number;
  "effort-a-note": number;
  "hardest-bar"?: { number: string; effort: number };
  options: readonly string[];
  remark?: string;
}

export type Run = (
  words: readonly string[],
  files: ReadonlyMap<string, Uint8Array>,
) => Promise<Answer>;

/** A file for the program to read: a tune, or what was brought in. */
export interface Input {
  name: string;
  bytes: Uint8Array;
}

/** What came of one call: files by name, and what was found on the way. */
export interface Result {
  status: number;
  findings: readonly Finding[];
  remarks: readonly string[];
  files: ReadonlyMap<string, Uint8Array>;
}

interface Report {
  files?: readonly { findings: Finding[]; remarks?: string[] }[];
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export function bytes_of(text: string): Uint8Array {
  return encoder.encode(text);
}

export function text_of(bytes: Uint8Array | undefined): string {
  return bytes ? decoder.decode(bytes) : "";
}

export class Program {
  constructor(
    private readonly run: Run,
    private readonly settings: () => { language: Language; flutes: readonly OwnFlute[] },
  ) {}

  /** Runs `words`, with the report for machines; what it says that is no report becomes a finding. */
  async ask(words: readonly string[], input: Input | undefined): Promise<Result> {
    const answer = await this.plain([...words, "--report", "json"], input);
    const remarks = parsed<Report>(answer.output)?.files?.flatMap((file) => file.remarks ?? []) ?? [];
    return { status: answer.status, findings: findings_of(answer), remarks, files: answer.files };
  }

  /** What the signs of a flute sound in a recording or a table, and the flute file `output`. */
  async gauge(input: Input, output: string, choices: readonly string[]): Promise<Gauged> {
    const words = ["gauge", input.name, "-o", output, ...choices, "--report", "json"];
    const answer = await this.plain(words, input);
    return {
      signs: parsed<{ signs: GaugedSign[] }>(answer.output)?.signs ?? [],
      findings: findings_of(answer),
      file: answer.files.get(output),
    };
  }

  /** The pages of the sheet, or what keeps them from being drawn. */
  async sheet(tune: Input, choices: SheetChoices): Promise<{ pages: string[]; result: Result }> {
    const words = ["convert", tune.name, "-o", "sheet.svg", ...sheet_words(choices)];
    const result = await this.ask(words, tune);
    return { pages: pages_of(result.files, "sheet").map(text_of), result };
  }

  async check(tune: Input): Promise<readonly Finding[]> {
    return (await this.ask(["check", tune.name], tune)).findings;
  }

  /** What sounds when and how high, and where it stands in the text. */
  async listing(tune: Input): Promise<Uint8Array | undefined> {
    const words = ["convert", tune.name, "--to", "sound", "-o", "tune.sound.json"];
    return (await this.ask(words, tune)).files.get("tune.sound.json");
  }

  /** Which flutes suit a melody, the best first. */
  async fit(input: Input, choices: readonly string[]): Promise<{ fits: Fit[]; result: Result }> {
    const answer = await this.plain(["fit", input.name, ...choices, "--report", "json"], input);
    const table = parsed<{ fits?: Fit[] }>(answer.output);
    const findings: Finding[] = table?.fits
      ? []
      : [{ rule: "", severity: "error", message: answer.messages.trim() }];
    return {
      fits: table?.fits ?? [],
      result: { status: answer.status, findings, remarks: [], files: answer.files },
    };
  }

  async chart(flute: string): Promise<Chart | undefined> {
    const answer = await this.plain(["chart", "--flute", flute, "--to", "json"], undefined);
    return parsed<{ flutes: Chart[] }>(answer.output)?.flutes[0];
  }

  /** Runs `words` as they are, in the language of the page, with the flute files at hand. */
  async plain(words: readonly string[], input: Input | undefined): Promise<Answer> {
    const { language, flutes } = this.settings();
    const files = new Map<string, Uint8Array>();
    const text = input && input.bytes.length < 1_000_000 ? text_of(input.bytes) : "";
    // A tune may call a flute by a path. The page has no folders, so that any path leads to the
    // file of that name; the tune stands as deep as the path goes up.
    const called = flutes.flatMap(({ file, text: flute }) => {
      const name = file.replace(/[.*+?^${}()|[\]\\]/gu, "\\$&");
      return [...text.matchAll(new RegExp(`(?:[^\\s{}":/]+/)+${name}`, "gu"))].map(([path]) => ({ path, flute }));
    });
    const ups = called.map(({ path }) => path.split("/").filter((part) => part === "..").length);
    const folder = "tune/".repeat(Math.max(0, ...ups));
    for (const { path, flute } of called) files.set(joined(folder, path), bytes_of(flute));
    for (const { file, text: flute } of flutes) {
      files.set(file, bytes_of(flute));
      files.set(folder + file, bytes_of(flute));
    }
    if (input) files.set(folder + input.name, input.bytes);
    const placed = words.map((word) => (word === input?.name ? folder + word : word));
    return this.run([...placed, "--language", language, "--no-settings"], files);
  }
}

/** What a report for machines tells; what was said outside of one stands for it where the run failed. */
function findings_of(answer: Answer): Finding[] {
  const findings = parsed<Report>(answer.output)?.files?.flatMap((file) => file.findings) ?? [];
  const told = findings.some(({ severity }) => severity === "error");
  if (answer.status === 2 && !told && answer.messages) {
    findings.push({ rule: "", severity: "error", message: answer.messages.trim() });
  }
  return findings;
}

/** A path from a folder, without steps up. */
function joined(folder: string, path: string): string {
  const parts: string[] = [];
  for (const part of (folder + path).split("/")) {
    if (part === "..") parts.pop();
    else if (part !== "." && part !== "") parts.push(part);
  }
  return parts.join("/");
}

export function sheet_words(choices: SheetChoices): string[] {
  const words = ["--direction", choices.direction, "--size", choices.size];
  if (choices.with_chart) words.push("--with-chart");
  return words;
}

/** `name.svg`, or `name-1.svg`, `name-2.svg` … in order. */
export function pages_of(files: ReadonlyMap<string, Uint8Array>, name: string): Uint8Array[] {
  const one = files.get(`${name}.svg`);
  if (one) return [one];
  const pages: Uint8Array[] = [];
  for (;;) {
    const page = files.get(`${name}-${pages.length + 1}.svg`);
    if (!page) return pages;
    pages.push(page);
  }
}

function parsed<T>(bytes: Uint8Array): T | undefined {
  try {
    return JSON.parse(text_of(bytes)) as T;
  } catch {
    return undefined;
  }
}
