#include "check/other_flute.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/message.h"
#include "fingering/flute_line.h"
#include "fingering/key.h"

namespace yubifu::check {
namespace {

using base::message;
using model::Note;
using model::Score;

constexpr double kSemitone = 100;
constexpr double kWholeSemitone = 0.05;  // cents beside it that a message does not tell

std::string distance_text(double cents) {
  const double whole = std::round(cents / kSemitone);
  if (std::abs(cents - kSemitone * whole) >= kWholeSemitone) {
    return message("{:.1f} cents", std::abs(cents));
  }
  const auto semitones = static_cast<int>(std::abs(whole));
  return semitones == 1 ? message("1 semitone") : message("{} semitones", semitones);
}

bool same_fingers(const model::Tone& a, const model::Tone& b) {
  if (!a.fingering || !b.fingering || !a.pitch || !b.pitch) return false;
  return *a.fingering == *b.fingering || (a.fingering->is_gap() && b.fingering->is_gap());
}

// By how many cents the second score sounds higher as a whole, with the same fingers.
std::optional<double> higher_by(const Score& a, const Score& b, double tolerance) {
  std::optional<double> higher;
  for (std::size_t i = 0; i < a.notes.size(); ++i) {
    const model::Tone& here = a.notes[i].tone;
    const model::Tone& there = b.notes[i].tone;
    if (!same_fingers(here, there)) return std::nullopt;
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

void move_keys(Score& score, int semitones) {
  if (score.header.key) score.header.key = fingering::moved_key(*score.header.key, semitones);
  for (model::Direction& direction : score.directions) {
    auto* change = std::get_if<model::KeyChange>(&direction.value);
    if (change != nullptr) change->key = fingering::moved_key(change->key, semitones);
  }
}

}  // namespace

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
  move_keys(moved.score, -static_cast<int>(std::lround(*higher / kSemitone)));
  const auto named = fingering::named_flutes(score, score.flutes.front().name);
  const auto flutes = fingering::replaced(named, flute.name, score);
  if (flutes.value) fingering::write_names(moved.score, *flutes.value);
  moved.score.flutes.front().title = flute.title;
  return moved;
}

}  // namespace yubifu::check
