// The walk through the measures of a score, with repeats taken and jumps followed.
#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/message.h"
#include "model/play_out.h"
#include "model/rules.h"
#include "model/score.h"

namespace yubifu::model {
namespace {

// A repeat with its endings: measures [first, end).
struct RepeatGroup {
  std::size_t first = 0;
  std::size_t end = 0;
  int passes = 2;  // how often the whole is played
};

// What find_repeats finds in a score.
struct Repeats {
  std::vector<RepeatGroup> groups;  // in order; they do not overlap
  base::Diagnostics diagnostics;    // what does not pair

  // The group that a measure belongs to; nothing outside of repeats.
  const RepeatGroup* group_of(std::size_t measure) const;
};

class Finder {
 public:
  explicit Finder(const Score& score) : score_(score) {}

  Repeats run() {
    const std::size_t count = score_.measures.size();
    for (std::size_t i = 0; i < count;) {
      const Measure& here = score_.measures[i];
      if (here.repeat_start) start(i);
      i = here.repeat_end ? close(i) : i + 1;
    }
    if (has_sign_) report_lonely_start(begin_);
    for (std::size_t i = 0; i < count; ++i) check_ending(i);
    return std::move(found_);
  }

 private:
  void start(std::size_t measure) {
    if (has_sign_) report_lonely_start(begin_);
    begin_ = measure;
    has_sign_ = true;
  }

  // Ends the group that holds a repeat sign at the end of this measure; gives what comes after it.
  std::size_t close(std::size_t measure) {
    if (!has_sign_ && begin_ > 0) report_missing_start(score_.measures[measure], begin_);
    RepeatGroup group{begin_, end_of_group(measure), 2};
    count_passes(group);
    found_.groups.push_back(group);
    begin_ = group.end;
    has_sign_ = false;
    return group.end;
  }

  // The endings that follow a repeat sign belong to it, up to a new start and to the next ending
  // of the first time.
  std::size_t end_of_group(std::size_t with_repeat_end) const {
    std::size_t i = with_repeat_end + 1;
    if (score_.measures[with_repeat_end].ending.empty()) return i;
    while (i < score_.measures.size()) {
      const Measure& here = score_.measures[i];
      if (here.ending.empty() || here.repeat_start || here.ending.front() == 1) break;
      ++i;
    }
    return i;
  }

  void count_passes(RepeatGroup& group) {
    bool has_endings = false;
    for (std::size_t i = group.first; i < group.end; ++i) {
      const Measure& here = score_.measures[i];
      if (here.repeat_end) group.passes = std::max(group.passes, here.times);
      for (const int number : here.ending) group.passes = std::max(group.passes, number);
      has_endings = has_endings || !here.ending.empty();
    }
    if (has_endings) check_passes(group);
  }

  // Each time through must find one ending that leads back; the last one may find none.
  void check_passes(const RepeatGroup& group) {
    // More times would say nothing new.
    constexpr int kMostChecked = 100;
    for (int pass = 1; pass <= std::min(group.passes, kMostChecked); ++pass) {
      const bool last = pass == group.passes;
      int endings = 0;
      bool leads_back = false;
      for (std::size_t i = group.first; i < group.end; ++i) {
        const Measure& here = score_.measures[i];
        const bool taken =
            std::find(here.ending.begin(), here.ending.end(), pass) != here.ending.end();
        if (taken && ending_starts(score_, i)) ++endings;
        leads_back = leads_back || (here.repeat_end && (taken || here.ending.empty()));
      }
      if (endings <= 1 && (last || leads_back)) continue;
      report_pass(group, pass, endings);
      return;
    }
  }

  void report_pass(const RepeatGroup& group, int pass, int endings) {
    std::string text =
        endings == 0 ? base::message("time {} through the repeat has no ending", pass)
        : endings == 1
            ? base::message("ending {} does not lead back, but the repeat is played {} times", pass,
                            group.passes)
            : base::message("time {} through the repeat has {} endings", pass, endings);
    found_.diagnostics.push_back(report_measure(
        rule::ending_never_played, score_.measures[group.first], std::move(text),
        base::message("number the endings 1, 2 … and close each but the last with a repeat sign")));
  }

  void report_lonely_start(std::size_t measure) {
    found_.diagnostics.push_back(
        report_measure(rule::unpaired_repeat, score_.measures[measure],
                       base::message("this start of a repeat has no end before the next start"),
                       base::message("end the repeat, or take its start away")));
  }

  void report_missing_start(const Measure& measure, std::size_t begin) {
    found_.diagnostics.push_back(report_measure(
        rule::repeat_without_start, measure,
        base::message("this repeat has no start; it goes back to bar {}, after the one before",
                      score_.measures[begin].number)));
  }

  void check_ending(std::size_t i) {
    if (!ending_starts(score_, i) || found_.group_of(i) != nullptr) return;
    found_.diagnostics.push_back(
        report_measure(rule::ending_without_repeat, score_.measures[i],
                       base::message("this ending belongs to no repeat; it is played each time"),
                       base::message("close the first ending with a repeat sign")));
  }

