#include "notation/writer_check.h"

#include <algorithm>
#include <vector>

#include "base/message.h"
#include "notation/characters.h"
#include "notation/lexer.h"
#include "notation/parser.h"
#include "notation/rules.h"
#include "notation/writer_report.h"
#include "notation/writer_text.h"

namespace yubifu::notation {
namespace {

// Calls `visit` with each tone and the note it belongs to, grace notes included.
template <typename Visit>
void for_each_tone(const model::Score& score, const Visit& visit) {
  for (const model::Note& note : score.notes) {
    visit(note.tone, note);
    for (const model::Tone& tone : note.grace_before) visit(tone, note);
    for (const model::Tone& tone : note.grace_after) visit(tone, note);
  }
}

bool has_fingers(const model::Tone& tone) {
  return tone.fingering && (!tone.fingering->is_gap() || tone.spelling);
}

void check_fingers(const model::Score& score, base::Diagnostics& found) {
  std::vector<std::size_t> measures;
  for_each_tone(score, [&](const model::Tone& tone, const model::Note& note) {
    if (!has_fingers(tone)) measures.push_back(note.measure);
  });
  if (measures.empty()) return;
  found.push_back(report_measures(score, rule::unfingered_note,
                                  base::message("{} notes have no fingering", measures.size()),
                                  base::message("name the flute that shall play them"), measures));
}

void check_signs(const model::Score& score, base::Diagnostics& found) {
  std::vector<std::size_t> measures;
  std::string first;
  for_each_tone(score, [&](const model::Tone& tone, const model::Note& note) {
    if (!has_fingers(tone) || tone.fingering->is_gap()) return;
    if (is_writable(*tone.fingering->sign)) return;
    if (measures.empty()) first = tone.fingering->sign->printed();
    measures.push_back(note.measure);
  });
  if (measures.empty()) return;
  found.push_back(report_measures(
      score, rule::unwritable_sign, base::message("the sign {} cannot be written", shown(first)),
      base::message("rename it in the flute file, to one letter or digit of its own"), measures));
}

void check_limits(const model::Score& score, base::Diagnostics& found) {
  if (score.measures.size() > kMostBars) {
    found.push_back(
        base::report(rule::size_limit, std::nullopt,
                     base::message("{} bars; a text holds {}", score.measures.size(), kMostBars),
                     base::message("cut the score into several files")));
  }
  std::vector<std::size_t> too_long;
  for (const model::Direction& direction : score.directions) {
    const bool fits = direction_text(direction.value, 0).size() <= kLongestToken;
    if (!fits) too_long.push_back(direction.measure);
  }
  if (too_long.empty()) return;
  found.push_back(report_measures(
      score, rule::size_limit, base::message("a direction is longer than {} bytes", kLongestToken),
      base::message("shorten it"), too_long));
}

}  // namespace

base::Diagnostics check_writable(const model::Score& score) {
  base::Diagnostics found;
  const bool has_words = std::any_of(
      score.measures.begin(), score.measures.end(),
      [](const model::Measure& measure) { return measure.length > model::Rational(0); });
  if (!has_words) {
    found.push_back(
        base::report(rule::no_words, std::nullopt,
                     base::message("the score has nothing to write: no bar of any length"),
                     base::message("write at least one bar of rest")));
  }
  check_fingers(score, found);
  check_signs(score, found);
  check_limits(score, found);
  return found;
}

}  // namespace yubifu::notation
