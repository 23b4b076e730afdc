#include "musicxml/write/score_layout.h"

#include <algorithm>
#include <map>
#include <numeric>

#include "base/message.h"
#include "musicxml/rules.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;
using model::RhythmWord;

// From this number on some programs read divisions wrongly: MIDI's ticks have 14 bits.
constexpr std::int64_t kManyDivisions = 16'383;

// m of a tuplet k:m over `span`: the largest a * 2^j below k, or a, where a is the odd part of
// the span's numerator.
std::int64_t normal_count(std::int64_t actual, Rational span) {
  std::int64_t normal = odd_part(span.numerator());
  while (normal * 2 < actual) normal *= 2;
  return normal;
}

// Where written time runs: outside tuplets as it sounds, inside at the tuplet's own pace.
struct Context {
  std::optional<std::size_t> tuplet;
  Rational scale = 1;  // written length by sounding length
  Rational origin;     // where in the bar the grid begins
  MetricGrid grid;

  Rational place(Rational in_bar) const { return (in_bar - origin) * scale; }
  Rational in_bar(Rational place) const { return origin + place / scale; }
};

// Consecutive words of one span in one context.
struct Stretch {
  Rational begin;
  Rational end;
  std::size_t span = 0;
  std::size_t context = 0;
};

// The notes of the words of one bar, with their beams.
class BarWalk {
 public:
  BarWalk(const model::Score& score, std::size_t measure, const model::BarContent& content)
      : bar_(score.measures[measure]), content_(content) {
    if (model::fraction_comes_first(score, measure)) offset_ = bar_.meter.length() - bar_.length;
    contexts_.push_back({std::nullopt, 1, -offset_, MetricGrid::of_bar(bar_.meter, bar_.beat)});
    for (const std::size_t index : content.directions) {
      const model::Direction& direction = score.directions[index];
      if (!std::holds_alternative<model::KeyChange>(direction.value)) continue;
      barriers_.push_back(direction.onset);
    }
  }

  BarLayout lay_out(const std::vector<RhythmWord>& words) {
    const bool only_a_rest = content_.spans.size() == 1 && !content_.spans[0].note;
    if (only_a_rest && bar_.length == bar_.meter.length()) {
      Piece piece;
      piece.end = bar_.length;
      return {{piece}, {}};
    }
    for (std::size_t i = 0; i < words.size();) i = walk_top(words, i);
    for (const Stretch& stretch : stretches_) cut(stretch);
    find_tuplet_ends();
    for (std::size_t first = 0; first < layout_.pieces.size();) {
      std::size_t last = first;
      while (last + 1 < layout_.pieces.size() && beams_on(last)) ++last;
      if (last > first) beam_group(first, last);
      first = last + 1;
    }
    return std::move(layout_);
  }

 private:
  // A word of the bar. Words whose length no note value can make up are put together until their
  // sum can be written, in a tuplet of their own.
  std::size_t walk_top(const std::vector<RhythmWord>& words, std::size_t first) {
    const auto length = [&](std::size_t i) { return words[i].end - words[i].begin; };
    if (is_dyadic(length(first))) {
      walk(words[first], 0);
      return first + 1;
    }
    Rational sum;
    std::int64_t common = 1;
    std::size_t last = first;
    while (last < words.size() && (last == first || !is_dyadic(sum))) {
      sum += length(last);
      common = std::lcm(common, length(last).denominator());
      if (common > model::kFinestDivision) throw model::DivisionTooFine();
      ++last;
    }
    if (is_dyadic(sum) && is_one_stretch(words, first, last)) {
      add_leaf(words[first].begin, words[last - 1].end, words[first].span, 0);
      return last;
    }
    const std::int64_t actual = odd_part(common);
    const std::int64_t normal = normal_count(actual, 1);
    const std::size_t context =
        open_tuplet(actual, normal, Rational(actual, common * normal), words[first].begin, 0);
    for (std::size_t i = first; i < last; ++i) walk(words[i], context);
    return last;
  }

  // Whether nothing but one note or rest stands in the words [first, last).
  bool is_one_stretch(const std::vector<RhythmWord>& words, std::size_t first,
                      std::size_t last) const {
    for (std::size_t i = first; i < last; ++i) {
      if (words[i].is_group() || words[i].span != words[first].span) return false;
      if (i > first && is_barrier(words[i].begin)) return false;
    }
    return true;
  }

  void walk(const RhythmWord& word, std::size_t context) {
    if (!word.is_group()) return add_leaf(word.begin, word.end, word.span, context);
    const Rational span = (word.end - word.begin) * contexts_[context].scale;
    const std::int64_t shares = word.shares;
    if (shares != 1 && !single_value(span / shares)) {
      const std::int64_t normal = normal_count(shares, span);
      context = open_tuplet(shares, normal, span / normal, word.begin, context);
    }
    for (const RhythmWord& part : word.parts) walk(part, context);
  }

