// Tokens to a tree: bars of words, groups and free-standing braces. Nothing in it is interpreted
// yet; the texts are found through their ranges.
#pragma once

#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

#include "base/source_text.h"
#include "model/rational.h"
#include "model/score.h"
#include "notation/read/lexer.h"
#include "notation/spelling.h"

namespace yubifu::notation {

/// A sign, hold, rest, gap or `%` with what is attached to it.
struct Word {
  base::SourceRange range;      ///< of the characters, without the attachments
  std::vector<Token> attached;  ///< directly after it: marks in braces, and `~`
};

/// A brace that stands free.
struct FreeBrace {
  base::SourceRange range;
  std::optional<base::SourceRange> glued_to;  ///< the word directly behind it, if any
};

/// A word that has been reported and lasts one beat.
struct BrokenWord {
  base::SourceRange range;
};

struct Item;

/// Brackets. `length` counts words of the row it stands in: 1, N of `(…):N`, or n/d.
struct Group {
  base::SourceRange range;
  std::vector<Item> items;
  model::Rational length = 1;
};

/// What stands in a row: words and free braces.
struct Item {
  std::variant<Word, Group, FreeBrace, BrokenWord> value;
};

/// True for everything that lasts, free braces excepted.
bool is_word(const Item& item);

/// Its place in the text.
base::SourceRange range_of(const Item& item);

/// The words between two boundaries. A bar of the tree has at least one word.
struct Bar {
  std::vector<FreeBrace> between;  ///< braces that stand among the bar signs before it
  std::vector<Item> items;
  BarSign end;                   ///< style, repeat end and count at its end
  bool repeat_start = false;     ///< at its start
  base::SourceRange start_sign;  ///< of the repeat start
  bool broken = false;           ///< a fault in it has been reported: its length means nothing
  model::LineBreak break_before = model::LineBreak::none;
  base::SourceRange range;
};

/// `key: value`, both without the white space around them.
struct HeaderLine {
  base::SourceRange key;
  base::SourceRange value;
};

/// A comment from its # on.
struct PlacedComment {
  std::optional<std::size_t> after_bar;  ///< none for a comment of the header
  bool own_line = true;
  bool blank_before = false;
  base::SourceRange range;
};

/// A line of song text from its > on.
struct SongLine {
  base::SourceRange range;
  std::optional<base::SourceRange> music;  ///< the line of music above it
};

/// A whole text.
struct Tree {
  std::vector<HeaderLine> header;
  std::vector<Bar> bars;
  std::vector<FreeBrace> trailing;  ///< braces after the last bar
  std::vector<PlacedComment> comments;
  std::vector<SongLine> songs;
  std::vector<base::SourceRange> music_lines;  ///< in order
  std::size_t word_count = 0;                  ///< of signs, holds and rests
};

/// Groups the tokens of `source` into bars. Reports brackets that do not pair, groups without two
/// words, lengths of groups, missing spaces, bar signs without a bar and late header lines, and
/// goes on at the next bar.
Tree parse(const base::SourceText& source, const std::vector<Token>& tokens, Reports& reports);

}  // namespace yubifu::notation
