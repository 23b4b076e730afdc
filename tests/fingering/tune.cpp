#include "tune.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace yubifu::fingering {
namespace {

model::Tone fingered_tone(std::string_view text) {
  model::Tone tone;
  if (text.starts_with('?')) {
    tone.fingering = model::Fingering{};
    tone.spelling = model::parse_spelling(text.substr(1));
  } else {
    tone.fingering = model::parse_printed(text);
    // Signs that only a flute file has.
    if (!tone.fingering) tone.fingering = {model::Sign(std::string(text)), {}, 0};
  }
  return tone;
}

model::Tone pitched_tone(std::string_view text) {
  model::Tone tone;
  tone.spelling = model::parse_spelling(text);
  tone.pitch = model::Pitch{midi_key(*tone.spelling), 0};
  return tone;
}

model::Score tune_of(const std::vector<Word>& words, model::Tone (*tone_of)(std::string_view)) {
  model::Score score;
  model::Rational at;
  for (const Word& word : words) {
    model::Note note;
    note.measure = static_cast<std::size_t>((at / 4).floor());
    note.onset = at - model::Rational(4) * static_cast<std::int64_t>(note.measure);
    note.duration = word.quarters;
    note.tone = tone_of(word.text);
    score.notes.push_back(note);
    at += word.quarters;
  }
  score.measures.resize(static_cast<std::size_t>((at / 4).ceil()));
  for (model::Measure& measure : score.measures) measure.length = 4;
  number_measures(score);
  return score;
}

std::vector<std::string> map_tones(const model::Score& score,
                                   std::string (*text_of)(const model::Tone&)) {
  std::vector<std::string> texts;
  for (const model::Note& note : score.notes) {
    for (const model::Tone& tone : note.grace_before) texts.push_back(text_of(tone));
    texts.push_back(text_of(note.tone));
    for (const model::Tone& tone : note.grace_after) texts.push_back(text_of(tone));
  }
  return texts;
}

}  // namespace

model::Score tune_of_signs(const std::vector<Word>& words) {
  return tune_of(words, fingered_tone);
}

model::Score tune_of_notes(const std::vector<Word>& words) {
  return tune_of(words, pitched_tone);
}

model::Score sakura() {
  const model::Rational half(1, 2);
  model::Score score =
      tune_of_signs({{"2"},  {"2"}, {"3", 2}, {"2"},        {"2"},        {"3", 2}, {"2"},  {"3"},
                     {"4"},  {"3"}, {"2"},    {"3", half},  {"2", half},  {"0", 2}, {"六"}, {"四"},
                     {"六"}, {"0"}, {"六"},   {"六", half}, {"四", half}, {"三", 2}});
  score.header.tempo = model::Tempo{60, 1};
  return score;
}

std::vector<std::string> signs_of(const model::Score& score) {
  return map_tones(score, [](const model::Tone& tone) -> std::string {
    if (!tone.fingering) return "-";
    return tone.fingering->is_gap() ? "?" + to_text(*tone.spelling) : printed(*tone.fingering);
  });
}

std::vector<std::string> notes_of(const model::Score& score) {
  return map_tones(score, [](const model::Tone& tone) -> std::string {
    return tone.spelling ? to_text(*tone.spelling) : "-";
  });
}

std::vector<int> keys_of(const model::Score& score) {
  std::vector<int> keys;
  for (const model::Note& note : score.notes) keys.push_back(note.tone.pitch->key);
  return keys;
}

model::Score as_staff(const model::Score& resolved) {
  model::Score staff = resolved;
  staff.flutes.clear();
  const auto strip = [](model::Tone& tone) {
    tone.fingering.reset();
    tone.holes.reset();
    tone.pitch->cents = 0;
  };
  for (model::Note& note : staff.notes) {
    for (model::Tone& tone : note.grace_before) strip(tone);
    strip(note.tone);
    for (model::Tone& tone : note.grace_after) strip(tone);
  }
  return staff;
}

std::vector<std::string> rule_names(const base::Diagnostics& diagnostics) {
  std::vector<std::string> names;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    std::string name(diagnostic.rule->name);
    if (!diagnostic.measures.empty()) {
      name += fmt::format(" {}", fmt::join(diagnostic.measures, ","));
    }
    names.push_back(name);
  }
  return names;
}

}  // namespace yubifu::fingering
