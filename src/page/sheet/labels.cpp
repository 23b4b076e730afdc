#include "page/sheet/labels.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

using model::Cue;
using model::Rational;

// Texts of at most this width stand upright in a column, like numbers in vertical writing.
constexpr double kMostUpright = 1.45;
constexpr double kUprightLength = 1.2;
constexpr double kGlyphLength = 1.15;
constexpr double kPadding = 0.3;  // on both sides of a boxed label
constexpr double kLaneGap = 0.5;  // between labels of one lane
// Spaces at the ends of a text do not break, since XML drops others.
constexpr std::string_view kNoBreak = " ";
constexpr std::string_view kFreeTime = "自由";
constexpr double kMostShift = 12;  // of a label from its place

// A note of so many quarters, or the part of a whole note that has no sign.
LabelPart note_value(Rational quarters) {
  constexpr int kValues = 5;  // from the whole note down; then the same with a dot
  Rational unit = 4;
  for (int i = 0; i < kValues; ++i, unit = unit / 2) {
    const int glyph = static_cast<int>(GlyphId::whole_note) + i;
    if (quarters == unit) return static_cast<GlyphId>(glyph);
    if (quarters == unit * Rational(3, 2)) return static_cast<GlyphId>(glyph + kValues);
  }
  return model::beat_text(quarters);
}

// "to" and the sign of the coda, in the order of the language.
std::vector<LabelPart> to_coda() {
  constexpr std::string_view kSign = "@";
  const std::string text = base::message("to {}", kSign);
  const std::size_t sign = text.find(kSign);
  std::vector<LabelPart> parts{text.substr(0, sign), GlyphId::coda, text.substr(sign + 1)};
  std::erase(parts, LabelPart(std::string()));
  return parts;
}

std::vector<LabelPart> cue_parts(Cue cue) {
  if (cue == Cue::segno) return {GlyphId::segno};
  if (cue == Cue::coda) return {GlyphId::coda};
  if (cue == Cue::to_coda) return to_coda();
  if (cue == Cue::caesura) return {GlyphId::caesura};
  if (cue == Cue::until_cue) return {base::message("until cue")};
  return {std::string(model::printed(cue))};
}

// What a plain number lasts from here on, if the sheet must say so. `told` is what it last said;
// before that a player expects one over the meter's denominator. In compound meters that could as
// well be the felt beat, so nothing is certain there.
std::optional<Rational> untold_beat(std::optional<Rational>& told, const model::Meter& meter,
                                    Rational beat) {
  const Rational usual = default_beat(meter);
  if (told ? *told == beat : usual == beat && felt_beat(meter, usual) == usual) return std::nullopt;
  told = beat;
  return beat;
}

// A label without parts says nothing.
Label label_of(const model::DirectionValue& value, const model::Meter& meter,
               std::optional<Rational>& told_beat) {
  Label label;
  if (const auto* change = std::get_if<model::TempoChange>(&value)) {
    label.parts = tempo_parts(change->tempo);
  } else if (const auto* beat_change = std::get_if<model::BeatChange>(&value)) {
    const auto beat = untold_beat(told_beat, meter, beat_change->beat);
    if (beat) label.parts = beat_parts(*beat);
  } else if (const auto* flute = std::get_if<model::FluteChange>(&value)) {
    label = {.style = LabelStyle::boxed, .parts = {flute_label(flute->flute)}};
  } else if (const auto* cue = std::get_if<Cue>(&value)) {
    label = {.style = LabelStyle::bold, .parts = cue_parts(*cue)};
  } else if (const std::string* text = model::free_text(value)) {
    label.parts = {*text};
    if (std::holds_alternative<model::SectionStart>(value)) label.style = LabelStyle::boxed;
    if (std::holds_alternative<model::Dynamic>(value)) label.style = LabelStyle::bold;
  }
  return label;
}

bool stands_across_column(const std::string& text) {
  const auto runs = column_runs(text);
  return runs.size() == 1 && !runs[0].upright && text_width(text) <= kMostUpright;
}

double part_length(const LabelPart& part, ReadingDirection direction) {
  if (const auto* id = std::get_if<GlyphId>(&part)) {
    return direction == ReadingDirection::down ? kGlyphLength : kGlyphLength * aspect(*id);
  }
  const auto& text = std::get<std::string>(part);
  if (direction == ReadingDirection::across) return text_width(text);
  return stands_across_column(text) ? kUprightLength : column_length(text);
}

// In units of the size of its text.
double label_length(const Label& label, ReadingDirection direction) {
  double length = label.style == LabelStyle::boxed ? 2 * kPadding : 0;
  for (const LabelPart& part : label.parts) length += part_length(part, direction);
  return length;
}

}  // namespace

std::string meter_text(const model::Meter& meter) {
  return meter.is_free() ? std::string(kFreeTime) : to_text(meter);
}

std::optional<Rational> beat_in_heading(const model::Score& score) {
  if (score.measures.empty()) return std::nullopt;
  std::optional<Rational> told;
  return untold_beat(told, score.header.meter, score.measures.front().beat);
}

