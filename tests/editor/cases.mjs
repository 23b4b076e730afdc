// Lines of fingering text, each with the scopes that its tokens must get (without ".yubifu").

const LOW = 'variable.other.sign.low';
const SECOND = 'constant.numeric.sign.second';
const THIRD = 'entity.name.function.sign.third';
const TUBE = 'variable.language.sign.tube';
const OWN = 'variable.parameter.sign.own';
const HALF = 'storage.modifier.half-hole';
const BEND = 'keyword.operator.bend';
const CENTS = 'constant.numeric.bend';
const HOLD = 'keyword.operator.hold';
const REST = 'constant.language.rest';
const BAR = 'punctuation.separator.bar';
const OPEN = 'punctuation.section.group.begin';
const CLOSE = 'punctuation.section.group.end';
const LENGTH = 'constant.numeric.length';
const COLON = 'punctuation.separator.length';
const BRACE = 'punctuation.section.brace.begin';
const END = 'punctuation.section.brace.end';
const MARK = 'entity.other.attribute-name.mark';
const DIRECTION = 'keyword.other.direction';
const QUOTE = 'punctuation.definition.string.begin';
const UNQUOTE = 'punctuation.definition.string.end';
const TEXT = 'string.quoted.double';
const ESCAPE = 'constant.character.escape';
const NUMBER = 'constant.numeric';
const SEPARATOR = 'punctuation.separator.value';
const KEY = 'entity.name.tag';
const IS = 'punctuation.separator.key-value';
const VALUE = 'string.unquoted.header';
const SONG = 'punctuation.definition.song';
const SYLLABLE = 'string.unquoted.syllable';
const WRONG = 'invalid.illegal.word';
const HASH = 'punctuation.definition.comment';
const COMMENT = 'comment.line.number-sign';

const SIGNS = [
  ['筒 rt ０', [['筒', TUBE], ['rt', TUBE], ['０', SECOND]]],
  ['一 七 r1 r7', [['一', LOW], ['七', LOW], ['r1', LOW], ['r7', LOW]]],
  ['0 1 7', [['0', SECOND], ['1', SECOND], ['7', SECOND]]],
  ['8 2̇ d5', [['8', THIRD], ['2̇', THIRD], ['d5', THIRD]]],
  ['ろ が Ω', [['ろ', OWN], ['が', OWN], ['Ω', OWN]]],
  ['三メ 七め r3m ×三 三♭', [['三', LOW], ['メ', HALF], ['七', LOW], ['め', HALF], ['r3', LOW], ['m', HALF], ['×', HALF],
    ['三', LOW], ['三', LOW], ['♭', HALF]]],
  ['二カ 2k ♯二', [['二', LOW], ['カ', HALF], ['2', SECOND], ['k', HALF], ['♯', HALF], ['二', LOW]]],
  ['三↓20 2v5 三メ↑15 8^3', [['三', LOW], ['↓', BEND], ['20', CENTS], ['2', SECOND], ['v', BEND],
    ['5', CENTS], ['三', LOW], ['メ', HALF], ['↑', BEND], ['15', CENTS], ['8', THIRD], ['^', BEND],
    ['3', CENTS]]],
  ['?F#4 ?Bb3↓10', [['?', 'punctuation.definition.gap'], ['F#4', 'constant.other.pitch'],
    ['?', 'punctuation.definition.gap'], ['Bb3', 'constant.other.pitch'], ['↓', BEND],
    ['10', CENTS]]],
  ['五~ 六〜', [['五', LOW], ['~', 'keyword.operator.slur'], ['六', LOW],
    ['〜', 'keyword.operator.slur']]],
  // Faults keep their colour as a whole; the words beside them are not touched.
  ['五五 六 三メ20 2・ メ', [['五五', WRONG], ['六', LOW], ['三メ20', WRONG], ['2・', WRONG],
    ['メ', WRONG]]],
];

const TIME = [
  ['五 - ー ・ . 休', [['五', LOW], ['-', HOLD], ['ー', HOLD], ['・', REST], ['.', REST],
    ['休', REST]]],
  ['(5 (6 7)) (5 6 7):2', [['(', OPEN], ['5', SECOND], ['(', OPEN], ['6', SECOND], ['7', SECOND],
    [')', CLOSE], [')', CLOSE], ['(', OPEN], ['5', SECOND], ['6', SECOND], ['7', SECOND],
    [')', CLOSE], [':', COLON], ['2', LENGTH]]],
  ['(5):1/2', [['(', OPEN], ['5', SECOND], [')', CLOSE], [':', COLON], ['1/2', LENGTH]]],
  ['（五　六）｜', [['（', OPEN], ['五', LOW], ['六', LOW], ['）', CLOSE], ['｜', BAR]]],
  ['%', [['%', 'keyword.control.same-bar']]],
  // A group that is never closed leaves the next lines as they are.
  ['(五 六\ntitle: A', [['(', OPEN], ['五', LOW], ['六', LOW], ['title', KEY], [':', IS],
    ['A', VALUE]]],
];