  // The context inside a new tuplet that begins at a place of the bar.
  std::size_t open_tuplet(std::int64_t actual, std::int64_t normal, Rational unit, Rational begin,
                          std::size_t context) {
    const Context outer = contexts_[context];
    const int depth = outer.tuplet ? layout_.tuplets[*outer.tuplet].depth + 1 : 1;
    contexts_.push_back({layout_.tuplets.size(), outer.scale * Rational(actual, normal), begin,
                         MetricGrid::of_tuplet(actual, unit)});
    layout_.tuplets.push_back({actual, normal, unit, outer.tuplet, depth});
    return contexts_.size() - 1;
  }

  void add_leaf(Rational begin, Rational end, std::size_t span, std::size_t context) {
    if (!stretches_.empty()) {
      Stretch& last = stretches_.back();
      if (last.span == span && last.context == context && last.end == begin && !is_barrier(begin)) {
        last.end = end;
        return;
      }
    }
    stretches_.push_back({begin, end, span, context});
  }

  bool is_barrier(Rational place) const {
    return std::find(barriers_.begin(), barriers_.end(), place) != barriers_.end();
  }

  void cut(const Stretch& stretch) {
    const Context& context = contexts_[stretch.context];
    const Rational begin = context.place(stretch.begin);
    const Rational end = context.place(stretch.end);
    const auto parts =
        (content_.spans[stretch.span].note ? cut_note : cut_rest)(begin, end, context.grid);
    for (const ValuePiece& part : parts) {
      layout_.pieces.push_back({context.in_bar(part.begin), context.in_bar(part.end), stretch.span,
                                part.value, context.tuplet, part.begin, part.end});
    }
  }

  void find_tuplet_ends() {
    for (std::size_t i = layout_.pieces.size(); i-- > 0;) {
      for (auto tuplet = layout_.pieces[i].tuplet; tuplet;
           tuplet = layout_.tuplets[*tuplet].around) {
        Tuplet& at = layout_.tuplets[*tuplet];
        at.first_piece = i;
        at.last_piece = std::max(at.last_piece, i);
      }
    }
  }

  int flags(std::size_t piece) const {
    const Piece& at = layout_.pieces[piece];
    return content_.spans[at.span].note && at.value ? flag_count(*at.value) : 0;
  }

  // Whether a piece is beamed to the next one.
  bool beams_on(std::size_t piece) const {
    const auto group_of = [&](const Piece& at) {
      return contexts_.front().grid.beam_group(at.begin + offset_);
    };
    const Piece& here = layout_.pieces[piece];
    const Piece& next = layout_.pieces[piece + 1];
    return flags(piece) > 0 && flags(piece + 1) > 0 && here.tuplet == next.tuplet &&
           group_of(here) == group_of(next);
  }

  void beam_group(std::size_t first, std::size_t last) {
    for (std::size_t i = first; i <= last; ++i) {
      Piece& piece = layout_.pieces[i];
      piece.beam_count = std::min(static_cast<std::size_t>(flags(i)), kMostBeams);
      for (std::size_t level = 0; level < piece.beam_count; ++level) {
        piece.beams[level] = beam(first, last, i, static_cast<int>(level) + 1);
      }
    }
    const auto& tuplet = layout_.pieces[first].tuplet;
    if (!tuplet) return;
    Tuplet& at = layout_.tuplets[*tuplet];
    at.beamed = at.first_piece == first && at.last_piece == last;
  }

  Beam beam(std::size_t first, std::size_t last, std::size_t piece, int level) const {
    const bool before = piece > first && flags(piece - 1) >= level;
    const bool after = piece < last && flags(piece + 1) >= level;
    if (before && after) return Beam::cont;
    if (before) return Beam::end;
    if (after) return Beam::begin;
    if (piece == first) return Beam::forward_hook;
    if (piece == last) return Beam::backward_hook;
    return ends_stronger(layout_.pieces[piece]) ? Beam::backward_hook : Beam::forward_hook;
  }

  // A short note that fills up to a stronger place belongs to the note before it.
  bool ends_stronger(const Piece& piece) const {
    // The context of the bar stands before those of the tuplets.
    const MetricGrid& grid = contexts_[piece.tuplet ? *piece.tuplet + 1 : 0].grid;
    return grid.level(piece.place_end) < grid.level(piece.place);
  }

  const model::Measure& bar_;
  const model::BarContent& content_;
  Rational offset_;                 // where in the full bar it begins
  std::vector<Rational> barriers_;  // places over which no note is written in one piece
  std::vector<Context> contexts_;   // the bar, then one a tuplet
  std::vector<Stretch> stretches_;
  BarLayout layout_;
};

