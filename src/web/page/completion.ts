// What may be typed behind an open brace, and in the lines of the header, each with what it means.
import type { CompletionContext, CompletionResult } from "@codemirror/autocomplete";

import type { Language } from "./words.ts";

type Meaning = Record<Language, string>;

/** Marks stand on a sign, directions free; `{name …}` is written with what the place then asks for. */
export const kBraceWords: Record<string, Meaning & { more?: string }> = {
  uchi: { en: "finger strike", ja: "打ち" },
  age: { en: "lifted finger", ja: "上げ" },
  suri: { en: "slide to the next note", ja: "スリ" },
  yuri: { en: "vibrato", ja: "ユリ" },
  breath: { en: "breath after the note", ja: "息" },
  fermata: { en: "held without a count", ja: "延ばし" },
  trill: { en: "trill", ja: "トリル" },
  accent: { en: "accent", ja: "アクセント" },
  staccato: { en: "short", ja: "スタッカート" },
  tenuto: { en: "held full", ja: "テヌート" },
  pre: { en: "grace notes before", ja: "前の装飾音", more: " " },
  post: { en: "grace notes after", ja: "後の装飾音", more: " " },
  holes: { en: "another fingering of this note", ja: "この音だけ別の指", more: " " },
  tempo: { en: "tempo from here", ja: "ここからの速さ", more: " " },
  meter: { en: "meter from here", ja: "ここからの拍子", more: " " },
  beat: { en: "what a word lasts from here", ja: "ここからの一字の長さ", more: " " },
  key: { en: "key from here", ja: "ここからの調", more: " " },
  flute: { en: "another flute from here", ja: "ここから別の笛", more: " " },
  section: { en: "name of a section", ja: "段の名", more: ' ""' },
  text: { en: "a remark for the player", ja: "奏者への言葉", more: ' ""' },
  dyn: { en: "how loud", ja: "強弱", more: " " },
  rit: { en: "slower and slower", ja: "だんだん遅く" },
  accel: { en: "faster and faster", ja: "だんだん速く" },
  "a-tempo": { en: "as fast as before", ja: "元の速さで" },
  caesura: { en: "a short stop", ja: "間" },
  irregular: { en: "a bar of another length", ja: "長さの違う小節" },
  ending: { en: "first, second ending", ja: "何番カッコ", more: " " },
  segno: { en: "segno", ja: "セーニョ" },
  coda: { en: "coda", ja: "コーダ" },
  fine: { en: "end after a jump", ja: "フィーネ" },
  dc: { en: "from the beginning", ja: "ダ・カーポ" },
  ds: { en: "from the segno", ja: "ダル・セーニョ" },
  "to-coda": { en: "to the coda", ja: "コーダへ" },
  "until-cue": { en: "again until the cue", ja: "合図まで" },
};

export const kHeaderKeys: Record<string, Meaning> = {
  title: { en: "title", ja: "曲名" },
  subtitle: { en: "second title", ja: "副題" },
  composer: { en: "composer", ja: "作曲" },
  lyricist: { en: "words by", ja: "作詞" },
  source: { en: "where it is from", ja: "出どころ" },
  rights: { en: "rights", ja: "権利" },
  flute: { en: "size or flute file", ja: "何本調子、または笛のファイル" },
  tuning: { en: "A4 in hertz", ja: "A4 のヘルツ" },
  meter: { en: "meter", ja: "拍子" },
  beat: { en: "what a word lasts", ja: "一字の長さ" },
  tempo: { en: "beats a minute", ja: "一分間の拍数" },
  key: { en: "key of the staff", ja: "五線の調" },
  staff: { en: "in-c or sounding", ja: "in-c か sounding" },
  zero: { en: "what 0 is: cross or tube", ja: "0 の意味: cross か tube" },
};

export function completions(context: CompletionContext, language: Language): CompletionResult | null {
  const brace = context.matchBefore(/[{｛][a-z-]*/u);
  if (brace) {
    const after = context.state.sliceDoc(context.pos, context.pos + 1);
    return {
      from: brace.from + 1,
      options: Object.entries(kBraceWords).map(([word, meaning]) => ({
        label: word,
        detail: meaning[language],
        apply: word + (meaning.more ?? "") + (after === "}" ? "" : "}"),
      })),
      validFor: /^[a-z-]*$/u,
    };
  }
  const line = context.state.doc.lineAt(context.pos);
  const word = context.matchBefore(/^[a-z]+/u);
  if (!word || !in_header(context.state.sliceDoc(0, line.from))) return null;
  return {
    from: word.from,
    options: Object.entries(kHeaderKeys).map(([key, meaning]) => ({
      label: key,
      detail: meaning[language],
      apply: `${key}: `,
    })),
    validFor: /^[a-z]*$/u,
  };
}

function in_header(before: string): boolean {
  return before.split("\n").every((line) => /^\s*(?:$|#|[^\s:|()]+[:：])/u.test(line));
}
