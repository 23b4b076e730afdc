#include "musicxml/write/bar_layout.h"

#include <algorithm>
#include <numeric>

#include "musicxml/write/note_value.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;
using model::RhythmWord;

// The largest power of two below `count`, at least 1.
std::int64_t power_below(std::int64_t count) {
  std::int64_t power = 1;
  while (power * 2 < count) power *= 2;
  return power;
}

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

class BarWalk {
 public:
  BarWalk(const BarFrame& frame, const model::BarContent& content)
      : frame_(frame), content_(content) {
    contexts_.push_back({std::nullopt, 1, -frame.offset, frame.grid});
  }

  BarLayout lay_out(const std::vector<RhythmWord>& words) {
    for (std::size_t i = 0; i < words.size();) i = walk_top(words, i);
    for (const Stretch& stretch : stretches_) cut(stretch);
    find_tuplet_ends();
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
      RhythmWord whole = words[first];
      whole.end = words[last - 1].end;
      add_leaf(whole, 0);
      return last;
    }
    const std::int64_t actual = odd_part(common);
    const std::int64_t normal = power_below(actual);
    const Rational unit(actual, common * normal);
    const std::size_t context =
        open_tuplet({actual, normal, unit, {}, 1, 0, 0, false}, words[first].begin, 0);
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
    if (!word.is_group()) {
      add_leaf(word, context);
      return;
    }
    const Rational span = (word.end - word.begin) * contexts_[context].scale;
    const std::int64_t shares = word.shares;
    const bool plain = shares == 1 || single_value(span / shares);
    const std::size_t inner = plain ? context : open_group(word, span, context);
    for (const RhythmWord& part : word.parts) walk(part, inner);
  }

  std::size_t open_group(const RhythmWord& word, Rational span, std::size_t context) {
    const std::int64_t normal = normal_count(word.shares, span);
    return open_tuplet({word.shares, normal, span / normal, {}, 1, 0, 0, false}, word.begin,
                       context);
  }

  // The context inside a new tuplet that begins at a place of the bar.
  std::size_t open_tuplet(Tuplet tuplet, Rational begin, std::size_t context) {
    const Context outer = contexts_[context];
    tuplet.around = outer.tuplet;
    if (outer.tuplet) tuplet.depth = layout_.tuplets[*outer.tuplet].depth + 1;
    layout_.tuplets.push_back(tuplet);
    contexts_.push_back({layout_.tuplets.size() - 1,
                         outer.scale * Rational(tuplet.actual, tuplet.normal), begin,
                         MetricGrid::of_tuplet(tuplet.actual, tuplet.unit)});
    return contexts_.size() - 1;
  }

  void add_leaf(const RhythmWord& word, std::size_t context) {
    if (!stretches_.empty()) {
      Stretch& last = stretches_.back();
      const bool joins = last.span == word.span && last.context == context &&
                         last.end == word.begin && !is_barrier(word.begin);
      if (joins) {
        last.end = word.end;
        return;
      }
    }
    stretches_.push_back({word.begin, word.end, word.span, context});
  }

  bool is_barrier(Rational place) const {
    return std::find(frame_.barriers.begin(), frame_.barriers.end(), place) !=
           frame_.barriers.end();
  }

  void cut(const Stretch& stretch) {
    const Context& context = contexts_[stretch.context];
    const Rational begin = context.place(stretch.begin);
    const Rational end = context.place(stretch.end);
    const bool is_rest = !content_.spans[stretch.span].note;
    const auto parts =
        is_rest ? cut_rest(begin, end, context.grid) : cut_note(begin, end, context.grid);
    for (const ValuePiece& part : parts) {
      Piece piece;
      piece.begin = context.in_bar(part.begin);
      piece.end = context.in_bar(part.end);
      piece.span = stretch.span;
      piece.value = part.value;
      piece.tuplet = context.tuplet;
      piece.place = part.begin;
      piece.place_end = part.end;
      layout_.pieces.push_back(piece);
    }
  }

  void find_tuplet_ends() {
    std::vector<bool> seen(layout_.tuplets.size(), false);
    for (std::size_t i = 0; i < layout_.pieces.size(); ++i) {
      for (auto tuplet = layout_.pieces[i].tuplet; tuplet;
           tuplet = layout_.tuplets[*tuplet].around) {
        Tuplet& at = layout_.tuplets[*tuplet];
        if (!seen[*tuplet]) at.first_piece = i;
        seen[*tuplet] = true;
        at.last_piece = i;
      }
    }
  }

  const BarFrame& frame_;
  const model::BarContent& content_;
  std::vector<Context> contexts_;  // the bar, then one a tuplet
  std::vector<Stretch> stretches_;
  BarLayout layout_;
};

}  // namespace