// All that decides the layout of a bar, as numbers.
using Pattern = std::vector<std::int64_t>;

void add(Pattern& pattern, Rational value) {
  pattern.push_back(value.numerator());
  pattern.push_back(value.denominator());
}

// What a direction means to the rhythm besides being a start.
Rational weight_of(const model::DirectionValue& value) {
  if (const auto* change = std::get_if<model::BeatChange>(&value)) return change->beat;
  return std::holds_alternative<model::KeyChange>(value) ? Rational(-1) : Rational(0);
}

Pattern pattern_of(const model::Score& score, std::size_t measure,
                   const model::BarContent& content) {
  const model::Measure& bar = score.measures[measure];
  Pattern pattern;
  pattern.reserve(48);
  pattern.push_back(bar.meter.beats);
  pattern.push_back(bar.meter.unit);
  add(pattern, bar.beat);
  add(pattern, bar.length);
  pattern.push_back(model::fraction_comes_first(score, measure) ? 1 : 0);
  for (const model::BarSpan& span : content.spans) {
    add(pattern, span.begin);
    pattern.push_back(span.note ? 1 : 0);
  }
  for (const std::size_t index : content.directions) {
    add(pattern, score.directions[index].onset);
    add(pattern, weight_of(score.directions[index].value));
  }
  return pattern;
}

// Every length that a bar writes: its notes, and how far into one a direction stands.
std::vector<Rational> lengths(const model::Score& score, const model::BarContent& content,
                              const std::vector<Piece>& pieces) {
  std::vector<Rational> all;
  std::size_t piece = 0;
  for (const Piece& at : pieces) all.push_back(at.duration());
  for (const std::size_t index : content.directions) {
    const Rational onset = score.directions[index].onset;
    while (piece < pieces.size() && pieces[piece].end <= onset) ++piece;
    if (piece < pieces.size()) all.push_back(onset - pieces[piece].begin);
  }
  return all;
}

}  // namespace

Tuplet BarLayout::product(std::size_t tuplet) const {
  Tuplet all = tuplets[tuplet];
  for (auto around = all.around; around; around = tuplets[*around].around) {
    all.actual *= tuplets[*around].actual;
    all.normal *= tuplets[*around].normal;
  }
  return all;
}

ScoreLayout lay_out_score(const model::Score& score, base::Diagnostics& diagnostics) {
  ScoreLayout layout;
  std::map<Pattern, std::size_t> layout_of_pattern;
  std::size_t measure = 0;
  std::size_t many_from = 0;
  const auto number = [&](std::size_t at) { return model::measure_name(score, at); };
  const auto report = [&](const base::Rule& rule, std::size_t at, std::string message,
                          std::string hint) {
    diagnostics.push_back(base::report(rule, score.measures[at].source, std::move(message),
                                       std::move(hint), {number(at)}));
  };
  const auto report_too_fine = [&] {
    report(rule::rhythm_too_fine, measure,
           base::message("bar {} divides time too finely for a staff", number(measure)),
           base::message("simplify the groups of this bar"));
  };
  const auto simpler = [] {
    return base::message("divide fewer bars into unlike prime numbers of parts");
  };
  try {
    layout.contents = model::bar_contents(score);
    for (; measure < score.measures.size(); ++measure) {
      const model::BarContent& content = layout.contents[measure];
      const auto [known, is_new] =
          layout_of_pattern.try_emplace(pattern_of(score, measure, content), layout.layouts.size());
      layout.layout_of_bar.push_back(known->second);
      if (!is_new) continue;
      layout.layouts.push_back(
          BarWalk(score, measure, content).lay_out(model::rhythm_words(score, measure, content)));
      const std::int64_t before = layout.divisions;
      for (const Rational length : lengths(score, content, layout.layouts.back().pieces)) {
        layout.divisions = std::lcm(layout.divisions, length.denominator());
        if (std::max(layout.divisions, length.denominator()) <= kMostDivisions) continue;
        report(rule::too_many_divisions, measure,
               base::message("with bar {} the bars need more than {} divisions a quarter",
                             number(measure), kMostDivisions),
               simpler());
        return layout;
      }
      if (before <= kManyDivisions && layout.divisions > kManyDivisions) many_from = measure;
    }
  } catch (const model::DivisionTooFine&) {
    report_too_fine();
  } catch (const model::TimeOverflow&) {
    report_too_fine();
  }
  if (layout.divisions > kManyDivisions) {
    report(rule::many_divisions, many_from,
           base::message("the bars need {} divisions a quarter, from bar {} on", layout.divisions,
                         number(many_from)),
           simpler());
  }
  return layout;
}

}  // namespace yubifu::musicxml
