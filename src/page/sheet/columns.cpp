#include "page/sheet/columns.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// How large a number should be that lasts a part of a beat.
double wanted_ratio(double length) {
  constexpr double kHalf = 0.49;
  constexpr double kThird = 0.33;
  if (length > kHalf) return 1;
  return length > kThird ? style::kThirdsRatio : style::kQuartersRatio;
}

// The room a cell asks along the column, in pitches.
double wanted_room(const model::Score& score, const Cell& cell, ReadingDirection direction,
                   double pitch) {
  if (cell.kind != CellKind::number) return 1;
  const model::Note& note = score.notes[*cell.note];
  double room = static_cast<double>(note.grace_count()) * style::kGrace;
  if (direction == ReadingDirection::across) {
    for (const model::Syllable& syllable : note.syllables) {
      constexpr double kBetween = 0.35;
      room = std::max(room, text_width(syllable_text(syllable)) * style::kSongText + kBetween);
    }
  }
  return std::max(1.0, room / pitch);
}

// The step, in pitches, at which nearly all beats look well; the few others get smaller numbers.
double wanted_step(const model::Score& score, const Strip& strip, ReadingDirection direction,
                   double pitch) {
  constexpr double kQuarter = 0.24;
  std::vector<double> steps;
  double least = style::kShortestStep;
  for (const Bar& bar : strip.bars) {
    auto seam = bar.seams.begin();
    steps.push_back(style::kShortestStep);
    for (const Cell& cell : bar.cells) {
      if (seam != bar.seams.end() && cell.begin >= *seam - style::kSlack) {
        steps.push_back(style::kShortestStep);
        ++seam;
      }
      if (cell.length > kQuarter) least = std::max(least, style::kFewRatio / cell.length);
      const double room = wanted_room(score, cell, direction, pitch);
      steps.back() = std::max(steps.back(), room * wanted_ratio(cell.length) / cell.length);
    }
  }
  if (steps.empty()) return style::kShortestStep;
  const auto few = static_cast<std::size_t>(style::kFewBeats * static_cast<double>(steps.size()));
  const auto wanted = steps.end() - 1 - static_cast<std::ptrdiff_t>(few);
  std::nth_element(steps.begin(), wanted, steps.end());
  return std::clamp(*wanted, least, style::kLongestStep);
}

// The most frequent length of a bar; of equals the longer.
double usual_length(const Strip& strip) {
  std::map<double, int> counts;
  for (const Bar& bar : strip.bars) ++counts[bar.length];
  const auto usual = std::max_element(
      counts.rbegin(), counts.rend(),
      [](const auto& longer, const auto& shorter) { return longer.second < shorter.second; });
  return usual == counts.rend() ? 0 : usual->first;
}

// The step changed a little, so that usual bars, or beats of a longer bar, fill a column.
double filling_step(const Strip& strip, const Spacing& spacing) {
  const double room = spacing.length - spacing.lead;
  const double usual = usual_length(strip);
  if (usual <= 0) return spacing.step;
  const double fitting = room / (usual * spacing.step + spacing.gap);
  const auto step_for = [&](double bars) { return (room - bars * spacing.gap) / (bars * usual); };
  const double one_more = step_for(std::floor(fitting) + 1);
  if (one_more >= spacing.step * style::kMostShrinking) return one_more;
  double filling = 0;
  if (fitting >= 1) {
    filling = step_for(std::floor(fitting));
  } else {
    const double most = std::max(1.0, std::floor((room - spacing.gap) / spacing.step));
    const double parts = std::ceil(usual / most);
    filling = (room - spacing.gap) / std::ceil(usual / parts);
  }
  return std::min(filling, spacing.step * style::kMostStretch);
}

double longest_word(const Bar& bar) {
  double longest = 0;
  double begin = 0;
  for (const double seam : bar.seams) {
    longest = std::max(longest, seam - begin);
    begin = seam;
  }
  return std::max(longest, bar.length - begin);
}

// Cuts a bar that is longer than a column. Lengths in steps of the bar.
struct Cutter {
  const Bar& bar;
  double room;
  double gap;
  // Of more parts the last one makes no difference to the others.
  static constexpr std::size_t kMostEvenParts = 8;

  // The end of the part that begins at `from`.
  double next(double from) const {
    const std::size_t parts = parts_from(from);
    if (parts > kMostEvenParts) return furthest(from);
    const double even = from + (bar.length - from) / static_cast<double>(parts);
    const auto seam = std::lower_bound(bar.seams.begin(), bar.seams.end(), even - style::kSlack);
    const double to = parts == 1 || seam == bar.seams.end() ? bar.length : *seam;
    const bool fits = to <= from + room + style::kSlack && parts_from(to) < parts;
    return fits ? to : furthest(from);
  }

  // How far a part can reach. The room of the bar line is only needed after the last one.
  double furthest(double from) const {
    const double most = from + room + style::kSlack;
    if (bar.length + gap <= most) return bar.length;
    const auto after = std::upper_bound(bar.seams.begin(), bar.seams.end(), most);
    if (after != bar.seams.begin() && *std::prev(after) > from) return *std::prev(after);
    return after == bar.seams.end() ? bar.length : *after;
  }

  // How many parts the rest of the bar needs, or more than kMostEvenParts.
  std::size_t parts_from(double from) const {
    std::size_t parts = 0;
    while (from < bar.length && parts <= kMostEvenParts) {
      from = furthest(from);
      ++parts;
    }
    return parts;
  }
};

struct Breaker {
  const Strip& strip;
  std::vector<bool> ends_phrase;  // for each bar
  Spacing spacing;
  std::vector<Column> columns = {};
  std::vector<std::size_t> crowded = {};
  double place = 0;

  double room() const { return spacing.length - spacing.lead; }

