// Vocabularies: two-way tables between values and words, and the word that a wrong one may mean.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

namespace yubifu::base {

template <typename Value>
struct WordRow {
  Value value;
  std::string_view word;
};

/// One vocabulary. A value may have several words (the first is the one written), a word has one
/// value.
template <typename Value, std::size_t size>
struct WordTable {
  std::array<WordRow<Value>, size> rows;

  /// The first word of a value; empty for a value without one.
  constexpr std::string_view word_of(const Value& value) const {
    for (const WordRow<Value>& row : rows) {
      if (row.value == value) return row.word;
    }
    return {};
  }

  /// The value of exactly this word; nothing for an unknown word.
  constexpr std::optional<Value> value_of(std::string_view word) const {
    for (const WordRow<Value>& row : rows) {
      // To compare all characters is a call, which most words are spared.
      const bool alike = row.word.size() == word.size() && (word.empty() || row.word[0] == word[0]);
      if (alike && row.word == word) return row.value;
    }
    return std::nullopt;
  }

  /// All words in the order of the table.
  std::vector<std::string_view> words() const {
    std::vector<std::string_view> words;
    for (const WordRow<Value>& row : rows) words.push_back(row.word);
    return words;
  }
};

/// A table of as many rows as are given: `word_table<Mode>({{Mode::major, "major"}, …})`.
template <typename Value, std::size_t size>
constexpr WordTable<Value, size> word_table(const WordRow<Value> (&rows)[size]) {
  return {std::to_array(rows)};
}

/// True for rows in the order of the enumeration of a member: a value is then the index of its row.
template <typename Rows, typename Row, typename Value>
constexpr bool is_in_order(const Rows& rows, Value Row::*member) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (static_cast<std::size_t>(rows[i].*member) != i) return false;
  }
  return true;
}

/// The candidate with the fewest edits of one code point (insertions, deletions, replacements and
/// swaps of neighbours), if those are at most a third of the word's code points, or one, and do not
/// replace the whole candidate. The first of equals; words over 64 code points are not compared.
std::optional<std::string_view> nearest_word(std::string_view word,
                                             const std::vector<std::string_view>& candidates);

}  // namespace yubifu::base
