// The lanes beside the numbers of a column: what a column uses gets one, in a fixed order.
#include <algorithm>

#include "page/sheet/column_drawing.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// What of a column takes room beside the numbers.
struct Needs {
  bool half_holes = false;  // メ or カ at a main note
  bool bends = false;
  bool grace_notes = false;
  bool grace_half_holes = false;
  bool grace_bends = false;
  std::size_t holes = 0;  // of the longest pattern
  bool marks = false;
  bool slurs = false;  // or slides, also those that come from the column before
  bool endings = false;
  int beams = 0;
  int brackets = 0;
  // For each of Score::verses its widest syllable, in units of the text's size; 0 without one.
  std::vector<double> syllable_widths;
};

// Wide characters stand one under another, so a syllable of them is one wide.
double width_in_column(const std::string& text) {
  double widest = 0;
  for (const ColumnRun& run : column_runs(text)) {
    widest = std::max(widest, run.upright ? 1.0 : text_width(run.text));
  }
  return widest;
}

void add_graces(Needs& needs, const std::vector<model::Tone>& tones) {
  for (const model::Tone& tone : tones) {
    needs.grace_notes = true;
    needs.grace_half_holes |= tone.fingering->half != model::HalfHole::none;
    needs.grace_bends |= tone.fingering->bend_cents != 0;
  }
}

void add_start(Needs& needs, const model::Score& score, std::size_t index, HolesShown holes) {
  const model::Note& note = score.notes[index];
  needs.half_holes |= note.tone.fingering->half != model::HalfHole::none;
  needs.bends |= note.tone.fingering->bend_cents != 0;
  add_graces(needs, note.grace_before);
  if (const auto pattern = shown_holes(note, holes)) {
    needs.holes = std::max(needs.holes, pattern->holes.size());
  }
  needs.slurs |= index > 0 && score.notes[index - 1].slur_to_next;
  for (const model::Syllable& syllable : note.syllables) {
    constexpr double kExtension = 0.5;
    double& width = needs.syllable_widths[verse_index(score, syllable)];
    width = std::max({width, width_in_column(syllable_text(syllable)), kExtension});
  }
}

Needs needs_of(const model::Score& score, const Strip& strip, HolesShown holes,
               const Column& column) {
  Needs needs;
  needs.syllable_widths.assign(score.verses.size(), 0);
  for (const Piece& piece : column) {
    const Bar& bar = strip.bars[piece.bar];
    const auto [begin, end] = cells_of(bar, piece);
    for (std::size_t i = begin; i < end; ++i) {
      const Cell& cell = bar.cells[i];
      needs.marks |= cell.rest.has_value();
      if (!cell.note) continue;
      const model::Note& note = score.notes[*cell.note];
      if (cell.kind == CellKind::number) add_start(needs, score, *cell.note, holes);
      if (cell.last_of_note) add_graces(needs, note.grace_after);
      needs.marks |= !note.marks.empty();
      needs.slurs |= note.slur_to_next || note.has(model::Mark::suri);
    }
    for (const Beam& beam : bar.beams) {
      const bool here = beam.first >= begin && beam.first < end;
      if (here) needs.beams = std::max(needs.beams, beam.rank);
    }
    for (const Bracket& bracket : bar.brackets) {
      const bool here = bracket.begin >= piece.from && bracket.begin < piece.to;
      if (here) needs.brackets = std::max(needs.brackets, bracket.rank + 1);
    }
    needs.endings |= !score.measures[bar.measure].ending.empty();
  }
  return needs;
}

// Where a lane is taken: to the right of the numbers or below them, or on the other side.
enum class Side { positive, negative };

// Takes lanes on either side of the numbers, from the numbers outwards.
struct LaneTaker {
  const model::Score& score;
  const Needs& needs;
  bool down;
  double unit;
  Lanes lanes = {};