std::vector<LabelPart> beat_parts(Rational beat) {
  return {GlyphId::kanji_3, fmt::format("{0}={0}", kNoBreak), note_value(beat)};
}

std::vector<LabelPart> tempo_parts(const model::Tempo& tempo) {
  const std::string number = fmt::format("{}= {}", kNoBreak, to_decimal(tempo.per_minute));
  return {note_value(tempo.unit), number};
}

std::vector<Label> labels_of(const model::Score& score, const Strip& strip) {
  std::vector<Label> labels;
  std::size_t next = 0;
  std::optional<Rational> told_beat;
  for (std::size_t i = 0; i < strip.bars.size(); ++i) {
    const model::Measure& here = score.measures[i];
    if (i > 0 && here.meter != score.measures[i - 1].meter) {
      labels.push_back({i, 0, false, LabelStyle::bold, {meter_text(here.meter)}});
    }
    // The first one stands in the heading.
    const auto beat = untold_beat(told_beat, here.meter, here.beat);
    if (i > 0 && beat) labels.push_back({i, 0, false, LabelStyle::plain, beat_parts(*beat)});
    for (; next < score.directions.size() && score.directions[next].measure == i; ++next) {
      const model::Direction& direction = score.directions[next];
      Label label = label_of(direction.value, here.meter, told_beat);
      if (label.parts.empty()) continue;
      label.bar = i;
      label.step = strip.bars[i].step_at(direction.onset);
      label.at_end = direction.onset == here.length && direction.onset > 0;
      labels.push_back(std::move(label));
    }
    if (!here.repeat_end || here.times == 2) continue;
    labels.push_back(
        {i, strip.bars[i].length, true, LabelStyle::bold, {fmt::format("×{}", here.times)}});
  }
  return labels;
}

std::vector<std::vector<PlacedLabel>> place_labels(const std::vector<Label>& labels,
                                                   const Columns& columns,
                                                   ReadingDirection direction) {
  const Spacing& spacing = columns.spacing;
  std::vector<std::vector<PlacedLabel>> all;
  std::size_t next = 0;
  for (const Column& column : columns.columns) {
    std::vector<PlacedLabel>& placed = all.emplace_back();
    std::vector<double> ends;  // of the last label in each lane
    // One that finds its place taken moves on a little; one that would move far gets its own lane.
    const auto place = [&](const Label& label, const Piece& piece) {
      const double units = label_length(label, direction);
      const double size = std::min(style::kLabelText * spacing.unit, spacing.length / units);
      const double length = units * size;
      const double last = spacing.length - length;
      const double wanted =
          std::clamp(piece.at(label.step) - (label.at_end ? length : 0), 0.0, last);
      const double latest = label.at_end ? wanted : std::min(last, wanted + kMostShift * size);
      std::size_t lane = 0;
      while (lane < ends.size() && ends[lane] > latest) ++lane;
      if (lane == ends.size()) ends.push_back(0);
      const double begin = std::max(wanted, ends[lane]);
      ends[lane] = begin + length + kLaneGap * size;
      placed.push_back({&label, {begin, begin + length}, lane, size});
    };
    for (const Piece& piece : column) {
      for (; next < labels.size() && labels[next].bar == piece.bar; ++next) {
        const Label& label = labels[next];
        if (!piece.last && (label.at_end || label.step >= piece.to)) break;
        place(label, piece);
      }
    }
  }
  return all;
}

std::vector<Item> draw_label(const PlacedLabel& placed, const Frame& frame, Stretch lane) {
  const Label& label = *placed.label;
  const bool down = frame.is_down();
  const double size = placed.size;
  const double aside = lane.middle();
  double along = placed.along.from;
  std::vector<Item> items;
  if (label.style == LabelStyle::boxed) {
    const double inset = 0.04 * lane.length();
    const Box box = frame.box(placed.along, {lane.from + inset, lane.to - inset});
    items.push_back(frame_item(Role::label, box, style::kThinRule * size * 2));
    along += kPadding * size;
  }
  for (const LabelPart& part : label.parts) {
    const double length =
        part_length(part, down ? ReadingDirection::down : ReadingDirection::across) * size;
    const Point middle = frame.at(along + length / 2, aside);
    const auto* text = std::get_if<std::string>(&part);
    if (text == nullptr) {
      items.push_back(glyph_item(Role::label, std::get<GlyphId>(part), middle, size));
    } else if (!down) {
      items.push_back(
          line_around(Role::label, *text, frame.at(along, aside), size, TextAnchor::start));
    } else if (stands_across_column(*text)) {
      items.push_back(line_around(Role::label, *text, middle, size, TextAnchor::middle));
    } else {
      append(items, column_of_text(Role::label, *text, frame.at(along, aside), size, length));
    }
    along += length;
  }
  if (label.style == LabelStyle::plain) return items;
  for (Item& item : items) item = bold(std::move(item));
  return items;
}

}  // namespace yubifu::page
