// The words, signs and punctuation of the fingering text in their canonical form, one two-way table
// for each vocabulary: reader and writer share them. Look-alikes and full-width forms are read in
// read/sign_reader. The functions that take a word read exactly the words that `word_of` gives.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/word_table.h"
#include "model/header.h"
#include "model/score.h"
#include "model/words.h"

namespace yubifu::notation {

inline constexpr std::string_view kRest = "・";
inline constexpr std::string_view kRestAscii = ".";
inline constexpr std::string_view kHold = "-";
inline constexpr std::string_view kSlur = "~";

using model::header_key;
using model::header_words;
using model::HeaderKey;
using model::word_of;

/// True for what may stand before the colon of a header line: no white space and none of
/// `:#>(){}|"~`, not empty.
bool may_be_header_key(std::string_view word);

/// Reads the word of a mark (model/words.h) or one of its Japanese aliases (打 打ち 指打ち, 上
/// 指上げ, スリ, ユリ, 息, 延).
std::optional<model::Mark> mark(std::string_view word);

/// Marks with a value: {pre 六 七}, {post 六}, {holes ○●●●●●○}.
enum class ValuedMark { pre, post, holes };

inline constexpr auto kValuedMarks = base::word_table<ValuedMark>(
    {{ValuedMark::pre, "pre"}, {ValuedMark::post, "post"}, {ValuedMark::holes, "holes"}});

/// Every word of a mark, aliases left out: for "did you mean".
std::vector<std::string_view> mark_words();

/// The words that open a free-standing brace beside those of model::Direction.
inline constexpr std::string_view kIrregular = "irregular";  ///< {irregular}, first in its bar
inline constexpr std::string_view kEnding = "ending";        ///< {ending 1,3} or {ending end}
inline constexpr std::string_view kMeter = "meter";          ///< {meter 3/4}

/// The value of {ending …} that closes an ending.
inline constexpr std::string_view kEndingEnd = "end";

/// Every word that may open a free-standing brace: for "did you mean".
std::vector<std::string_view> direction_words();

/// In double quotes; `"` and `\` inside take a backslash.
std::string quoted(std::string_view text);

/// The text of a value that is all one quoted string, escapes undone; nothing for another value.
std::optional<std::string> unquoted(std::string_view value);

/// A value that needs no quotes ({dyn mf}, {flute 7}) stands bare, another one in quotes. Bare
/// values are letters, digits and `-+./_`.
std::string bare_or_quoted(std::string_view text);

/// `{word}`, or `{word value}`.
std::string braced(std::string_view word, std::string_view value = {});

/// What stands between two bars. Signs with no word between them are one boundary: of `|`, `||`
/// and `|=` the strongest counts, repeat signs are added to it (`:| |:`, `:| ||`).
struct BarSign {
  model::BarStyle style = model::BarStyle::regular;
  bool repeat_end = false;
  int times = 2;  ///< `:|x3`; with repeat_end
  bool repeat_start = false;

  friend bool operator==(const BarSign&, const BarSign&) = default;
};

inline constexpr std::string_view kRepeatStart = "|:";

/// The printed signs; the count `x3` is the lexer's.
inline constexpr auto kBarSigns = base::word_table<BarSign>({
    {{.style = model::BarStyle::section}, "||"},
    {{.style = model::BarStyle::final}, "|="},
    {{.repeat_start = true}, kRepeatStart},
    {{.repeat_end = true}, ":|"},
    {{}, "|"},
});

/// What ends a bar, without the repeat start after it: "|", "||", ":|x3", ":| |=".
std::string bar_end_text(const BarSign& sign);

inline constexpr std::string_view kSongLine = ">";
inline constexpr std::string_view kSkipNote = "/";
inline constexpr std::string_view kCarryOn = "~";
inline constexpr std::string_view kJoin = "-";
inline constexpr std::string_view kSongBar = "|";

/// ">" for verse "1", ">2", ">shoga".
std::string song_label(std::string_view verse);

/// The verse of a label such as ">2"; nothing for another word. ">1" is read as ">".
std::optional<std::string> verse_of_label(std::string_view label);

/// A syllable as one word of a song line: a backslash before white space, `|`, `\`, before `~` or
/// `/` at its start and before a `-` at its end.
std::string song_word(std::string_view syllable);

}  // namespace yubifu::notation
