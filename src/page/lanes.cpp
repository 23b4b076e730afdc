#include "page/lanes.h"

#include <algorithm>

#include "page/style.h"
#include "page/syllables.h"

namespace yubifu::page {
namespace {

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
  if (direction == ReadingDirection::across) return text + 2 * kMargin;
  return std::clamp(needs.syllable_widths[verse] * text + kMargin, style::kSongLane,
                    style::kMostSongLane);
}

void add_verses(Lanes& lanes, Sides& sides, const model::Score& score, const Needs& needs,
                const PageOptions& options, bool shoga) {
  lanes.verses.resize(score.verses.size());
  if (options.song_text == SongText::hidden) return;
  for (std::size_t i = 0; i < score.verses.size(); ++i) {
    if (is_shoga(score.verses[i]) != shoga || needs.syllable_widths[i] <= 0) continue;
    const double text = shoga ? style::kShogaText : style::kSongText;
    const double width = verse_width(needs, i, text, options.direction);
    const bool right_or_below = (options.direction == ReadingDirection::down) == shoga;
    lanes.verses[i] = right_or_below ? sides.positive(width) : sides.negative(width);
  }
}

// Slurs, grace notes, patterns and marks: beside the numbers to the left or above.
void add_note_lanes(Lanes& lanes, Sides& sides, const Needs& needs, ReadingDirection direction) {
  lanes.slurs = sides.negative(needs.slurs ? style::kSlurLane : 0);
  lanes.graces = sides.negative(grace_width(needs, direction));
  lanes.holes = sides.negative(needs.asked_holes ? style::kHolesLane : 0);
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

Lanes make_lanes(const model::Score& score, const Needs& needs, const PageOptions& options,
                 double unit, std::size_t label_lanes) {
  return options.direction == ReadingDirection::down
             ? lanes_down(score, needs, options, unit, label_lanes)
             : lanes_across(score, needs, options, unit, label_lanes);
}

}  // namespace yubifu::page
