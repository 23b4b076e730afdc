#include "notation/tune.h"

#include <algorithm>
#include <stdexcept>

namespace yubifu::notation {
namespace {

std::vector<std::string> split(std::string_view words) {
  std::vector<std::string> list;
  while (!words.empty()) {
    const std::size_t end = std::min(words.find(' '), words.size());
    if (end > 0) list.emplace_back(words.substr(0, end));
    words.remove_prefix(std::min(end + 1, words.size()));
  }
  return list;
}

}  // namespace

Tune& Tune::bar(std::string_view words) {
  model::Measure measure;
  measure.number = std::to_string(score.measures.size() + 1);
  measure.meter = meter_;
  measure.beat = model::default_beat(meter_);
  score.measures.push_back(measure);
  for (const std::string& word : split(words)) add_word(word);
  return *this;
}

void Tune::add_word(std::string_view word) {
  const std::size_t colon = word.find(':');
  const std::string_view sign = word.substr(0, colon);
  model::Rational length = 1;
  if (colon != std::string_view::npos) length = *model::parse_rational(word.substr(colon + 1));
  if (sign == "-") {
    score.notes.back().duration += length;
  } else if (sign != "・") {
    model::Note note;
    note.measure = score.measures.size() - 1;
    note.onset = last().length;
    note.duration = length;
    note.tone.fingering = model::parse_printed(sign);
    if (!note.tone.fingering) throw std::invalid_argument(std::string(word));
    score.notes.push_back(note);
  }
  last().length += length;
}

Tune& Tune::direct(model::Rational onset, model::DirectionValue value) {
  score.directions.push_back({score.measures.size() - 1, onset, std::move(value), {}});
  return *this;
}

Tune& Tune::sing(const std::string& verse, std::size_t first, std::string_view words) {
  if (std::find(score.verses.begin(), score.verses.end(), verse) == score.verses.end()) {
    score.verses.push_back(verse);
  }
  bool joined = false;
  for (const std::string& word : split(words)) {
    model::Note& note = score.notes.at(first++);
    if (word == "/") continue;
    if (word == "~") {
      note.syllables.push_back({verse, "", model::SyllableKind::single, true});
      continue;
    }
    const bool joins = word.size() > 1 && word.back() == '-';
    using model::SyllableKind;
    const SyllableKind kind = joined ? (joins ? SyllableKind::middle : SyllableKind::end)
                                     : (joins ? SyllableKind::begin : SyllableKind::single);
    note.syllables.push_back({verse, joins ? word.substr(0, word.size() - 1) : word, kind, false});
    joined = joins;
  }
  return *this;
}

}  // namespace yubifu::notation