Tuplet BarLayout::product(std::size_t tuplet) const {
  Tuplet all = tuplets[tuplet];
  for (auto around = all.around; around; around = tuplets[*around].around) {
    all.actual *= tuplets[*around].actual;
    all.normal *= tuplets[*around].normal;
  }
  return all;
}

BarFrame bar_frame(const model::Score& score, std::size_t measure,
                   const model::BarContent& content) {
  const model::Measure& bar = score.measures[measure];
  BarFrame frame{MetricGrid::of_bar(bar.meter, bar.beat), 0, {}, bar.length == bar.meter.length()};
  if (model::fraction_comes_first(score, measure)) {
    frame.offset = bar.meter.length() - bar.length;
  }
  for (const std::size_t index : content.directions) {
    const model::Direction& direction = score.directions[index];
    if (std::holds_alternative<model::KeyChange>(direction.value)) {
      frame.barriers.push_back(direction.onset);
    }
  }
  return frame;
}

BarLayout lay_out_bar(const BarFrame& frame, const model::BarContent& content,
                      const std::vector<RhythmWord>& words) {
  const bool only_a_rest = content.spans.size() == 1 && !content.spans[0].note;
  if (only_a_rest && frame.is_full) {
    Piece piece;
    piece.begin = content.spans[0].begin;
    piece.end = content.spans[0].end;
    BarLayout layout;
    layout.pieces.push_back(piece);
    return layout;
  }
  return BarWalk(frame, content).lay_out(words);
}

namespace {

using model::Rational;

class BeamFinder {
 public:
  BeamFinder(const BarFrame& frame, const model::BarContent& content, BarLayout& layout)
      : frame_(frame), content_(content), layout_(layout) {}

  void run() {
    std::size_t first = 0;
    while (first < layout_.pieces.size()) {
      std::size_t last = first;
      while (last + 1 < layout_.pieces.size() && beams_on(last)) ++last;
      if (last > first) beam_group(first, last);
      first = last + 1;
    }
  }

 private:
  int flags(std::size_t piece) const {
    const Piece& at = layout_.pieces[piece];
    const bool is_note = content_.spans[at.span].note.has_value();
    return is_note && at.value ? flag_count(*at.value) : 0;
  }

  Rational group_of(const Piece& piece) const {
    return frame_.grid.beam_group(piece.begin + frame_.offset);
  }

  // Whether a piece is beamed to the next one.
  bool beams_on(std::size_t piece) const {
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
    const MetricGrid grid = grid_of(piece);
    return grid.level(piece.place_end) < grid.level(piece.place);
  }

  MetricGrid grid_of(const Piece& piece) const {
    if (!piece.tuplet) return frame_.grid;
    const Tuplet& tuplet = layout_.tuplets[*piece.tuplet];
    return MetricGrid::of_tuplet(tuplet.actual, tuplet.unit);
  }

  const BarFrame& frame_;
  const model::BarContent& content_;
  BarLayout& layout_;
};

}  // namespace

void add_beams(const BarFrame& frame, const model::BarContent& content, BarLayout& layout) {
  BeamFinder(frame, content, layout).run();
}

}  // namespace yubifu::musicxml
