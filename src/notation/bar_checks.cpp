#include "notation/bar_checks.h"

#include <string>

#include "base/message.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::Measure;

class BarChecks {
 public:
  BarChecks(model::Score& score, const std::vector<BarFacts>& facts, Reports& reports)
      : score_(score), facts_(facts), reports_(reports) {}

  void run() {
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      score_.measures[i].irregular = is_long(i) || (is_short(i) && !model::may_be_short(score_, i));
    }
    model::number_measures(score_);
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      if (!facts_[i].broken && facts_[i].time_known) check(i);
    }
  }

 private:
  bool is_long(std::size_t i) const {
    const Measure& here = score_.measures[i];
    return !here.meter.is_free() && here.length > here.meter.length();
  }
  bool is_short(std::size_t i) const {
    const Measure& here = score_.measures[i];
    return !here.meter.is_free() && here.length < here.meter.length();
  }

  // A reason to be short that the score does not hold: a meter said again, the end of an ending.
  bool may_be_short_by_word(std::size_t i) const {
    return facts_[i].may_be_short || facts_[i].ends_ending ||
           (i + 1 < facts_.size() && facts_[i + 1].may_be_short);
  }

  void check(std::size_t i) {
    const Measure& here = score_.measures[i];
    const BarFacts& facts = facts_[i];
    const bool by_word = is_short(i) && may_be_short_by_word(i);
    if (here.irregular && !facts.irregular && !by_word) return wrong_length(i);
    if (!here.irregular && facts.irregular) {
      reports_.add(rule::needless_irregular, *facts.irregular,
                   base::message("bar {} needs no {{irregular}}", here.number),
                   base::message("take it out"));
    }
    fractions(i);
  }

  void wrong_length(std::size_t i) {
    const Measure& here = score_.measures[i];
    const std::string has = model::to_text(here.length / here.beat);
    const std::string asked = model::to_text(here.meter.length() / here.beat);
    reports_.add(rule::bar_length, facts_[i].range,
                 base::message("bar {} has {} words of {}; {} has {}", here.number, has,
                               model::beat_text(here.beat), model::to_text(here.meter), asked),
                 is_long(i) ? base::message("a bar sign may be missing; if the bar is meant so, "
                                            "begin it with `{{irregular}}`")
                            : base::message("a word or hold may be missing; if the bar is meant "
                                            "so, begin it with `{{irregular}}`"));
  }

  void fractions(std::size_t i) {
    const BarFacts& facts = facts_[i];
    if (facts.fractions.empty()) return;
    if (facts.fractions.size() > 1) {
      reports_.add(rule::fraction_place, facts.fractions[1].range,
                   base::message("a second incomplete word in bar {}", score_.measures[i].number),
                   base::message("one word of a bar may be incomplete"));
      return;
    }
    const FractionWord& word = facts.fractions.front();
    const bool comes_first = model::fraction_comes_first(score_, i);
    if (comes_first ? word.first : word.last) return;
    // Words counted in two beats may be whole from the start of a pickup only.
    if (comes_first && facts.changes_beat && word.last) return;
    reports_.add(rule::fraction_place, word.range,
                 comes_first ? base::message("the incomplete word of a pickup is its first word")
                             : base::message("the incomplete word of this bar is its last word"),
                 base::message("write the other words of the bar whole, with groups and holds"));
  }

  model::Score& score_;
  const std::vector<BarFacts>& facts_;
  Reports& reports_;
};

}  // namespace

void check_bars(model::Score& score, const std::vector<BarFacts>& facts, Reports& reports) {
  BarChecks(score, facts, reports).run();
}

}  // namespace yubifu::notation
