#include "notation/reading.h"

#include <algorithm>
#include <type_traits>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "model/words.h"
#include "notation/read/reader.h"
#include "support/invariants.h"
#include "support/text.h"

namespace yubifu::notation {
namespace {

std::string told(const model::Tone& tone) {
  if (!tone.fingering) return "nothing";
  if (!tone.fingering->is_gap()) return model::printed(*tone.fingering);
  std::string text = "?" + model::to_text(tone.spelling.value());
  const int bend = tone.fingering->bend_cents;
  return bend == 0 ? text : text + fmt::format("{:+}", bend);
}

std::string told(const model::DirectionValue& value) {
  return std::visit(
      [](const auto& direction) -> std::string {
        using T = std::decay_t<decltype(direction)>;
        if constexpr (std::is_same_v<T, model::TempoChange>) {
          return "tempo " + model::to_text(direction.tempo, 0);
        } else if constexpr (std::is_same_v<T, model::BeatChange>) {
          return "beat " + model::beat_text(direction.beat);
        } else if constexpr (std::is_same_v<T, model::KeyChange>) {
          return "key " + model::to_text(direction.key);
        } else if constexpr (std::is_same_v<T, model::FluteChange>) {
          return "flute " + model::to_text(direction.flute);
        } else if constexpr (std::is_same_v<T, model::SectionStart>) {
          return "section " + direction.name;
        } else if constexpr (std::is_same_v<T, model::TextDirection>) {
          return "text " + direction.text;
        } else if constexpr (std::is_same_v<T, model::Dynamic>) {
          return "dyn " + direction.level;
        } else {
          return std::string(model::word_of(direction));
        }
      },
      value);
}

}  // namespace

std::vector<std::string> Reading::findings() const {
  return support::short_forms(outcome.diagnostics, source);
}

std::string Reading::first_message() const {
  if (outcome.diagnostics.empty()) return {};
  const base::Diagnostic& first = outcome.diagnostics.front();
  return first.message + " / " + first.hint;
}

Reading read(const std::string& text) {
  Reading reading{base::SourceText("tune.yubifu", text), {}};
  reading.outcome = read_notation(reading.source);
  if (reading.outcome.ok()) {
    EXPECT_EQ(support::broken_invariants(reading.score()), std::vector<std::string>{}) << text;
  }
  return reading;
}

std::vector<std::string> notes(const Reading& reading) {
  std::vector<std::string> list;
  for (const model::Note& note : reading.score().notes) {
    list.push_back(fmt::format("{} {}+{} {}", note.measure, model::to_text(note.onset),
                               model::to_text(note.duration), told(note.tone)));
  }
  return list;
}

std::vector<std::string> notes_of(const std::string& text) {
  const Reading reading = read(text);
  EXPECT_EQ(reading.findings(), std::vector<std::string>{}) << text << reading.first_message();
  return notes(reading);
}

std::string signs_of(const std::string& text) {
  const Reading reading = read(text);
  std::string signs;
  for (const model::Note& note : reading.score().notes) {
    signs += (signs.empty() ? "" : " ") + told(note.tone);
  }
  return signs;
}

std::vector<std::string> directions(const Reading& reading) {
  std::vector<std::string> list;
  for (const model::Direction& direction : reading.score().directions) {
    list.push_back(fmt::format("{} {} {}", direction.measure, model::to_text(direction.onset),
                               told(direction.value)));
  }
  return list;
}

std::string song(const Reading& reading, const std::string& verse) {
  std::string text;
  for (const model::Note& note : reading.score().notes) {
    std::string word = "/";
    for (const model::Syllable& syllable : note.syllables) {
      if (syllable.verse != verse) continue;
      const bool after =
          syllable.kind == model::SyllableKind::middle || syllable.kind == model::SyllableKind::end;
      const bool before = syllable.kind == model::SyllableKind::begin ||
                          syllable.kind == model::SyllableKind::middle;
      word = syllable.extends ? "~" : (after ? "-" : "") + syllable.text + (before ? "-" : "");
    }
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

}  // namespace yubifu::notation
