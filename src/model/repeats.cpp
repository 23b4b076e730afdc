#include "model/repeats.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "model/measure_report.h"
#include "model/rules.h"

namespace yubifu::model {
namespace {

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

}  // namespace

const RepeatGroup* Repeats::group_of(std::size_t measure) const {
  const auto after =
      std::upper_bound(groups.begin(), groups.end(), measure,
                       [](std::size_t at, const RepeatGroup& group) { return at < group.first; });
  if (after == groups.begin()) return nullptr;
  const RepeatGroup& group = *(after - 1);
  return measure < group.end ? &group : nullptr;
}

Repeats find_repeats(const Score& score) {
  return Finder(score).run();
}

}  // namespace yubifu::model