  void add_bar(std::size_t index) {
    const Bar& bar = strip.bars[index];
    const double step = spacing.step * stretch_of(index);
    const double whole = bar.length * step + spacing.gap;
    if (columns.empty()) new_column();
    if (place + whole > spacing.length + style::kSlack) next_column(whole);
    if (whole <= room() + style::kSlack) {
      add_piece({index, 0, bar.length, place, step, true, true});
    } else {
      add_parts(index, step);
    }
  }

  // A new column. Bars behind the last end of a phrase go with it, where that costs little room.
  void next_column(double whole) {
    std::vector<Piece>& pieces = columns.back();
    const auto is_end = [&](const Piece& piece) { return piece.last && ends_phrase[piece.bar]; };
    auto moved = pieces.end();
    while (moved != pieces.begin() && !is_end(*std::prev(moved))) --moved;
    const double end = moved == pieces.begin() ? 0 : std::prev(moved)->end() + spacing.gap;
    const bool cheap = end >= spacing.length * (1 - style::kPhraseCost);
    if (!cheap || place - end + whole > room()) moved = pieces.end();
    const std::vector<Piece> following(moved, pieces.end());
    pieces.erase(moved, pieces.end());
    new_column();
    for (Piece piece : following) {
      piece.begin = place;
      add_piece(piece);
    }
  }

  // Parts of about the same length, since three beats and one are harder to read than two and two.
  void add_parts(std::size_t index, double step) {
    const Bar& bar = strip.bars[index];
    const Cutter cutter{bar, room() / step, spacing.gap / step};
    double from = 0;
    while (from < bar.length) {
      const double to = cutter.next(from);
      add_piece({index, from, to, place, step, from <= 0, to >= bar.length});
      from = to;
      if (from < bar.length) new_column();
    }
  }

  void add_piece(const Piece& piece) {
    columns.back().push_back(piece);
    place = piece.end() + (piece.last ? spacing.gap : 0);
  }

  void new_column() {
    if (!columns.empty() && columns.back().empty()) return;
    columns.emplace_back();
    place = spacing.lead;
  }

  // By how much a bar's steps are longer than the others.
  double stretch_of(std::size_t index) {
    const Bar& bar = strip.bars[index];
    double shortest = 1;
    for (const Cell& cell : bar.cells) shortest = std::min(shortest, cell.length);
    const double ratio = size_ratio(spacing, shortest * spacing.step);
    double stretch = std::max(1.0, std::ceil(style::kLeastRatio / ratio - style::kSlack));
    const double most = (room() - spacing.gap) / (longest_word(bar) * spacing.step);
    if (stretch > most) stretch = most >= 1 ? std::floor(most) : most;
    if (ratio * stretch < style::kLeastRatio - style::kSlack) crowded.push_back(index);
    return stretch;
  }
};

// Whether a phrase ends with each bar: at double bars, repeats, sections, and the author's lines.
std::vector<bool> phrase_ends(const model::Score& score) {
  std::vector<bool> ends(score.measures.size(), false);
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const model::Measure& measure = score.measures[i];
    if (measure.right != model::BarStyle::regular || measure.repeat_end) ends[i] = true;
    const bool own_line = measure.break_before == model::LineBreak::line ||
                          measure.break_before == model::LineBreak::blank_line;
    if (i > 0 && (own_line || measure.repeat_start)) ends[i - 1] = true;
  }
  for (const model::Direction& direction : score.directions) {
    if (direction.measure > 0 && std::holds_alternative<model::SectionStart>(direction.value)) {
      ends[direction.measure - 1] = true;
    }
  }
  return ends;
}

}  // namespace

double size_ratio(const Spacing& spacing, double cell_length) {
  return std::min(1.0, cell_length / spacing.pitch);
}

std::pair<std::size_t, std::size_t> cells_of(const Bar& bar, const Piece& piece) {
  const auto first_from = [&](double step) {
    const auto found = std::partition_point(bar.cells.begin(), bar.cells.end(), [&](const Cell& c) {
      return c.begin < step - style::kSlack;
    });
    return static_cast<std::size_t>(found - bar.cells.begin());
  };
  return {first_from(piece.from), piece.last ? bar.cells.size() : first_from(piece.to)};
}

Columns break_into_columns(const model::Score& score, const Strip& strip,
                           ReadingDirection direction, double unit, double length) {
  const auto has_half_hole = [](const model::Note& note) {
    return note.tone.fingering->half != model::HalfHole::none;
  };
  const bool half_holes = std::any_of(score.notes.begin(), score.notes.end(), has_half_hole);
  bool repeat_starts = false;
  bool repeats = false;
  for (const model::Measure& measure : score.measures) {
    repeat_starts |= measure.repeat_start;
    repeats |= measure.repeat_start || measure.repeat_end;
  }
  double pitch = style::kPitchDown;
  if (direction == ReadingDirection::across) {
    pitch = style::kPitchAcross + (half_holes ? style::kSmallSignLane : 0);
  }
  Spacing spacing;
  spacing.unit = unit;
  spacing.pitch = pitch * unit;
  spacing.step = wanted_step(score, strip, direction, pitch) * spacing.pitch;
  const double narrow = direction == ReadingDirection::down ? style::kBarGap : style::kBarGapAcross;
  spacing.gap = (repeats ? style::kWideBarGap : narrow) * unit;
  spacing.lead = repeat_starts ? spacing.gap : style::kColumnLead * unit;
  spacing.length = length;
  spacing.step = filling_step(strip, spacing);
  Breaker breaker{strip, phrase_ends(score), spacing};
  for (std::size_t i = 0; i < strip.bars.size(); ++i) breaker.add_bar(i);
  return {spacing, std::move(breaker.columns), std::move(breaker.crowded)};
}

}  // namespace yubifu::page
