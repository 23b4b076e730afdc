#include "model/excerpt.h"

#include <algorithm>
#include <string>
#include <utility>
#include <variant>

namespace yubifu::model {
namespace {

// A half-open range of indexes of measures.
struct Window {
  std::size_t begin = 0;
  std::size_t end = 0;

  bool holds(std::size_t measure) const { return begin <= measure && measure < end; }
};

std::optional<Window> window_of(const Score& score, int first, int last) {
  const auto numbered = [](int number) {
    return
        [text = std::to_string(number)](const Measure& measure) { return measure.number == text; };
  };
  const auto& measures = score.measures;
  const auto begin = std::find_if(measures.begin(), measures.end(), numbered(first));
  const auto end = std::find_if(measures.rbegin(), measures.rend(), numbered(last));
  if (begin == measures.end() || end == measures.rend() || begin >= end.base()) return std::nullopt;
  return Window{static_cast<std::size_t>(begin - measures.begin()),
                static_cast<std::size_t>(end.base() - measures.begin())};
}

// Whether a change holds on from where it stands, until the next one.
bool holds_on(const Direction& direction) {
  return std::holds_alternative<TempoChange>(direction.value) ||
         std::holds_alternative<KeyChange>(direction.value) ||
         std::holds_alternative<FluteChange>(direction.value);
}

// Those of the window, and at its start what holds on from before.
void add_directions(Score& cut, const Score& score, const Window& window) {
  for (Direction direction : score.directions) {
    if (direction.measure < window.begin && holds_on(direction)) {
      direction.measure = 0;
      direction.onset = 0;
    } else if (window.holds(direction.measure)) {
      direction.measure -= window.begin;
    } else {
      continue;
    }
    cut.directions.push_back(std::move(direction));
  }
}

// The flute in use at the start, and those that follow.
void set_flutes(Score& cut, const Score& score, const Window& window) {
  if (score.flutes.empty()) return;
  const std::size_t first = flute_index(score, window.begin);
  for (std::size_t i = first; i < score.flutes.size(); ++i) {
    FluteInUse flute = score.flutes[i];
    if (i > first && flute.measure >= window.end) break;
    flute.measure = i == first ? 0 : flute.measure - window.begin;
    cut.flutes.push_back(std::move(flute));
  }
}

// A note as far as it sounds in the window; nothing where it does not.
std::optional<Note> cut_note(const Note& note, const Score& score, const Window& window) {
  if (note.measure >= window.end) return std::nullopt;
  Note cut = note;
  while (cut.measure < window.begin) {
    const Rational left = score.measures[cut.measure].length - cut.onset;
    if (cut.duration <= left) return std::nullopt;
    cut.duration = cut.duration - left;
    cut.onset = 0;
    ++cut.measure;
  }
  if (note.measure < window.begin) {
    cut.grace_before.clear();
    cut.syllables.clear();
  }
  Rational room;
  for (std::size_t i = cut.measure; i < window.end && room < cut.onset + cut.duration; ++i) {
    room = room + score.measures[i].length;
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
  last.marks.erase(std::remove(last.marks.begin(), last.marks.end(), Mark::suri), last.marks.end());
}

}  // namespace

std::optional<Excerpt> excerpt(const Score& score, int first, int last) {
  const auto window = window_of(score, first, last);
  if (!window) return std::nullopt;
  Score cut;
  cut.header = score.header;
  cut.song_bars = score.song_bars;
  set_flutes(cut, score, *window);
  cut.measures.assign(score.measures.begin() + static_cast<std::ptrdiff_t>(window->begin),
                      score.measures.begin() + static_cast<std::ptrdiff_t>(window->end));
  cut.measures.front().break_before = LineBreak::none;
  add_notes(cut, score, *window);
  for (Rest rest : score.rests) {
    if (!window->holds(rest.measure)) continue;
    rest.measure -= window->begin;
    cut.rests.push_back(std::move(rest));
  }
  add_directions(cut, score, *window);
  cut.verses = verses_in_use(cut);
  gather_start_into_header(cut);
  mark_irregular(cut);
  return Excerpt{std::move(cut), flute_index(score, window->begin)};
}

}  // namespace yubifu::model
