// The walk through the measures of a score, with repeats taken and jumps followed.
#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

#include "base/message.h"
#include "model/play_out.h"
#include "model/rules.h"

namespace yubifu::model {
namespace {

// A repeat with its endings: measures [first, end).
struct RepeatGroup {
  std::size_t first = 0;
  std::size_t end = 0;
  int passes = 2;  // how often the whole is played
};

// The endings after a repeat sign belong to it, up to a new start or an ending of the first time.
std::size_t end_of_group(const std::vector<Measure>& measures, std::size_t with_repeat_end) {
  std::size_t end = with_repeat_end + 1;
  if (measures[with_repeat_end].ending.empty()) return end;
  const auto goes_on = [](const Measure& here) {
    return !here.ending.empty() && !here.repeat_start && here.ending.front() != 1;
  };
  while (end < measures.size() && goes_on(measures[end])) ++end;
  return end;
}

// Each time through must find one ending that leads back; the last one may find none.
void check_passes(const Score& score, const RepeatGroup& group, base::Diagnostics& diagnostics) {
  // More times would say nothing new.
  constexpr int kMostChecked = 100;
  for (int pass = 1; pass <= std::min(group.passes, kMostChecked); ++pass) {
    int endings = 0;
    bool leads_back = pass == group.passes;
    for (std::size_t i = group.first; i < group.end; ++i) {
      const Measure& here = score.measures[i];
      const bool taken =
          std::find(here.ending.begin(), here.ending.end(), pass) != here.ending.end();
      if (taken && ending_starts(score, i)) ++endings;
      leads_back = leads_back || (here.repeat_end && (taken || here.ending.empty()));
    }
    if (endings <= 1 && leads_back) continue;
    diagnostics.push_back(report_measure(
        rule::ending_never_played, score.measures[group.first],
        endings == 0 ? base::message("time {} through the repeat has no ending", pass)
        : endings == 1
            ? base::message("ending {} does not lead back, but the repeat is played {} times", pass,
                            group.passes)
            : base::message("time {} through the repeat has {} endings", pass, endings),
        base::message("number the endings 1, 2 … and close each but the last with a repeat sign")));
    return;
  }
}

// The group that a measure belongs to; nothing outside of repeats.
const RepeatGroup* group_of(const std::vector<RepeatGroup>& groups, std::size_t measure) {
  const auto after =
      std::upper_bound(groups.begin(), groups.end(), measure,
                       [](std::size_t at, const RepeatGroup& group) { return at < group.first; });
  return after != groups.begin() && measure < (after - 1)->end ? &*(after - 1) : nullptr;
}

// The repeats of a score in order; what does not pair is reported. A repeat's end without a start
// goes back to the beginning or to the place after the repeat before it. A group ends with its last
// repeat sign, or with the last of the endings after it.
std::vector<RepeatGroup> repeats_of(const Score& score, base::Diagnostics& diagnostics) {
  const std::vector<Measure>& measures = score.measures;
  const auto report = [&](const base::Rule& rule, std::size_t measure, std::string text,
                          std::string hint = {}) {
    diagnostics.push_back(
        report_measure(rule, measures[measure], std::move(text), std::move(hint)));
  };
  std::vector<RepeatGroup> groups;
  std::size_t begin = 0;  // where the repeat that is open goes back to
  bool has_sign = false;  // it has a start sign of its own
  for (std::size_t i = 0; i <= measures.size();) {
    const bool starts = i < measures.size() && measures[i].repeat_start;
    if (has_sign && (starts || i == measures.size())) {
      report(rule::unpaired_repeat, begin,
             base::message("this start of a repeat has no end before the next start"),
             base::message("end the repeat, or take its start away"));
    }
    if (starts) begin = i;
    has_sign = has_sign || starts;
    if (i == measures.size() || !measures[i].repeat_end) {
      ++i;
      continue;
    }
    if (!has_sign && begin > 0) {
      report(rule::repeat_without_start, i,
             base::message("this repeat has no start; it goes back to bar {}, after the one before",
                           measures[begin].number));
    }
    RepeatGroup& group = groups.emplace_back(RepeatGroup{begin, end_of_group(measures, i)});
    bool has_endings = false;
    for (std::size_t in = group.first; in < group.end; ++in) {
      const Measure& here = measures[in];
      if (here.repeat_end) group.passes = std::max(group.passes, here.times);
      for (const int number : here.ending) group.passes = std::max(group.passes, number);
      has_endings = has_endings || !here.ending.empty();
    }
    if (has_endings) check_passes(score, group, diagnostics);
    i = begin = group.end;
    has_sign = false;
  }
  for (std::size_t i = 0; i < measures.size(); ++i) {
    if (!ending_starts(score, i) || group_of(groups, i) != nullptr) continue;
    report(rule::ending_without_repeat, i,
           base::message("this ending belongs to no repeat; it is played each time"),
           base::message("close the first ending with a repeat sign"));
  }
  return groups;
}

class Walk {
 public:
  explicit Walk(const Score& score)
      : score_(score),
        repeats_(repeats_of(score, diagnostics_)),
        jump_taken_(score.measures.size()),
        notes_in_(score.measures.size()) {
    for (const Note& note : score.notes) ++notes_in_[note.measure];
    for (const Direction& direction : score.directions) {
      if (const auto* cue = std::get_if<Cue>(&direction.value)) {
        cues_.emplace(*cue, direction.measure);
      }
    }
  }

