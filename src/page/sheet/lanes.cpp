#include "page/sheet/lanes.h"

#include <algorithm>
#include <utility>

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
  // For each of Score::verses the room of its widest syllable, in units of the text's size; 0
  // where it has none.
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

// Looks at every note, rest and bar of a column.
class Survey {
 public:
  Survey(const model::Score& score, const Strip& strip, HolesShown holes)
      : score_(score), strip_(strip), holes_(holes) {
    needs_.syllable_widths.assign(score.verses.size(), 0);
  }

  Needs run(const Column& column) {
    for (const Piece& piece : column.pieces) add_piece(piece);
    return std::move(needs_);
  }

 private:
  void add_piece(const Piece& piece) {
    const Bar& bar = strip_.bars[piece.bar];
    const CellRange range = cells_of(bar, piece);
    for (std::size_t i = range.begin; i < range.end; ++i) add_cell(bar.cells[i]);
    for (const Beam& beam : bar.beams) {
      if (beam.first >= range.begin && beam.first < range.end) {
        needs_.beams = std::max(needs_.beams, beam.rank);
      }
    }
    for (const Bracket& bracket : bar.brackets) {
      if (bracket.begin >= piece.from && bracket.begin < piece.to) {
        needs_.brackets = std::max(needs_.brackets, bracket.rank + 1);
      }
    }
    needs_.endings = needs_.endings || !score_.measures[bar.measure].ending.empty();
  }

  void add_cell(const Cell& cell) {
    if (!cell.note) {
      needs_.marks = needs_.marks || cell.rest.has_value();
      return;
    }
    const model::Note& note = score_.notes[*cell.note];
    if (cell.kind == CellKind::number) add_start(note, *cell.note);
    if (cell.last_of_note) {
      for (const model::Tone& tone : note.grace_after) add_grace(tone);
    }
    needs_.marks = needs_.marks || !note.marks.empty();
    needs_.slurs = needs_.slurs || note.slur_to_next || note.has(model::Mark::suri);
  }

  void add_start(const model::Note& note, std::size_t index) {
    if (note.tone.fingering->half != model::HalfHole::none) needs_.half_holes = true;
    if (note.tone.fingering->bend_cents != 0) needs_.bends = true;
    for (const model::Tone& tone : note.grace_before) add_grace(tone);
    if (const auto pattern = shown_holes(note, holes_)) {
      needs_.holes = std::max(needs_.holes, pattern->holes.size());
    }
    needs_.slurs = needs_.slurs || (index > 0 && score_.notes[index - 1].slur_to_next);
    for (const model::Syllable& syllable : note.syllables) {
      constexpr double kExtension = 0.5;
      double& width = needs_.syllable_widths[verse_index(score_, syllable)];
      width = std::max({width, width_in_column(syllable_text(syllable)), kExtension});
    }
  }

  void add_grace(const model::Tone& tone) {
    needs_.grace_notes = true;
    if (tone.fingering->half != model::HalfHole::none) needs_.grace_half_holes = true;
    if (tone.fingering->bend_cents != 0) needs_.grace_bends = true;
  }

  const model::Score& score_;
  const Strip& strip_;
  HolesShown holes_;
  Needs needs_;
};

// Hands out lanes on either side of the numbers, from the numbers outwards.
class Sides {
 public:
  Sides(double unit, Stretch numbers) : unit_(unit), all_(numbers) {}

  // `width` in units; nothing is taken when it is 0.
  Stretch positive(double width) {
    const double from = all_.to;
    all_.to += width * unit_;
    return {from, all_.to};
  }
  Stretch negative(double width) {
    const double to = all_.from;
    all_.from -= width * unit_;
    return {all_.from, to};
  }

  Stretch all() const { return all_; }

 private:
  double unit_;
  Stretch all_;
};

double beam_width(const Needs& needs) {
  if (needs.beams == 0) return 0;
  return style::kBeamGap + style::kBeamSpacing * (needs.beams - 1) + style::kBeamGap;
}

double bracket_width(const Needs& needs) {
  return style::kBracketLane * needs.brackets;
}

double grace_width(const Needs& needs, ReadingDirection direction) {
  if (!needs.grace_notes) return 0;
  if (direction == ReadingDirection::across) return style::kGraceLane;
  return style::kGraceLane + (needs.grace_half_holes ? style::kGraceHalfHole : 0) +
         (needs.grace_bends ? style::kGraceBend : 0);
}