  const Score& score_;
  Repeats found_;
  std::size_t begin_ = 0;  // where the repeat that is open goes back to
  bool has_sign_ = false;  // it has a start sign of its own
};

const RepeatGroup* Repeats::group_of(std::size_t measure) const {
  const auto after =
      std::upper_bound(groups.begin(), groups.end(), measure,
                       [](std::size_t at, const RepeatGroup& group) { return at < group.first; });
  if (after == groups.begin()) return nullptr;
  const RepeatGroup& group = *(after - 1);
  return measure < group.end ? &group : nullptr;
}

// A repeat's end without a start goes back to the beginning or to the place after the repeat
// before it. A group ends with its last repeat sign, or with the last of the endings after it.
Repeats find_repeats(const Score& score) {
  return Finder(score).run();
}

// The cues of one measure that steer the playing, and where its jumps lead.
struct Steering {
  bool segno = false;
  bool coda = false;
  bool fine = false;
  bool to_coda = false;
  bool da_capo = false;
  bool dal_segno = false;
  std::optional<std::size_t> segno_before;  // this measure or the nearest before it
  std::optional<std::size_t> coda_after;    // the nearest after this measure
};

std::vector<Steering> steering_of(const Score& score) {
  std::vector<Steering> steering(score.measures.size());
  for (const Direction& direction : score.directions) {
    const auto* cue = std::get_if<Cue>(&direction.value);
    if (cue == nullptr) continue;
    Steering& here = steering[direction.measure];
    here.segno = here.segno || *cue == Cue::segno;
    here.coda = here.coda || *cue == Cue::coda;
    here.fine = here.fine || *cue == Cue::fine;
    here.to_coda = here.to_coda || *cue == Cue::to_coda;
    here.da_capo = here.da_capo || *cue == Cue::da_capo;
    here.dal_segno = here.dal_segno || *cue == Cue::dal_segno;
  }
  std::optional<std::size_t> segno;
  for (std::size_t i = 0; i < steering.size(); ++i) {
    if (steering[i].segno) segno = i;
    steering[i].segno_before = segno;
  }
  std::optional<std::size_t> coda;
  for (std::size_t i = steering.size(); i > 0; --i) {
    steering[i - 1].coda_after = coda;
    if (steering[i - 1].coda) coda = i - 1;
  }
  return steering;
}

class Walk {
 public:
  explicit Walk(const Score& score)
      : score_(score),
        repeats_(find_repeats(score)),
        steering_(steering_of(score)),
        jump_taken_(score.measures.size()),
        notes_in_(score.measures.size()) {
    for (const Note& note : score.notes) ++notes_in_[note.measure];
  }

  base::Outcome<std::vector<std::size_t>> run() {
    base::append(diagnostics_, std::move(repeats_.diagnostics));
    check_targets();
    std::optional<std::size_t> at = 0;
    while (at && *at < score_.measures.size()) {
      const std::size_t here = *at;
      enter(here);
      if (!is_skipped(here) && !play(here)) break;
      at = is_skipped(here) ? here + 1 : next_after(here);
    }
    return {std::move(order_), std::move(diagnostics_)};
  }

 private:
  // A group is entered for the first time by any way but its own repeat sign.
  void enter(std::size_t measure) {
    const RepeatGroup* group = repeats_.group_of(measure);
    if (group != group_) pass_ = 1;
    group_ = group;
  }

  int pass() const { return jumped_ ? group_->passes : pass_; }

  bool is_skipped(std::size_t measure) const {
    const std::vector<int>& ending = score_.measures[measure].ending;
    if (group_ == nullptr || ending.empty()) return false;
    return std::find(ending.begin(), ending.end(), pass()) == ending.end();
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
    const Steering& cues = steering_[measure];
    if (jumped_ && cues.fine) return std::nullopt;
    if (jumped_ && cues.to_coda && cues.coda_after) return jump_to(*cues.coda_after);
    const bool repeats = score_.measures[measure].repeat_end && group_ != nullptr;
    if (repeats && !jumped_ && pass_ < group_->passes) {
      ++pass_;
      return group_->first;
    }
    // A jump inside a repeat waits for the last time through.
    const bool last_time = jumped_ || group_ == nullptr || pass_ >= last_pass_of(measure);
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

  int last_pass_of(std::size_t measure) const {
    const std::vector<int>& ending = score_.measures[measure].ending;
    return ending.empty() ? group_->passes : ending.back();
  }

  std::optional<std::size_t> jump_target(std::size_t measure) const {
    const Steering& cues = steering_[measure];
    if (cues.da_capo) return 0;
    return cues.dal_segno ? cues.segno_before : std::nullopt;
  }

  void check_targets() {
    for (std::size_t i = 0; i < steering_.size(); ++i) {
      if (steering_[i].dal_segno && !steering_[i].segno_before) {
        report_jump(i, Cue::dal_segno, Cue::segno, base::message("before"));
      }
      if (steering_[i].to_coda && !steering_[i].coda_after) {
        report_jump(i, Cue::to_coda, Cue::coda, base::message("after"));
      }
    }
  }

  void report_jump(std::size_t measure, Cue jump, Cue target, const std::string& where) {
    diagnostics_.push_back(
        report_measure(rule::jump_without_target, score_.measures[measure],
                       base::message("{} has no {} {} it and is not followed", word_of(jump),
                                     word_of(target), where),
                       base::message("mark the place it leads to with {}", word_of(target))));
  }

  const Score& score_;
  Repeats repeats_;
  std::vector<Steering> steering_;
  std::vector<bool> jump_taken_;  // each is followed once, so that mutual jumps end
  std::vector<std::size_t> notes_in_;
  std::vector<std::size_t> order_;
  std::size_t notes_ = 0;
  base::Diagnostics diagnostics_;
  const RepeatGroup* group_ = nullptr;
  int pass_ = 1;
  bool jumped_ = false;
};

}  // namespace

base::Outcome<std::vector<std::size_t>> played_order(const Score& score) {
  return Walk(score).run();
}

}  // namespace yubifu::model