  base::Outcome<std::vector<std::size_t>> run() {
    check_targets();
    std::optional<std::size_t> at = 0;
    while (at && *at < score_.measures.size()) {
      const std::size_t here = *at;
      // A group is entered for the first time by any way but its own repeat sign.
      const RepeatGroup* group = group_of(repeats_, here);
      if (std::exchange(group_, group) != group) pass_ = 1;
      if (!is_skipped(here) && !play(here)) break;
      at = is_skipped(here) ? here + 1 : next_after(here);
    }
    return {std::move(order_), std::move(diagnostics_)};
  }

 private:
  bool is_skipped(std::size_t measure) const {
    const std::vector<int>& ending = score_.measures[measure].ending;
    if (group_ == nullptr || ending.empty()) return false;
    const int pass = jumped_ ? group_->passes : pass_;
    return std::find(ending.begin(), ending.end(), pass) == ending.end();
  }

  // False at the limit.
  bool play(std::size_t measure) {
    notes_ += notes_in_[measure];
    if (order_.size() == kMostPlayedMeasures || notes_ > kMostPlayedNotes) {
      diagnostics_.push_back(
          report_measure(rule::played_too_long, score_.measures[measure],
                         base::message("played out, this is longer than {} bars or {} notes",
                                       kMostPlayedMeasures, kMostPlayedNotes),
                         base::message("play fewer times")));
      return false;
    }
    order_.push_back(measure);
    return true;
  }

  // Nothing where the music stops.
  std::optional<std::size_t> next_after(std::size_t measure) {
    if (jumped_ && has(Cue::fine, measure)) return std::nullopt;
    const auto coda = has(Cue::to_coda, measure) ? coda_after(measure) : std::nullopt;
    if (jumped_ && coda) return jump_to(*coda);
    const bool repeats = score_.measures[measure].repeat_end && group_ != nullptr;
    if (repeats && !jumped_ && pass_ < group_->passes) {
      ++pass_;
      return group_->first;
    }
    // A jump inside a repeat waits for the last time through.
    const std::vector<int>& ending = score_.measures[measure].ending;
    const bool last_time =
        jumped_ || group_ == nullptr || pass_ >= (ending.empty() ? group_->passes : ending.back());
    if (last_time && !jump_taken_[measure]) {
      if (const auto target = jump_target(measure)) {
        jump_taken_[measure] = true;
        jumped_ = true;
        return jump_to(*target);
      }
    }
    return measure + 1;
  }

  std::size_t jump_to(std::size_t measure) {
    group_ = nullptr;
    return measure;
  }

  std::optional<std::size_t> jump_target(std::size_t measure) const {
    if (has(Cue::da_capo, measure)) return 0;
    return has(Cue::dal_segno, measure) ? segno_before(measure) : std::nullopt;
  }

  bool has(Cue cue, std::size_t measure) const { return cues_.contains({cue, measure}); }

  // This measure or the nearest before it.
  std::optional<std::size_t> segno_before(std::size_t measure) const {
    const auto after = cues_.upper_bound({Cue::segno, measure});
    if (after == cues_.begin() || std::prev(after)->first != Cue::segno) return std::nullopt;
    return std::prev(after)->second;
  }

  // The nearest after this measure.
  std::optional<std::size_t> coda_after(std::size_t measure) const {
    const auto after = cues_.upper_bound({Cue::coda, measure});
    if (after == cues_.end() || after->first != Cue::coda) return std::nullopt;
    return after->second;
  }

  void check_targets() {
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const auto check = [&](Cue jump, bool leads, Cue target, const std::string& where) {
        if (leads || !has(jump, i)) return;
        diagnostics_.push_back(
            report_measure(rule::jump_without_target, score_.measures[i],
                           base::message("{} has no {} {} it and is not followed", word_of(jump),
                                         word_of(target), where),
                           base::message("mark the place it leads to with {}", word_of(target))));
      };
      check(Cue::dal_segno, segno_before(i).has_value(), Cue::segno, base::message("before"));
      check(Cue::to_coda, coda_after(i).has_value(), Cue::coda, base::message("after"));
    }
  }

  const Score& score_;
  base::Diagnostics diagnostics_;  // before the repeats, which report to it
  std::vector<RepeatGroup> repeats_;
  std::set<std::pair<Cue, std::size_t>> cues_;  // by measure
  std::vector<bool> jump_taken_;                // each is followed once, so that mutual jumps end
  std::vector<std::size_t> notes_in_;
  std::vector<std::size_t> order_;
  std::size_t notes_ = 0;
  const RepeatGroup* group_ = nullptr;
  int pass_ = 1;
  bool jumped_ = false;
};

}  // namespace

base::Outcome<std::vector<std::size_t>> played_order(const Score& score) {
  return Walk(score).run();
}

}  // namespace yubifu::model
