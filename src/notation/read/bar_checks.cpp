#include <optional>
#include <string>
#include <utility>

#include "base/message.h"
#include "notation/read/steps.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::Measure;
using model::Rational;

class BarChecks {
 public:
  BarChecks(model::Score& score, const std::vector<BarFacts>& facts, Reports& reports)
      : score_(score), facts_(facts), reports_(reports) {}

  void run() {
    model::mark_irregular(score_);
    model::number_measures(score_);
    for (std::size_t i = 0; i < facts_.size(); ++i) {
      if (!facts_[i].broken && facts_[i].time_known) check(i);
    }
  }

 private:
  // A reason to be short that the score does not hold: a meter said again, an ending closed where a
  // bar sign closes it too.
  bool may_be_short_by_word(std::size_t i) const {
    return facts_[i].may_be_short || facts_[i].ends_ending ||
           (i + 1 < facts_.size() && facts_[i + 1].may_be_short);
  }

  void check(std::size_t i) {
    const Measure& here = score_.measures[i];
    const BarFacts& facts = facts_[i];
    const bool by_word = lasts_less(here) && may_be_short_by_word(i);
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
    const std::string meter = model::to_text(here.meter);
    std::string told;
    if (facts_[i].changes_beat) {
      told = base::message("bar {} lasts {} of a whole note, not {}", here.number,
                           model::beat_text(here.length), meter);
    } else {
      const Rational words = here.length / here.beat;
      const std::string beat = model::beat_text(here.beat);
      const std::string asked = model::to_text(here.meter.length() / here.beat);
      told = words > Rational(1) ? base::message("bar {} has {} words of {}; {} has {}",
                                                 here.number, counted(words), beat, meter, asked)
                                 : base::message("bar {} has {} word of {}; {} has {}", here.number,
                                                 counted(words), beat, meter, asked);
    }
    reports_.add(rule::bar_length, facts_[i].range, std::move(told), remedy(i));
  }

  // "3 1/2" words.
  static std::string counted(Rational words) {
    const Rational whole(words.floor());
    if (words == whole || whole == Rational(0)) return model::to_text(words);
    return model::to_text(whole) + ' ' + model::to_text(words - whole);
  }

  std::string remedy(std::size_t i) const {
    if (auto other = other_beat(i)) return *std::move(other);
    if (!lasts_less(score_.measures[i])) {
      return base::message(
          "a bar sign may be missing; if the bar is meant so, begin it with `{{irregular}}`");
    }
    if (auto partner = completing_words(i)) return *std::move(partner);
    return base::message(
        "a word or hold may be missing; if the bar is meant so, begin it with `{{irregular}}`");
  }

  // In a compound meter a bar whose words would fit if each lasted another usual beat of it.
  std::optional<std::string> other_beat(std::size_t i) const {
    const Measure& here = score_.measures[i];
    const Rational full = here.meter.length();
    const Rational unit = model::default_beat(here.meter);
    const Rational felt = model::felt_beat(here.meter, unit);
    if (felt == unit || facts_[i].changes_beat) return std::nullopt;
    if (here.beat == unit && here.length * Rational(3) == full) {
      return base::message(
          "here a word lasts {}; where it shall last {}, write `beat: {}` in the header",
          model::beat_text(unit), model::beat_text(felt), model::beat_text(felt));
    }
    if (here.beat == unit && here.length * Rational(2) == full) {
      return base::message(
          "here a word lasts {}; where it shall last {}, write `beat: {}` in the header, and "
          "`beat: {}` where it shall last {}",
          model::beat_text(unit), model::beat_text(unit * Rational(2)),
          model::beat_text(unit * Rational(2)), model::beat_text(felt), model::beat_text(felt));
    }
    if (here.beat == felt && here.length == full * Rational(3)) {
      return base::message("here a word lasts {}; without `beat: {}` it lasts {}",
                           model::beat_text(felt), model::beat_text(felt), model::beat_text(unit));
    }
    return std::nullopt;
  }

  // What would make a whole bar with the short one at the other end.
  std::optional<std::string> completing_words(std::size_t i) const {
    const Measure& here = score_.measures[i];
    for (const std::size_t partner : model::partners_of_short(score_, i)) {
      const Measure& other = score_.measures[partner];
      if (other.meter != here.meter || facts_[partner].broken || other.irregular) continue;
      const Rational words = (here.meter.length() - other.length) / here.beat;
      return base::message(
          "with {} it would complete bar {}; if the bar is meant so, begin it with "
          "`{{irregular}}`",
          counted(words), other.number);
    }
    return std::nullopt;
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