double small_sign_width(const Needs& needs) {
  if (needs.bends) return style::kBendLane;
  return needs.half_holes ? style::kSmallSignLane : 0;
}

double verse_width(const Needs& needs, std::size_t verse, double text, ReadingDirection direction) {
  constexpr double kMargin = 0.16;
  constexpr double kBetweenWords = 0.4;  // of two verses side by side
  if (direction == ReadingDirection::across) return text + 2 * kMargin;
  const double width = needs.syllable_widths[verse];
  return std::clamp(width * text + (width > 1 ? kBetweenWords : kMargin), style::kSongLane,
                    style::kMostSongLane);
}

void add_verses(Lanes& lanes, Sides& sides, const model::Score& score, const Needs& needs,
                const PageOptions& options, bool shoga) {
  lanes.verses.resize(score.verses.size());
  if (options.song_text == SongText::hidden) return;
  bool first = true;
  for (std::size_t i = 0; i < score.verses.size(); ++i) {
    if ((score.verses[i] == model::kShogaVerse) != shoga || needs.syllable_widths[i] <= 0) continue;
    const double text = shoga ? style::kShogaText : style::kSongText;
    const double width = verse_width(needs, i, text, options.direction);
    const bool right_or_below = (options.direction == ReadingDirection::down) == shoga;
    if (std::exchange(first, false)) {
      right_or_below ? sides.positive(style::kSongGap) : sides.negative(style::kSongGap);
    }
    lanes.verses[i] = right_or_below ? sides.positive(width) : sides.negative(width);
  }
}

// Slurs, grace notes, patterns and marks: beside the numbers to the left or above.
void add_note_lanes(Lanes& lanes, Sides& sides, const Needs& needs, ReadingDirection direction) {
  lanes.slurs = sides.negative(needs.slurs ? style::kSlurLane : 0);
  lanes.graces = sides.negative(grace_width(needs, direction));
  constexpr double kBeforePattern = 0.5;  // holes' room
  if (needs.holes > 0) {
    lanes.holes =
        sides.negative(style::kHolePitch * (static_cast<double>(needs.holes) + kBeforePattern));
  }
  lanes.marks = sides.negative(needs.marks ? style::kMarkLane : 0);
}

Lanes lanes_down(const model::Score& score, const Needs& needs, const PageOptions& options,
                 double unit, std::size_t label_lanes) {
  const double half = style::kHalfNumber * unit;
  Lanes lanes;
  lanes.numbers = {-half, half};
  Sides sides(unit, lanes.numbers);
  sides.positive(small_sign_width(needs));
  lanes.beams = sides.positive(beam_width(needs));
  lanes.brackets = sides.positive(bracket_width(needs));
  add_verses(lanes, sides, score, needs, options, true);
  lanes.endings = sides.positive(needs.endings ? style::kEndingLane : 0);
  for (std::size_t i = 0; i < label_lanes; ++i) {
    lanes.labels.push_back(sides.positive(style::kLabelLane));
  }
  add_note_lanes(lanes, sides, needs, options.direction);
  add_verses(lanes, sides, score, needs, options, false);
  lanes.all = sides.all();
  return lanes;
}

Lanes lanes_across(const model::Score& score, const Needs& needs, const PageOptions& options,
                   double unit, std::size_t label_lanes) {
  const double half = style::kHalfNumber * unit;
  Lanes lanes;
  lanes.numbers = {-half - style::kDotRoom * unit, half};
  Sides sides(unit, lanes.numbers);
  lanes.beams = sides.positive(beam_width(needs));
  add_verses(lanes, sides, score, needs, options, false);
  lanes.bends = sides.negative(needs.bends ? style::kBendLaneOver : 0);
  lanes.brackets = sides.negative(bracket_width(needs));
  add_note_lanes(lanes, sides, needs, options.direction);
  add_verses(lanes, sides, score, needs, options, true);
  lanes.endings = sides.negative(needs.endings ? style::kEndingLane : 0);
  for (std::size_t i = 0; i < label_lanes; ++i) {
    lanes.labels.push_back(sides.negative(style::kLabelLane));
  }
  lanes.all = sides.all();
  return lanes;
}

}  // namespace

Lanes make_lanes(const model::Score& score, const Strip& strip, const Column& column,
                 const PageOptions& options, double unit, std::size_t label_lanes) {
  const Needs needs = Survey(score, strip, options.holes).run(column);
  return options.direction == ReadingDirection::down
             ? lanes_down(score, needs, options, unit, label_lanes)
             : lanes_across(score, needs, options, unit, label_lanes);
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
