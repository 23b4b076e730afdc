// Every word that the page itself says, in both languages. What the program says comes from the
// program, in the same language.

export type Language = "en" | "ja";

const table = {
  tune: { en: "The tune", ja: "曲" },
  tunes: { en: "Tunes on this computer", ja: "このコンピューターにある曲" },
  tunes_open: { en: "{name} – other tunes", ja: "{name} – ほかの曲" },
  untitled: { en: "Untitled", ja: "無題" },
  new_tune: { en: "New tune", ja: "新しい曲" },
  example: { en: "Example: {name}", ja: "例: {name}" },
  remove: { en: "Remove", ja: "消す" },
  remove_tune: { en: "Remove {name}", ja: "「{name}」を消す" },
  removed: { en: "{name} is removed.", ja: "「{name}」を消しました。" },
  put_back: { en: "Put it back", ja: "元に戻す" },
  close: { en: "Close", ja: "閉じる" },
  own_flutes: { en: "Your flute files", ja: "自分の笛のファイル" },
  kept_how: {
    en: "All of this stays in this browser and is sent nowhere.",
    ja: "すべてこのブラウザーの中だけに保存され、どこにも送られません。",
  },

  flute: { en: "Flute", ja: "笛" },
  flute_size: { en: "{size} ({note})", ja: "{size}本調子 {note}" },
  fingers_stay: {
    en: "The fingers stay as they are, so the tune sounds at another pitch.",
    ja: "指使いはそのままで、音の高さが変わりました。",
  },
  keep_pitch: { en: "Keep the pitch instead", ja: "高さを保って指使いを変える" },
  undo: { en: "Undo", ja: "取り消す" },
  redo: { en: "Do again", ja: "やり直す" },
  tidy: { en: "Align", ja: "整える" },
  tidy_why: { en: "Puts the words of the tune under each other", ja: "譜の字の並びを揃えます" },
  pad: { en: "Signs", ja: "符字" },
  pad_label: { en: "Signs of this flute", ja: "この笛の符字" },
  text_label: { en: "Text of the tune", ja: "曲のテキスト" },
  faults: { en: "What is wrong", ja: "直すところ" },
  fault_at: { en: "line {line}", ja: "{line} 行目" },
  fault_bar: { en: "bar {bar}", ja: "{bar} 小節目" },
  error: { en: "fault", ja: "誤り" },
  warning: { en: "warning", ja: "注意" },
  note: { en: "note", ja: "参考" },

  low: { en: "Low register", ja: "呂音" },
  second: { en: "Second register", ja: "甲音" },
  third: { en: "Third register", ja: "大甲音" },
  halves: { en: "Half holes", ja: "半開" },
  time: { en: "Time and bars", ja: "拍と小節" },
  marks: { en: "Marks", ja: "奏法" },
  key_hold: { en: "hold one more beat", ja: "もう一拍のばす" },
  key_rest: { en: "rest", ja: "休み" },
  key_open: { en: "share one beat: begin", ja: "一拍を分ける: 始め" },
  key_close: { en: "share one beat: end", ja: "一拍を分ける: 終わり" },
  key_bar: { en: "bar line", ja: "小節線" },
  key_end: { en: "end of the tune", ja: "曲の終わり" },
  key_repeat_from: { en: "repeat from here", ja: "ここから繰り返す" },
  key_repeat: { en: "repeat", ja: "繰り返す" },
  key_slur: { en: "slur to the next note", ja: "次の音へなめらかに" },
  key_line: { en: "new line", ja: "改行" },
  key_erase: { en: "erase", ja: "一字消す" },

  views: { en: "What it looks like", ja: "できあがり" },
  sheet: { en: "Sheet", ja: "縦譜" },
  staff: { en: "Staff", ja: "五線" },
  fingers: { en: "Fingers", ja: "指" },
  sheet_down: { en: "Downwards", ja: "縦書きに" },
  sheet_across: { en: "Across", ja: "横書きに" },
  stale: {
    en: "before the fault",
    ja: "誤りの前のまま",
  },
  nothing_yet: {
    en: "The sheet stands here as soon as the tune can be read. See what is wrong beside it.",
    ja: "曲が読めるようになると、ここに譜面が出ます。直すところはとなりに出ています。",
  },
  staff_loading: { en: "The staff is being engraved …", ja: "五線譜を用意しています…" },
  staff_failed: {
    en: "The staff cannot be drawn here ({why}). Sheet and fingers go on; the MusicXML can be taken away as ever.",
    ja: "ここでは五線譜を描けません ({why})。縦譜と指は使えます。MusicXML も持ち出せます。",
  },
  staff_nested: {
    en: "This tune has groups inside groups; the staff drawn here may show their rhythm wrongly. The MusicXML is right.",
    ja: "この曲には組の中の組があり、ここの五線譜ではリズムが正しく出ないことがあります。MusicXML は正しく書かれています。",
  },
  no_note: { en: "no note here", ja: "ここに音はありません" },
  gap: { en: "this flute has no fingering for {pitch}", ja: "この笛に {pitch} の指使いはありません" },
  holes_said: {
    en: "{sign}, {pitch}: from the mouth end {holes}",
    ja: "{sign}、{pitch}: 歌口の側から {holes}",
  },
  hole_open: { en: "open", ja: "開" },
  hole_closed: { en: "closed", ja: "閉" },
  hole_half: { en: "half", ja: "半開" },
  hole_steady: { en: "closed to steady", ja: "支え" },
  bar_said: { en: "Bar {bar}", ja: "{bar} 小節目" },

  listen: { en: "Listen", ja: "聴く" },
  stop: { en: "Stop", ja: "止める" },
  listen_tempo: { en: "Tempo", ja: "速さ" },
  listen_more: { en: "Practice", ja: "練習" },
  listen_from: { en: "From bar", ja: "小節 (から)" },
  listen_to: { en: "to bar", ja: "小節 (まで)" },
  listen_again: { en: "over and over", ja: "繰り返す" },
  listen_count: { en: "Count before", ja: "前の数え" },
  listen_bars_n: { en: "{bars} bar(s)", ja: "{bars} 小節" },
  listen_click: { en: "with clicks", ja: "拍の音を入れる" },

  bring: { en: "Bring in", ja: "取り込む" },
  bring_title: { en: "Bring in tunes", ja: "曲を取り込む" },
  bring_what: {
    en: "MusicXML (.musicxml, .xml, .mxl), MIDI (.mid), fingering text (.yubifu, .txt), score or flute files (.json). They can also be dropped anywhere on this page.",
    ja: "MusicXML (.musicxml、.xml、.mxl)、MIDI (.mid)、指譜のテキスト (.yubifu、.txt)、曲や笛のファイル (.json)。このページのどこに落としてもかまいません。",
  },
  bring_flute: {
    en: "Your flute follows no scale? It is measured by its sound, or by a table of what a tuner showed (.csv).",
    ja: "音階どおりでない笛は、録音か、チューナーの読みを書いた表 (.csv) で測れます。",
  },
  bring_choose: { en: "Choose files …", ja: "ファイルを選ぶ…" },
  drop: { en: "Let go: the tune comes in here", ja: "ここで離すと取り込みます" },
  reading: { en: "Reading {name} …", ja: "{name} を読んでいます…" },
  cancel: { en: "Cancel", ja: "中止" },
  cancelled: { en: "{name} was not brought in.", ja: "{name} の取り込みを中止しました。" },
  not_brought: { en: "{name} could not be brought in: {why}", ja: "{name} を取り込めませんでした: {why}" },
  brought: { en: "{name} is here.", ja: "{name} を取り込みました。" },
  flute_brought: {
    en: "The flute {title} is here: tunes call it {file}.",
    ja: "笛「{title}」を取り込みました。曲の中では {file} と書きます。",
  },
  origin: { en: "From a file", ja: "元のファイル" },
  origin_from: { en: "From {name}", ja: "{name} から" },
  origin_flutes: { en: "Flutes for this tune, the best first", ja: "この曲に合う笛 (よく合う順)" },
  origin_more: { en: "More choices", ja: "細かい指定" },
  origin_changed: {
    en: "It was read again; what you had typed is one step of undo away.",
    ja: "読み直しました。手で直した分は「取り消す」で戻せます。",
  },
  origin_left: { en: "Left out or decided", ja: "省いたこと・決めたこと" },
  origin_whole: { en: "Nothing was left out.", ja: "省いたものはありません。" },
  origin_annotated: { en: "Take the original with fingering", ja: "指番号を入れた元の譜面を持ち出す" },
  origin_session: {
    en: "The file itself is kept until this window closes.",
    ja: "元のファイルは、このウィンドウを閉じるまで使えます。",
  },
  take_flute: { en: "Take", ja: "使う" },
  take_flute_label: { en: "Take the flute {flute}", ja: "笛 {flute} を使う" },
  taken_flute: { en: "taken", ja: "使用中" },
  fit_do: { en: "一 is", ja: "一の音" },
  fit_octave: { en: "octave", ja: "オクターブ" },
  fit_plain: { en: "plain", ja: "普通" },
  fit_half: { en: "half", ja: "半開" },
  fit_bent: { en: "bent", ja: "メリカリ" },
  fit_out: { en: "missing", ja: "出ない" },
  fit_effort: { en: "effort", ja: "難しさ" },
  option_octave: { en: "Octaves up or down", ja: "上下するオクターブ" },
  option_move: { en: "Semitones up or down", ja: "上下する半音" },
  option_part: { en: "Part (name or number)", ja: "パート (名前か番号)" },
  option_voice: { en: "Voice", ja: "声部" },
  option_staff: { en: "Staff of the part", ja: "パートの何段目" },
  option_track: { en: "Track", ja: "トラック" },
  option_channel: { en: "Channel", ja: "チャンネル" },
  option_line: { en: "Of chords take", ja: "和音から取る音" },
  option_top: { en: "the top", ja: "一番上" },
  option_bottom: { en: "the bottom", ja: "一番下" },
  option_grid: { en: "Parts of a quarter (grid)", ja: "四分音符をいくつに割るか" },
  option_meter: { en: "Meter", ja: "拍子" },
  option_avoid: { en: "Avoid", ja: "避ける" },
  option_avoid_half: { en: "half holes", ja: "半開" },
  option_avoid_third: { en: "third register", ja: "大甲音" },
  option_avoid_cross: { en: "the sign 0", ja: "0 の指" },
  option_found: { en: "found by itself", ja: "自動" },

  gauge: { en: "Measure a flute", ja: "笛を測る" },
  gauge_what: {
    en: "For a flute that follows no scale. Play its signs one after another, each for about two seconds, with a breath between: to the microphone, or recorded before. The program measures what each one sounds and makes a flute file of it. A table of what a tuner showed (.csv) does as well.",
    ja: "音階どおりでない笛のためのものです。運指を一つずつ、2 秒ほどのばし、間に息をついで吹きます。マイクに向かって吹くか、前もって録音しておきます。それぞれの音の高さを測り、笛ファイルを作ります。チューナーの読みを書いた表 (.csv) からも作れます。",
  },
  gauge_where: {
    en: "The browser asks before the page may listen. No sound leaves this computer, and none is kept when the window closes. Of each sign at most {seconds} seconds are taken. A recording may have {wav} MB as WAV; other kinds are decoded by the browser and may have {other} MB.",
    ja: "マイクを使う前にブラウザーが尋ねます。音がこのコンピューターから出ることはなく、ウィンドウを閉じれば残りません。一音につき {seconds} 秒までを使います。録音は WAV なら {wav} MB まで、ほかの形式はブラウザーが読める {other} MB までのものです。",
  },
  gauge_name: { en: "Name of the flute", ja: "笛の名前" },
  gauge_unnamed: { en: "my-flute", ja: "わたしの笛" },
  gauge_like: { en: "Signs and holes as on", ja: "運指と指孔が同じ笛" },
  gauge_signs: { en: "Signs, in the order played", ja: "吹いた運指の順" },
  gauge_temperature: { en: "Air, °C", ja: "気温 °C" },
  gauge_tuning: { en: "A4, Hz", ja: "A4 Hz" },
  gauge_microphone: { en: "Play to the microphone", ja: "マイクに向かって吹く" },
  gauge_file: { en: "A recording or a table", ja: "録音か表のファイル" },
  gauge_back: { en: "Back to the signs ({count} played)", ja: "続きを吹く ({count} 音あり)" },
  gauge_large: {
    en: "This file is too large: up to {wav} MB of WAV or {other} MB of another kind are read here. The program on a terminal takes any size.",
    ja: "ファイルが大きすぎます。ここで読めるのは WAV で {wav} MB、ほかの形式で {other} MB までです。端末のプログラムには制限がありません。",
  },
  gauge_foreign: {
    en: "This browser cannot read the sound of this file. Save it as WAV.",
    ja: "このファイルの音は、このブラウザーでは読めません。WAV で保存してください。",
  },
  gauge_made: { en: "{count} signs measured: {name}", ja: "{count} 音を測りました: {name}" },
  gauge_none: { en: "No flute could be made of it", ja: "笛ファイルは作れませんでした" },
  gauge_use: { en: "Use this flute", ja: "この笛を使う" },
  gauge_take: { en: "Take the flute file away", ja: "笛ファイルを持ち出す" },
  gauge_take_sound: { en: "Take the recording away", ja: "録音を持ち出す" },
  gauge_table: { en: "What each sign sounds", ja: "それぞれの音の高さ" },
  gauge_table_warm: { en: "What each sign sounds, brought to 20 °C", ja: "それぞれの音の高さ (20 °C の値)" },
  gauge_sign: { en: "sign", ja: "運指" },
  gauge_hz: { en: "Hz", ja: "Hz" },
  gauge_note: { en: "note", ja: "音" },
  gauge_cents: { en: "cents", ja: "セント" },
  gauge_from: { en: "from flute {flute}", ja: "笛 {flute} との差" },
  gauge_spread: { en: "steadiness", ja: "ゆれ" },
  gauge_seconds: { en: "seconds", ja: "秒" },
  ear_now: { en: "Play {sign}", ja: "{sign} を吹いてください" },
  ear_now_said: { en: "Play {sign}. From the mouth end: {holes}", ja: "{sign} を吹いてください。歌口の側から {holes}" },
  ear_all: {
    en: "Every plain sign is there. Choose one to play it again, or a half-holed one to add it.",
    ja: "ひととおり吹き終わりました。選ぶと吹き直せます。半開の運指も加えられます。",
  },
  ear_level: { en: "Loudness", ja: "音の大きさ" },
  ear_leave: { en: "Leave this one out", ja: "この音をとばす" },
  ear_done: { en: "Done: measure", ja: "終わって測る" },
  ear_signs: {
    en: "Choose any sign to play it now, or to play it again. Half-holed signs are asked for only when chosen.",
    ja: "どの運指も、選べば今すぐ吹けます。吹き直すときも選んでください。半開の運指は、選んだときだけ吹きます。",
  },
  ear_play: { en: "{sign}: play it now", ja: "{sign} を今吹く" },
  ear_again: { en: "{sign}, {hz} hertz: play it again", ja: "{sign}、{hz} ヘルツ、吹き直す" },
  ear_unsure: {
    en: "It is not sure that this was {sign}: play it once more. If the sign before was wrong, choose that one first.",
    ja: "{sign} の音か確かでありません。もう一度吹いてください。前の音が違っていたら、先にそちらを選んで吹き直してください。",
  },
  ear_asking: { en: "The browser asks whether this page may listen.", ja: "ブラウザーの問いに答えて、マイクを許可してください。" },
  ear_denied: {
    en: "This page may not use the microphone. Allow it beside the address of the page, or take a recording.",
    ja: "マイクの使用が許可されていません。アドレスの横で許可するか、録音したファイルを選んでください。",
  },
  ear_absent: {
    en: "No microphone is to be had. Connect one, or take a recording.",
    ja: "使えるマイクがありません。マイクをつなぐか、録音したファイルを選んでください。",
  },
  ear_unsafe: {
    en: "The browser gives the microphone only to pages from a protected address (https) or from the disk. Take a recording, or open the page in one file.",
    ja: "マイクを使えるのは、https のページか、ディスクから開いたページだけです。録音したファイルを選ぶか、一つのファイルになったページを開いてください。",
  },
  ear_lost: {
    en: "The microphone is gone. What was played stays: measure it, or go on once it is back.",
    ja: "マイクが切れました。吹いた音は残っています。このまま測るか、つなぎ直して続けてください。",
  },

  take: { en: "Take away", ja: "持ち出す" },
  take_title: { en: "Take away", ja: "持ち出す" },
  take_text: { en: "Fingering text", ja: "指譜のテキスト" },
  take_musicxml: { en: "Staff with fingering (MusicXML)", ja: "指番号つきの五線譜 (MusicXML)" },
  take_mxl: { en: "Staff, compressed (MXL)", ja: "五線譜・圧縮 (MXL)" },
  take_midi: { en: "To hear (MIDI)", ja: "音 (MIDI)" },
  take_svg: { en: "Sheet (SVG)", ja: "縦譜 (SVG)" },
  take_html: { en: "Sheet for browsers (HTML)", ja: "縦譜・ブラウザー用 (HTML)" },
  take_json: { en: "For other programs (JSON)", ja: "ほかのプログラム用 (JSON)" },
  take_chart: { en: "Fingering chart of the flute (SVG)", ja: "笛の運指表 (SVG)" },
  take_print: { en: "Print, or PDF from the print window", ja: "印刷 (印刷画面から PDF にもできます)" },
  take_all: { en: "Everything of all tunes (ZIP)", ja: "すべての曲のすべてのファイル (ZIP)" },
  take_how: { en: "How the sheet is written", ja: "譜面の書き方" },
  paper: { en: "Paper", ja: "用紙" },
  paper_a4: { en: "A4", ja: "A4" },
  paper_letter: { en: "Letter", ja: "レター" },
  with_chart: { en: "with a chart of its fingerings", ja: "使う運指の表を付ける" },
  taken_with: { en: "{name} is taken away. It says:", ja: "{name} を持ち出しました。お知らせ:" },
  taken: { en: "{name} is taken away.", ja: "{name} を持ち出しました。" },
  not_taken: { en: "{name} cannot be made: {why}", ja: "{name} は作れません: {why}" },
  working: { en: "Working …", ja: "作っています…" },

  not_kept_forbidden: {
    en: "This browser keeps nothing for this page: take the tune away before you close it.",
    ja: "このブラウザーはこのページの内容を保存しません。閉じる前に曲を持ち出してください。",
  },
  not_kept_full: {
    en: "The space of this browser is full, so the last changes are only in this window: take the tune away, or remove others.",
    ja: "ブラウザーの保存場所がいっぱいです。今の変更はこのウィンドウにしかありません。曲を持ち出すか、ほかの曲を消してください。",
  },
  changed_elsewhere: {
    en: "Another window changed this tune too. Nothing was overwritten.",
    ja: "別のウィンドウでもこの曲が変更されました。どちらも上書きしていません。",
  },
  keep_both: { en: "Keep both", ja: "両方残す" },
  take_theirs: { en: "Take the other window's", ja: "別のウィンドウの方にする" },
  followed: { en: "Changed in another window.", ja: "別のウィンドウで変更されました。" },
  copy_of: { en: "The other window's is in the list as {name}.", ja: "別のウィンドウの曲は「{name}」として一覧にあります。" },
  gone_elsewhere: {
    en: "Another window removed this tune; here it stays, and is kept again.",
    ja: "別のウィンドウでこの曲が消されましたが、ここには残っています。",
  },
  crashed: {
    en: "The program stopped ({why}) and has begun anew. Your text is untouched.",
    ja: "プログラムが止まり ({why})、動かし直しました。テキストはそのままです。",
  },
  failed_to_load: {
    en: "The program could not be started in this browser: {why}",
    ja: "このブラウザーではプログラムを動かせませんでした: {why}",
  },
  update: { en: "A newer version of this page is ready.", ja: "新しい版があります。" },
  update_take: { en: "Change to it now", ja: "今すぐ切り替える" },
  dismiss: { en: "Dismiss", ja: "消す" },
  language_other: { en: "日本語", ja: "English" },
  about: {
    en: "Free libraries in this page and where their sources are",
    ja: "このページが使う自由なライブラリーとその出どころ",
  },
} satisfies Record<string, Record<Language, string>>;

export type Word = keyof typeof table;

/** The sentence in a language; `{name}` stands for the value of that name. */
export function say(
  language: Language,
  word: Word,
  values: Record<string, string | number> = {},
): string {
  return table[word][language].replace(/\{(\w+)\}/gu, (whole, name: string) =>
    String(values[name] ?? whole),
  );
}

/** Gives everything under `root` that names a word (`data-say`, `-label`, `-title`) its text. */
export function say_all(root: ParentNode, language: Language): void {
  for (const [attribute, put] of [
    ["data-say", (one: Element, text: string) => (one.textContent = text)],
    ["data-say-label", (one: Element, text: string) => one.setAttribute("aria-label", text)],
    ["data-say-title", (one: Element, text: string) => one.setAttribute("title", text)],
  ] as const) {
    for (const one of root.querySelectorAll(`[${attribute}]`)) {
      put(one, say(language, one.getAttribute(attribute) as Word));
    }
  }
}

/** The language that the browser asks for first, of those that the page has. */
export function language_of_browser(): Language {
  for (const tag of navigator.languages) {
    if (tag.startsWith("ja")) return "ja";
    if (tag.startsWith("en")) return "en";
  }
  return "en";
}
