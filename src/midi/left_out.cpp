#include "midi/left_out.h"

#include <map>
#include <set>
#include <string_view>
#include <variant>

#include "base/diagnostic.h"
#include "base/message.h"
#include "midi/rules.h"
#include "model/words.h"

namespace yubifu::midi {
namespace {

bool is_heard(model::Mark mark) {
  return mark == model::Mark::fermata || mark == model::Mark::accent;
}

// What is left out, and the bars where.
class LeftOut {
 public:
  explicit LeftOut(const model::Score& score) : score_(score) {}

  void add(std::string_view what, std::size_t measure) { measures_[what].insert(measure); }

  void marks(const std::vector<model::Mark>& list, std::size_t measure) {
    for (const model::Mark mark : list) {
      if (!is_heard(mark)) add(word_of(mark), measure);
    }
  }

  void report(base::Diagnostics& diagnostics) const {
    for (const auto& [what, measures] : measures_) {
      std::vector<std::string> bars;
      for (const std::size_t measure : measures) {
        const std::string& number = score_.measures[measure].number;
        if (bars.empty() || bars.back() != number) bars.push_back(number);
      }
      diagnostics.push_back(
          base::report(rule::mark_left_out, {},
                       base::message("a MIDI file has no {}: left out in {}",
                                     base::translated(what), base::bar_list(bars))));
      diagnostics.back().measures = bars;
    }
  }

 private:
  const model::Score& score_;
  std::map<std::string_view, std::set<std::size_t>> measures_;
};

std::size_t comment_count(const model::Score& score) {
  std::size_t count = score.header.comments.size();
  for (const model::Measure& measure : score.measures) count += measure.comments.size();
  return count;
}

// The verses that the file says nothing of.
std::vector<std::string> silent_verses(const model::Score& score, Lyrics lyrics) {
  std::vector<std::string> silent;
  for (const std::string& verse : score.verses) {
    const bool sung =
        verse == model::kShogaVerse ? lyrics == Lyrics::shoga : lyrics == Lyrics::song;
    if (!sung) silent.push_back(verse);
  }
  return silent;
}

}  // namespace

void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics) {
  LeftOut left_out(score);
  for (const model::Note& note : score.notes) {
    left_out.marks(note.marks, note.measure);
    if (note.slur_to_next) left_out.add(base::catalogued("slur"), note.measure);
    if (note.asked_holes) left_out.add(base::catalogued("hole pattern"), note.measure);
  }
  for (const model::Rest& rest : score.rests) left_out.marks(rest.marks, rest.measure);
  for (const model::Direction& direction : score.directions) {
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    if (cue != nullptr && *cue == model::Cue::caesura)
      left_out.add(word_of(*cue), direction.measure);
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    if (dynamic != nullptr && !model::dynamic_meaning(dynamic->level)) {
      left_out.add(dynamic->level, direction.measure);
    }
  }
  left_out.report(diagnostics);
  if (const auto silent = silent_verses(score, lyrics); !silent.empty()) {
    std::string names;
    for (const std::string& verse : silent)
      names += (names.empty() ? "" : ", ") + base::message("verse {}", verse);
    diagnostics.push_back(base::report(
        rule::verse_left_out, {},
        base::message("a MIDI file holds one text under its notes; left out: {}", names),
        base::message("--lyrics fingering, song or shoga chooses the text")));
  }
  if (const std::size_t count = comment_count(score); count != 0) {
    diagnostics.push_back(
        base::report(rule::comment_left_out, {},
                     base::message("a MIDI file has no comments: {} left out", count)));
  }
}

}  // namespace yubifu::midi
