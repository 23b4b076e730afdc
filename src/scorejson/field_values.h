// Members of a score JSON as values of the model; whatever is wrong with one is reported at its
// place.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/json.h"
#include "model/fingering.h"
#include "model/rational.h"

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

}  // namespace yubifu::scorejson
