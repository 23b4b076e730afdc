// The parts of a score JSON that are read: members as values of the model, and the notes. Whatever
// is wrong with one is reported at its place.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/json.h"
#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::scorejson {

using base::JsonFields;
using base::JsonValue;
using base::Presence;

/// Calls `read` with each entry of a member that is an array.
template <typename Read>
void for_each_in(JsonFields& fields, std::string_view key, const Read& read,
                 Presence presence = Presence::optional) {
  const base::JsonArray* list = fields.array(key, presence);
  if (list == nullptr) return;
  for (const JsonValue& one : *list) read(one);
}

/// Quarter notes as "3/2".
std::optional<model::Rational> time_field(JsonFields& fields, std::string_view key,
                                          Presence presence = Presence::optional);

/// "cents", the deviation from a MIDI key: -50 to 50.
std::optional<double> cents_field(JsonFields& fields);

/// Reports that a member's text is none of the words it may be, and names the nearest of them.
void report_word(JsonFields& fields, std::string_view key, const std::string& text,
                 const std::vector<std::string_view>& words);

/// A member that is one of a few words. `named` looks a word up.
template <typename Named>
auto word_field(JsonFields& fields, std::string_view key, Named named,
                const std::vector<std::string_view>& words, Presence presence = Presence::optional)
    -> decltype(named(std::string_view())) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  auto value = named(*text);
  if (!value) report_word(fields, key, *text, words);
  return value;
}

/// The same for the words of a table.
template <typename Value, std::size_t size>
std::optional<Value> word_field(JsonFields& fields, std::string_view key,
                                const base::WordTable<Value, size>& table,
                                base::Presence presence = base::Presence::optional) {
  const auto named = [&](std::string_view word) { return table.value_of(word); };
  return word_field(fields, key, named, table.words(), presence);
}

/// Adds a note to the score, whose measures are there already and begin at `starts`. Its source is
/// the place of its object. Throws TimeOverflow.
void read_note(const JsonValue& value, const std::vector<model::Rational>& starts,
               model::Score& score, base::Diagnostics& diagnostics);

/// The same for a marked rest.
void read_rest(const JsonValue& value, const std::vector<model::Rational>& starts,
               model::Score& score, base::Diagnostics& diagnostics);

}  // namespace yubifu::scorejson
