// A score as it sounds, and with the same fingers on another flute.
#include <algorithm>
#include <cmath>
#include <variant>

#include "base/message.h"
#include "check/comparison.h"
#include "fingering/flute_line.h"
#include "model/pitch.h"
#include "model/play_out.h"

namespace yubifu::check {
namespace {

using base::message;
using model::Note;
using model::Rational;
using model::Score;
using model::Syllable;

const Rational kGraceLength{1, 8};

// The note and its grace notes one after another, with what is sung.
void add_tones(const Note& from, const Syllable* sung, std::vector<Note>& notes) {
  const auto graces = static_cast<std::int64_t>(from.grace_count());
  Rational grace;
  if (graces > 0) grace = std::min(kGraceLength, from.duration / Rational(2 * graces));
  Rational at = from.onset;
  for_each_tone(from, [&](const model::Tone& tone) {
    const bool is_main = &tone == &from.tone;
    Note& note = notes.emplace_back();
    note.measure = from.measure;
    note.onset = at;
    note.duration = is_main ? from.duration - grace * Rational(graces) : grace;
    note.tone = tone;
    // Nobody hears how a gap is spelled, and it is no more than its pitch.
    if (tone.pitch && tone.fingering && tone.fingering->is_gap()) note.tone.spelling.reset();
    if (is_main && sung != nullptr && !sung->extends) {
      note.syllables.push_back({"1", sung->text, sung->kind, false});
    }
    note.source = from.source;
    at += note.duration;
  });
}

constexpr double kWholeSemitone = 0.05;  // cents beside it that a message does not tell

std::string distance_text(double cents) {
  const double whole = std::round(cents / model::kSemitoneCents);
  if (std::abs(cents - model::kSemitoneCents * whole) >= kWholeSemitone) {
    return message("{:.1f} cents", std::abs(cents));
  }
  const auto semitones = static_cast<int>(std::abs(whole));
  return semitones == 1 ? message("1 semitone") : message("{} semitones", semitones);
}

// By how many cents the second score sounds higher as a whole, with the same fingers.
std::optional<double> higher_by(const Score& a, const Score& b, double tolerance) {
  std::optional<double> higher;
  for (std::size_t i = 0; i < a.notes.size(); ++i) {
    const model::Tone& here = a.notes[i].tone;
    const model::Tone& there = b.notes[i].tone;
    if (!here.fingering || !there.fingering || !here.pitch || !there.pitch) return std::nullopt;
    const bool gaps = here.fingering->is_gap() && there.fingering->is_gap();
    if (!gaps && *here.fingering != *there.fingering) return std::nullopt;
    const double apart = there.pitch->total_cents() - here.pitch->total_cents();
    if (!higher) higher = apart;
    if (std::abs(apart - *higher) > tolerance) return std::nullopt;
  }
  if (higher && std::abs(*higher) <= tolerance) return std::nullopt;
  return higher;
}

void take_sound(const model::Tone& from, model::Tone& to) {
  to.pitch = from.pitch;
  to.spelling = from.spelling;
  if (to.fingering && to.fingering->is_gap()) to.fingering = from.fingering;
}

void take_sound(const Note& from, Note& to) {
  take_sound(from.tone, to.tone);
  for (const auto graces : {&Note::grace_before, &Note::grace_after}) {
    const std::size_t count = std::min((from.*graces).size(), (to.*graces).size());
    for (std::size_t i = 0; i < count; ++i) take_sound((from.*graces)[i], (to.*graces)[i]);
  }
}

}  // namespace

std::optional<Score> as_sounding(const Score& score) {
  auto played = model::play_out(score);
  if (!played.ok()) return std::nullopt;
  Score& sounding = played.value->score;
  const bool has_song =
      std::any_of(score.verses.begin(), score.verses.end(),
                  [](const std::string& verse) { return verse != model::kShogaVerse; });
  std::vector<int> passes(score.notes.size(), 0);  // how often each written note was played so far
  std::vector<Note> notes;
  try {
    for (std::size_t i = 0; i < sounding.notes.size(); ++i) {
      const Note& note = sounding.notes[i];
      const int pass = ++passes[played.value->source[i]];
      const Syllable* sung =
          has_song ? sung_in_pass(note, pass) : note.syllable_of(model::kShogaVerse);
      add_tones(note, sung, notes);
    }
  } catch (const model::TimeOverflow&) {
    return std::nullopt;
  }
  sounding.notes = std::move(notes);
  sounding.rests.clear();
  std::erase_if(sounding.directions, [](const model::Direction& direction) {
    return !std::holds_alternative<model::TempoChange>(direction.value);
  });
  sounding.verses = verses_in_use(sounding);
  return std::move(sounding);
}

std::optional<OnOtherFlute> on_flute_of(const Score& other, const Score& score, double tolerance) {
  if (other.flutes.empty() || score.flutes.empty()) return std::nullopt;
  const model::FluteInUse& flute = other.flutes.front();
  if (flute.title == score.flutes.front().title) return std::nullopt;
  if (other.notes.size() != score.notes.size()) return std::nullopt;
  const auto higher = higher_by(other, score, tolerance);
  if (!higher) return std::nullopt;
  const std::string distance = distance_text(*higher);
  OnOtherFlute moved{
      score, *higher > 0 ? message("same fingers, another flute: all sounds {} higher", distance)
                         : message("same fingers, another flute: all sounds {} lower", distance)};
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    take_sound(other.notes[i], moved.score.notes[i]);
  }
  model::move_keys(moved.score, -static_cast<int>(std::lround(*higher / model::kSemitoneCents)));
  const auto named = fingering::named_flutes(score, score.flutes.front().name);
  const auto flutes = fingering::replaced(named, flute.name, score);
  if (flutes.value) fingering::write_names(moved.score, *flutes.value);
  moved.score.flutes.front().title = flute.title;
  return moved;
}

}  // namespace yubifu::check