const FORM = [
  ['1|2 || 3 |=', [['1', SECOND], ['|', BAR], ['2', SECOND], ['||', `${BAR}.double`],
    ['3', SECOND], ['|=', `${BAR}.end`]]],
  ['||: 5 :|x3', [['|', BAR], ['|:', 'keyword.control.repeat.begin'], ['5', SECOND],
    [':|x', 'keyword.control.repeat.end'], ['3', 'constant.numeric.times']]],
  ['5:|', [['5', SECOND], [':|', 'keyword.control.repeat.end']]],
  ['三{fermata} 三{ breath? }{打ち}', [['三', LOW], ['{', BRACE], ['fermata', MARK], ['}', END],
    ['三', LOW], ['{', BRACE], ['breath?', MARK], ['}', END], ['{', BRACE], ['打ち', MARK],
    ['}', END]]],
  ['三{pre 六 ?C5}', [['三', LOW], ['{', BRACE], ['pre', MARK], ['六', LOW],
    ['?', 'punctuation.definition.gap'], ['C5', 'constant.other.pitch'], ['}', END]]],
  ['三{holes ○●xh}', [['三', LOW], ['{', BRACE], ['holes', MARK],
    ['○', 'constant.character.hole'], ['●', 'constant.character.hole'],
    ['x', 'constant.character.hole'], ['h', 'constant.character.hole'], ['}', END]]],
  ['{meter 3/4} {tempo 1/8=180}', [['{', BRACE], ['meter', DIRECTION], ['3', NUMBER],
    ['/', SEPARATOR], ['4', NUMBER], ['}', END], ['{', BRACE], ['tempo', DIRECTION], ['1', NUMBER],
    ['/', SEPARATOR], ['8', NUMBER], ['=', SEPARATOR], ['180', NUMBER], ['}', END]]],
  ['{ending 1,3} {ending end}', [['{', BRACE], ['ending', DIRECTION], ['1', NUMBER],
    [',', SEPARATOR], ['3', NUMBER], ['}', END], ['{', BRACE], ['ending', DIRECTION],
    ['end', 'constant.language'], ['}', END]]],
  ['{flute 6+15c} {flute "own.json"}', [['{', BRACE], ['flute', DIRECTION],
    ['6', 'constant.numeric.size'], ['+15', 'constant.numeric.offset'],
    ['c', 'keyword.other.unit'], ['}', END], ['{', BRACE], ['flute', DIRECTION], ['"', QUOTE],
    ['own.json', TEXT], ['"', UNQUOTE], ['}', END]]],
  ['{key F# minor} {dyn mf}', [['{', BRACE], ['key', DIRECTION], ['F#', 'constant.other.pitch'],
    ['minor', 'constant.language'], ['}', END], ['{', BRACE], ['dyn', DIRECTION],
    ['mf', 'string.unquoted.value'], ['}', END]]],
  ['{text "a } \\" # b"} 1', [['{', BRACE], ['text', DIRECTION], ['"', QUOTE], ['a }', TEXT],
    ['\\"', ESCAPE], ['# b', TEXT], ['"', UNQUOTE], ['}', END], ['1', SECOND]]],
  ['{text "open\n三', [['{', BRACE], ['text', DIRECTION], ['"', QUOTE], ['open', TEXT],
    ['三', LOW]]],
  ['{slow} 三', [['{', BRACE], ['slow', 'invalid.illegal.value'], ['}', END], ['三', LOW]]],
  ['｛ｔｅｍｐｏ　９０｝', [['｛', BRACE], ['ｔｅｍｐｏ', DIRECTION], ['９０', NUMBER], ['｝', END]]],
];

const LINES = [
  ['title: A # b', [['title', KEY], [':', IS], ['A # b', VALUE]]],
  ['title：祭', [['title', KEY], ['：', IS], ['祭', VALUE]]],
  ['\uFEFFflute: 六本調子', [['flute', KEY], [':', IS], ['六', 'constant.numeric.size'],
    ['本調子', 'keyword.other.unit']]],
  ['flute: ../my flutes/a.json', [['flute', KEY], [':', IS],
    ['../my flutes/a.json', 'string.unquoted.path']]],
  ['key: Bb', [['key', KEY], [':', IS], ['Bb', 'constant.other.pitch']]],
  ['staff: in-c', [['staff', KEY], [':', IS], ['in-c', 'constant.language']]],
  ['tuning: 442.5', [['tuning', KEY], [':', IS], ['442.5', NUMBER]]],
  ['mood: calm', [['mood', 'entity.other.attribute-name.unknown'], [':', IS], ['calm', VALUE]]],
  ['# 三 五', [['#', HASH], ['三 五', COMMENT]]],
  ['三 # 五', [['三', LOW], ['#', HASH], ['五', COMMENT]]],
  ['> み な|と', [['>', SONG], ['み', SYLLABLE], ['な', SYLLABLE], ['|', BAR], ['と', SYLLABLE]]],
  ['>2 lan- tern ~ / \\~ a‿b #', [['>', SONG], ['2', 'entity.name.section.verse'],
    ['lan', SYLLABLE], ['-', 'punctuation.separator.join'], ['tern', SYLLABLE],
    ['~', 'keyword.operator.carry-on'], ['/', 'keyword.operator.skip'], ['\\~', ESCAPE],
    ['a', SYLLABLE], ['‿', 'punctuation.separator.join'], ['b', SYLLABLE], ['#', SYLLABLE]]],
  ['>shoga オ ヒャ- ロ', [['>', SONG], ['shoga', 'entity.name.section.verse'], ['オ', SYLLABLE],
    ['ヒャ', SYLLABLE], ['-', 'punctuation.separator.join'], ['ロ', SYLLABLE]]],
];

export const CASES = [...SIGNS, ...TIME, ...FORM, ...LINES];
