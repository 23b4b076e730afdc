#include "musicxml/write/score_layout.h"

#include <numeric>
#include <string>
#include <unordered_map>

#include "base/message.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

// All that decides the layout of a bar, as numbers.
using Pattern = std::vector<std::int64_t>;

struct PatternHash {
  std::size_t operator()(const Pattern& pattern) const {
    // FNV-1a over the numbers.
    std::uint64_t hash = 0xCBF29CE484222325u;
    for (const std::int64_t number : pattern) {
      hash = (hash ^ static_cast<std::uint64_t>(number)) * 0x100000001B3u;
    }
    return static_cast<std::size_t>(hash);
  }
};

void add(Pattern& pattern, Rational value) {
  pattern.push_back(value.numerator());
  pattern.push_back(value.denominator());
}

// What a direction means to the rhythm besides being a start.
Rational weight_of(const model::DirectionValue& value) {
  if (const auto* change = std::get_if<model::BeatChange>(&value)) return change->beat;
  return std::holds_alternative<model::KeyChange>(value) ? Rational(-1) : Rational(0);
}

class ScoreLayouter {
 public:
  ScoreLayouter(const model::Score& score, base::Diagnostics& diagnostics)
      : score_(score), diagnostics_(diagnostics) {}

  ScoreLayout run() {
    std::size_t measure = 0;
    try {
      layout_.contents = model::bar_contents(score_);
      for (; measure < score_.measures.size(); ++measure) {
        if (!lay_out(measure)) return std::move(layout_);
      }
    } catch (const model::DivisionTooFine&) {
      report_too_fine(measure);
    } catch (const model::TimeOverflow&) {
      report_too_fine(measure);
    }
    if (layout_.divisions > kManyDivisions) {
      report(rule::many_divisions, many_from_,
             base::message("the bars need {} divisions a quarter, from bar {} on",
                           layout_.divisions, number(many_from_)),
             base::message("divide fewer bars into unlike prime numbers of parts"));
    }
    return std::move(layout_);
  }

 private:
  std::string number(std::size_t measure) const { return model::measure_name(score_, measure); }

  void report(const base::Rule& rule, std::size_t measure, std::string message, std::string hint) {
    base::Diagnostic diagnostic =
        base::report(rule, score_.measures[measure].source, std::move(message), std::move(hint));
    diagnostic.measures = {number(measure)};
    diagnostics_.push_back(std::move(diagnostic));
  }

  void report_too_fine(std::size_t measure) {
    report(rule::rhythm_too_fine, measure,
           base::message("bar {} divides time too finely for a staff", number(measure)),
           base::message("simplify the groups of this bar"));
  }

  Pattern pattern_of(const BarFrame& frame, std::size_t measure) const {
    const model::Measure& bar = score_.measures[measure];
    Pattern pattern;
    pattern.reserve(48);
    pattern.push_back(bar.meter.beats);
    pattern.push_back(bar.meter.unit);
    add(pattern, bar.beat);
    add(pattern, bar.length);
    add(pattern, frame.offset);
    pattern.push_back(model::fraction_comes_first(score_, measure) ? 1 : 0);
    for (const model::BarSpan& span : layout_.contents[measure].spans) {
      add(pattern, span.begin);
      pattern.push_back(span.note ? 1 : 0);
    }
    for (const std::size_t index : layout_.contents[measure].directions) {
      add(pattern, score_.directions[index].onset);
      add(pattern, weight_of(score_.directions[index].value));
    }
    return pattern;
  }

  // False when the divisions grow too many.
  bool lay_out(std::size_t measure) {
    const model::BarContent& content = layout_.contents[measure];
    const BarFrame frame = bar_frame(score_, measure, content);
    const auto [known, is_new] =
        layout_of_pattern_.try_emplace(pattern_of(frame, measure), layout_.layouts.size());
    if (is_new) {
      layout_.layouts.push_back(
          lay_out_bar(frame, content, model::rhythm_words(score_, measure, content)));
      add_beams(frame, content, layout_.layouts.back());
    }
    layout_.layout_of_bar.push_back(known->second);
    return !is_new || take_divisions(measure);
  }

  bool take_divisions(std::size_t measure) {
    const std::int64_t before = layout_.divisions;
    for (const Rational length : lengths(measure)) {
      layout_.divisions = std::lcm(layout_.divisions, length.denominator());
      if (layout_.divisions <= kMostDivisions && length.denominator() <= kMostDivisions) continue;
      report(rule::too_many_divisions, measure,
             base::message("with bar {} the bars need more than {} divisions a quarter",
                           number(measure), kMostDivisions),
             base::message("divide fewer bars into unlike prime numbers of parts"));
      return false;
    }
    if (before <= kManyDivisions && layout_.divisions > kManyDivisions) many_from_ = measure;
    return true;
  }

  // Every length that the bar writes: its notes, and how far into one a direction stands.
  std::vector<Rational> lengths(std::size_t measure) const {
    const BarLayout& layout = layout_.of(measure);
    std::vector<Rational> all;
    std::size_t piece = 0;
    for (const Piece& at : layout.pieces) all.push_back(at.duration());
    for (const std::size_t index : layout_.contents[measure].directions) {
      const Rational onset = score_.directions[index].onset;
      while (piece < layout.pieces.size() && layout.pieces[piece].end <= onset) ++piece;
      if (piece < layout.pieces.size()) all.push_back(onset - layout.pieces[piece].begin);
    }
    return all;
  }

  const model::Score& score_;
  base::Diagnostics& diagnostics_;
  ScoreLayout layout_;
  std::unordered_map<Pattern, std::size_t, PatternHash> layout_of_pattern_;
  std::size_t many_from_ = 0;
};

}  // namespace

ScoreLayout lay_out_score(const model::Score& score, base::Diagnostics& diagnostics) {
  return ScoreLayouter(score, diagnostics).run();
}

}  // namespace yubifu::musicxml
