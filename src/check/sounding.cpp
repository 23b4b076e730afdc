#include "check/sounding.h"

#include <algorithm>
#include <charconv>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "model/play_out.h"

namespace yubifu::check {
namespace {

using model::Note;
using model::Rational;
using model::Score;
using model::Syllable;

const Rational kGraceLength{1, 8};

int verse_number(const Syllable& syllable) {
  int number = 0;
  const std::string& name = syllable.verse;
  std::from_chars(name.data(), name.data() + name.size(), number);
  return number;
}

bool has_song(const Score& score) {
  return std::any_of(score.verses.begin(), score.verses.end(),
                     [](const std::string& verse) { return verse != model::kShogaVerse; });
}

class Sounding {
 public:
  Sounding(const Score& written, model::PlayedScore played)
      : wants_shoga_(!has_song(written)),
        times_(written.notes.size(), 0),
        played_(std::move(played)) {}

  Score run() {
    Score& score = played_.score;
    std::vector<Note> notes;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      const int pass = ++times_[played_.source[i]];
      add(score.notes[i], pass, notes);
    }
    score.notes = std::move(notes);
    score.rests.clear();
    std::erase_if(score.directions, [](const model::Direction& direction) {
      return !std::holds_alternative<model::TempoChange>(direction.value);
    });
    score.verses = verses_in_use(score);
    return std::move(score);
  }

 private:
  void add(const Note& from, int pass, std::vector<Note>& notes) const {
    const auto graces =
        static_cast<std::int64_t>(from.grace_before.size() + from.grace_after.size());
    Rational grace;
    if (graces > 0) grace = std::min(kGraceLength, from.duration / Rational(2 * graces));
    Rational at = from.onset;
    const auto push = [&](const model::Tone& tone, Rational length) {
      Note note;
      note.measure = from.measure;
      note.onset = at;
      note.duration = length;
      note.tone = tone;
      // Nobody hears how a gap is spelled, and it is no more than its pitch.
      if (tone.pitch && tone.fingering && tone.fingering->is_gap()) note.tone.spelling.reset();
      note.source = from.source;
      at += length;
      notes.push_back(std::move(note));
    };
    for (const model::Tone& tone : from.grace_before) push(tone, grace);
    push(from.tone, from.duration - grace * Rational(graces));
    add_syllable(from, pass, notes.back());
    for (const model::Tone& tone : from.grace_after) push(tone, grace);
  }

  void add_syllable(const Note& from, int pass, Note& to) const {
    const Syllable* sung = nullptr;
    for (const Syllable& syllable : from.syllables) {
      if ((syllable.verse == model::kShogaVerse) != wants_shoga_) continue;
      if (sung == nullptr || verse_number(syllable) <= pass) sung = &syllable;
    }
    if (sung == nullptr || sung->extends) return;
    to.syllables.push_back({"1", sung->text, sung->kind, false});
  }

  bool wants_shoga_;
  std::vector<int> times_;  ///< how often each written note was played so far
  model::PlayedScore played_;
};

}  // namespace

std::optional<Score> as_sounding(const Score& score) {
  auto played = model::play_out(score);
  if (!played.ok()) return std::nullopt;
  try {
    return Sounding(score, *std::move(played.value)).run();
  } catch (const model::TimeOverflow&) {
    return std::nullopt;
  }
}

}  // namespace yubifu::check
