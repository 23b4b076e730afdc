#include "model/excerpt.h"

#include <algorithm>
#include <string>
#include <utility>

namespace yubifu::model {
namespace {

// A half-open range of indexes of measures.
struct Window {
  std::size_t begin = 0;
  std::size_t end = 0;

  bool holds(std::size_t measure) const { return begin <= measure && measure < end; }
};

std::optional<Window> window_of(const Score& score, int first, int last) {
  const auto& measures = score.measures;
  const auto begin = std::find_if(measures.begin(), measures.end(), [&](const Measure& measure) {
    return measure.number == std::to_string(first);
  });
  const auto end = std::find_if(measures.rbegin(), measures.rend(), [&](const Measure& measure) {
    return measure.number == std::to_string(last);
  });
  if (begin == measures.end() || end == measures.rend() || begin >= end.base()) return std::nullopt;
  return Window{static_cast<std::size_t>(begin - measures.begin()),
                static_cast<std::size_t>(end.base() - measures.begin())};
}

// A note as far as it sounds in the window; nothing where it does not.
std::optional<Note> cut_note(const Note& note, const Score& score, const Window& window) {
  if (note.measure >= window.end) return std::nullopt;
  Note cut = note;
  while (cut.measure < window.begin) {
    const Rational left = score.measures[cut.measure].length - cut.onset;
    if (cut.duration <= left) return std::nullopt;
    cut.duration -= left;
    cut.onset = 0;
    ++cut.measure;
  }
  if (note.measure < window.begin) {
    cut.grace_before.clear();
    cut.syllables.clear();
  }
  Rational room;
  for (std::size_t i = cut.measure; i < window.end && room < cut.onset + cut.duration; ++i) {
    room += score.measures[i].length;
  }
  cut.duration = std::min(cut.duration, room - cut.onset);
  cut.measure -= window.begin;
  return cut;
}

void add_notes(Score& cut, const Score& score, const Window& window) {
  // Notes never overlap, so only the last one before the window can be held into it.
  auto next = std::partition_point(score.notes.begin(), score.notes.end(),
                                   [&](const Note& note) { return note.measure < window.begin; });
  if (next != score.notes.begin()) --next;
  for (; next != score.notes.end() && next->measure < window.end; ++next) {
    if (auto note = cut_note(*next, score, window)) cut.notes.push_back(std::move(*note));
  }
  if (cut.notes.empty()) return;
  // What led on to a note beyond the window leads nowhere.
  Note& last = cut.notes.back();
  last.slur_to_next = false;
  std::erase(last.marks, Mark::suri);
}

}  // namespace

std::optional<Excerpt> excerpt(const Score& score, int first, int last) {
  const auto window = window_of(score, first, last);
  if (!window) return std::nullopt;
  Score cut;
  cut.header = score.header;
  cut.song_bars = score.song_bars;
  // The flute in use at the start, and those that follow.
  const std::size_t first_flute = flute_index(score, window->begin);
  for (std::size_t i = first_flute; i < score.flutes.size(); ++i) {
    if (i > first_flute && score.flutes[i].measure >= window->end) break;
    cut.flutes.push_back(score.flutes[i]);
    cut.flutes.back().measure = i == first_flute ? 0 : score.flutes[i].measure - window->begin;
  }
  cut.measures.assign(score.measures.begin() + static_cast<std::ptrdiff_t>(window->begin),
                      score.measures.begin() + static_cast<std::ptrdiff_t>(window->end));
  cut.measures.front().break_before = LineBreak::none;
  add_notes(cut, score, *window);
  for (Rest rest : score.rests) {
    if (!window->holds(rest.measure)) continue;
    rest.measure -= window->begin;
    cut.rests.push_back(std::move(rest));
  }
  for (Direction direction : score.directions) {
    // At the start also what holds on from before.
    const bool is_before = direction.measure < window->begin && holds_on(direction.value);
    if (!is_before && !window->holds(direction.measure)) continue;
    if (is_before) direction.onset = 0;
    direction.measure = is_before ? 0 : direction.measure - window->begin;
    cut.directions.push_back(std::move(direction));
  }
  cut.verses = verses_in_use(cut);
  gather_start_into_header(cut);
  mark_irregular(cut);
  return Excerpt{std::move(cut), first_flute};
}

}  // namespace yubifu::model