  // `width` in units; a lane that is not wanted has no length.
  Stretch take(Side side, double width, bool wanted = true) {
    double& edge = side == Side::positive ? lanes.all.to : lanes.all.from;
    const double before = edge;
    if (wanted) edge += (side == Side::positive ? width : -width) * unit;
    return side == Side::positive ? Stretch{before, edge} : Stretch{edge, before};
  }

  // Slurs, grace notes, patterns and marks: beside the numbers to the left or above.
  void take_for_notes() {
    constexpr double kBeforePattern = 0.5;  // holes' room
    const double graces = style::kGraceLane +
                          (down && needs.grace_half_holes ? style::kGraceHalfHole : 0) +
                          (down && needs.grace_bends ? style::kGraceBend : 0);
    const double holes = style::kHolePitch * (static_cast<double>(needs.holes) + kBeforePattern);
    lanes.slurs = take(Side::negative, style::kSlurLane, needs.slurs);
    lanes.graces = take(Side::negative, graces, needs.grace_notes);
    if (needs.holes > 0) lanes.holes = take(Side::negative, holes);
    lanes.marks = take(Side::negative, style::kMarkLane, needs.marks);
  }

  void take_for_verses(Side side, bool shoga) {
    constexpr double kMargin = 0.16;
    constexpr double kBetweenWords = 0.4;  // of two verses side by side
    const double text = shoga ? style::kShogaText : style::kSongText;
    bool first = true;
    for (std::size_t i = 0; i < score.verses.size(); ++i) {
      const double widest = needs.syllable_widths[i];
      if ((score.verses[i] == model::kShogaVerse) != shoga || widest <= 0) continue;
      if (first) take(side, style::kSongGap);
      first = false;
      const double in_column = widest * text + (widest > 1 ? kBetweenWords : kMargin);
      const double width =
          down ? std::clamp(in_column, style::kSongLane, style::kMostSongLane) : text + 2 * kMargin;
      lanes.verses[i] = take(side, width);
    }
  }
};

}  // namespace

Lanes make_lanes(const model::Score& score, const Strip& strip, const Column& column,
                 const PageOptions& options, double unit, std::size_t label_lanes) {
  const Needs needs = needs_of(score, strip, options.holes, column);
  const bool down = options.direction == ReadingDirection::down;
  const Side texts = down ? Side::positive : Side::negative;
  const Side others = down ? Side::negative : Side::positive;
  LaneTaker taker{score, needs, down, unit};
  Lanes& lanes = taker.lanes;
  const double half = style::kHalfNumber * unit;
  lanes.numbers = {-half - (down ? 0 : style::kDotRoom * unit), half};
  lanes.all = lanes.numbers;
  lanes.verses.resize(score.verses.size());
  if (down) {
    taker.take(Side::positive, needs.bends ? style::kBendLane : style::kSmallSignLane,
               needs.bends || needs.half_holes);
  } else {
    lanes.bends = taker.take(Side::negative, style::kBendLaneOver, needs.bends);
  }
  const double beams = 2 * style::kBeamGap + style::kBeamSpacing * (needs.beams - 1);
  lanes.beams = taker.take(Side::positive, beams, needs.beams > 0);
  lanes.brackets = taker.take(texts, style::kBracketLane * needs.brackets);
  taker.take_for_notes();
  const bool song = options.song_text == SongText::shown;
  if (song) taker.take_for_verses(texts, true);
  lanes.endings = taker.take(texts, style::kEndingLane, needs.endings);
  for (std::size_t i = 0; i < label_lanes; ++i) {
    lanes.labels.push_back(taker.take(texts, style::kLabelLane));
  }
  if (song) taker.take_for_verses(others, false);
  return lanes;
}

std::optional<model::HolePattern> shown_holes(const model::Note& note, HolesShown shown) {
  if (note.asked_holes || shown == HolesShown::asked) return note.asked_holes;
  return note.tone.holes;
}

std::size_t verse_index(const model::Score& score, const model::Syllable& syllable) {
  const auto found = std::find(score.verses.begin(), score.verses.end(), syllable.verse);
  return static_cast<std::size_t>(found - score.verses.begin());
}

}  // namespace yubifu::page
