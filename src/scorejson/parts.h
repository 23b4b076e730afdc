// The parts of a score JSON that are read: members as values of the model, measures, notes.
// Whatever is wrong with one is reported at its place.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/json.h"
#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::scorejson {

/// Quarter notes as "3/2".
std::optional<model::Rational> time_field(base::JsonFields& fields, std::string_view key,
                                          base::Presence presence = base::Presence::optional);

/// "cents", the deviation from a MIDI key: -50 to 50.
std::optional<double> cents_field(base::JsonFields& fields);

/// ●○◐◎, from the mouth end to the foot.
std::optional<model::HolePattern> holes_field(base::JsonFields& fields, std::string_view key,
                                              base::Presence presence = base::Presence::optional);

/// Reports that a member's text is none of the words it may be, and names the nearest of them.
void report_word(base::JsonFields& fields, std::string_view key, const std::string& text,
                 const std::vector<std::string_view>& words);

/// A member that is one of a few words. `named` looks a word up.
template <typename Named>
auto word_field(base::JsonFields& fields, std::string_view key, Named named,
                const std::vector<std::string_view>& words,
                base::Presence presence = base::Presence::optional)
    -> decltype(named(std::string_view())) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  auto value = named(*text);
  if (!value) report_word(fields, key, *text, words);
  return value;
}

/// The same for the words of a table.
template <typename Value, std::size_t size>
std::optional<Value> word_field(base::JsonFields& fields, std::string_view key,
                                const base::WordTable<Value, size>& table,
                                base::Presence presence = base::Presence::optional) {
  const auto named = [&](std::string_view word) { return table.value_of(word); };
  return word_field(fields, key, named, table.words(), presence);
}

/// Adds the measures of the array to the score and gives the time at which each begins. A measure
/// that does not say so is irregular where the rules of the notation make it so; measures without
/// numbers are numbered when none has one. Throws TimeOverflow.
std::vector<model::Rational> read_measures(const base::JsonArray& array, model::Score& score,
                                           base::Diagnostics& diagnostics);

/// Adds the notes of the array to the score, whose measures are there already and begin at
/// `starts`. Each note's source is its object's place.
void read_notes(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics);

/// The same for marked rests.
void read_rests(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics);

}  // namespace yubifu::scorejson
