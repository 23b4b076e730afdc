#include "page/sheet/labels.h"

#include <algorithm>
#include <array>
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

struct UnitGlyph {
  Rational unit;
  GlyphId glyph;
  GlyphId dotted;
};
const std::array<UnitGlyph, 5> kUnits{
    {{4, GlyphId::whole_note, GlyphId::dotted_whole_note},
     {2, GlyphId::half_note, GlyphId::dotted_half_note},
     {1, GlyphId::quarter_note, GlyphId::dotted_quarter_note},
     {Rational(1, 2), GlyphId::eighth_note, GlyphId::dotted_eighth_note},
     {Rational(1, 4), GlyphId::sixteenth_note, GlyphId::dotted_sixteenth_note}}};

// A note of so many quarters, or the part of a whole note that has no sign.
LabelPart note_value(Rational quarters) {
  for (const UnitGlyph& known : kUnits) {
    if (quarters == known.unit) return known.glyph;
    if (quarters == known.unit * Rational(3, 2)) return known.dotted;
  }
  return model::beat_text(quarters);
}

// "to" and the sign of the coda, in the order of the language.
std::vector<LabelPart> to_coda() {
  constexpr std::string_view kSign = "@";
  const std::string text = base::message("to {}", kSign);
  const std::size_t sign = text.find(kSign);
  std::vector<LabelPart> parts{text.substr(0, sign), GlyphId::coda, text.substr(sign + 1)};
  const auto is_empty = [](const LabelPart& part) { return part == LabelPart(std::string()); };
  parts.erase(std::remove_if(parts.begin(), parts.end(), is_empty), parts.end());
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

// What a number lasts where the sheet has said nothing: one over the meter's denominator. In
// compound meters a player could as well expect the felt beat, so nothing is certain there.
std::optional<Rational> expected_beat(const model::Meter& meter) {
  const Rational usual = default_beat(meter);
  if (felt_beat(meter, usual) != usual) return std::nullopt;
  return usual;
}

// Goes through the beats of a score and knows which of them the sheet must tell.
class ToldBeats {
 public:
  // The beat in force at a place; what to say, or nothing where a player expects it.
  std::optional<Rational> at(const model::Meter& meter, Rational beat) {
    if ((told_ ? told_ : expected_beat(meter)) == beat) return std::nullopt;
    told_ = beat;
    return beat;
  }

 private:
  std::optional<Rational> told_;
};

struct LabelOf {
  std::size_t bar;
  double step;
  bool at_end;
  const model::Meter& meter;
  ToldBeats& beats;

  using Result = std::optional<Label>;
  Label make(LabelStyle style, std::vector<LabelPart> parts) const {
    return {bar, step, at_end, style, std::move(parts)};
  }

  Result operator()(const model::TempoChange& change) const {
    return make(LabelStyle::plain, tempo_parts(change.tempo));
  }
  Result operator()(const model::BeatChange& change) const {
    const auto beat = beats.at(meter, change.beat);
    return beat ? Result(make(LabelStyle::plain, beat_parts(*beat))) : std::nullopt;
  }
  Result operator()(const model::KeyChange&) const { return std::nullopt; }
  Result operator()(const model::FluteChange& change) const {
    return make(LabelStyle::boxed, {flute_label(change.flute)});
  }
  Result operator()(const model::SectionStart& section) const {
    return make(LabelStyle::boxed, {section.name});
  }
  Result operator()(const model::TextDirection& text) const {
    return make(LabelStyle::plain, {text.text});
  }
  Result operator()(const model::Dynamic& dynamic) const {
    return make(LabelStyle::bold, {dynamic.level});
  }
  Result operator()(Cue cue) const { return make(LabelStyle::bold, cue_parts(cue)); }
};

// Labels that come from the bars themselves: a new meter or beat at the start, the number of
// times at the end.
void add_start_labels(std::vector<Label>& labels, const model::Score& score, std::size_t i,
                      ToldBeats& beats) {
  const model::Measure& here = score.measures[i];
  if (i > 0 && here.meter != score.measures[i - 1].meter) {
    labels.push_back({i, 0, false, LabelStyle::bold, {meter_text(here.meter)}});
  }
  // The first one stands in the heading.
  const auto beat = beats.at(here.meter, here.beat);
  if (i > 0 && beat) labels.push_back({i, 0, false, LabelStyle::plain, beat_parts(*beat)});
}

void add_end_label(std::vector<Label>& labels, const model::Score& score, const Strip& strip,
                   std::size_t i) {
  const model::Measure& here = score.measures[i];
  if (!here.repeat_end || here.times == 2) return;
  labels.push_back(
      {i, strip.bars[i].length, true, LabelStyle::bold, {fmt::format("×{}", here.times)}});
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

// Draws the parts of a label one after another.
class LabelDrawer {
 public:
  LabelDrawer(const Label& label, const PlacedLabel& placed, const Frame& frame, Stretch lane)
      : label_(label), size_(placed.size), frame_(frame), lane_(lane), at_(placed.along.from) {}

  std::vector<Item> run(Stretch along) {
    if (label_.style == LabelStyle::boxed) {
      add_frame(along);
      at_ += kPadding * size_;
    }
    for (const LabelPart& part : label_.parts) {
      const double length = part_length(part, direction()) * size_;
      if (const auto* id = std::get_if<GlyphId>(&part)) {
        add_glyph(*id, length);
      } else {
        add_text(std::get<std::string>(part), length);
      }
      at_ += length;
    }
    return std::move(items_);
  }

 private:
  ReadingDirection direction() const {
    return frame_.is_down() ? ReadingDirection::down : ReadingDirection::across;
  }

  void add_frame(Stretch along) {
    constexpr double kInset = 0.04;
    const double inset = kInset * lane_.length();
    items_.push_back(frame_item(Role::label,
                                frame_.box(along, {lane_.from + inset, lane_.to - inset}),
                                style::kThinRule * size_ * 2));
  }

  void add_glyph(GlyphId id, double length) {
    items_.push_back(
        glyph_item(Role::label, id, frame_.at(at_ + length / 2, lane_.middle()), size_));
  }

  void add_text(const std::string& text, double length) {
    const double aside = lane_.middle();
    if (!frame_.is_down()) {
      push(line_around(Role::label, text, frame_.at(at_, aside), size_, TextAnchor::start));
    } else if (stands_across_column(text)) {
      push(line_around(Role::label, text, frame_.at(at_ + length / 2, aside), size_,
                       TextAnchor::middle));
    } else {
      for (Item& item : column_of_text(Role::label, text, frame_.at(at_, aside), size_, length)) {
        push(std::move(item));
      }
    }
  }

  void push(Item item) {
    items_.push_back(label_.style == LabelStyle::plain ? std::move(item) : bold(std::move(item)));
  }

  const Label& label_;
  double size_;
  const Frame& frame_;
  Stretch lane_;
  double at_;
  std::vector<Item> items_;
};

// Places the labels of one column. One that finds its place taken moves on a little; only when
// that would lead too far from its place does it get a lane of its own.
class ColumnOfLabels {
 public:
  ColumnOfLabels(const Spacing& spacing, ReadingDirection direction)
      : spacing_(spacing), direction_(direction) {}

  void add(std::size_t index, const Label& label, const Piece& piece) {
    const double units = label_length(label, direction_);
    const double size = std::min(style::kLabelText * spacing_.unit, spacing_.length / units);
    const double length = units * size;
    const double last = spacing_.length - length;
    const double wanted = std::clamp(piece.at(label.step) - (label.at_end ? length : 0), 0.0, last);
    const double latest = label.at_end ? wanted : std::min(last, wanted + kMostShift * size);
    std::size_t lane = 0;
    while (lane < ends_.size() && ends_[lane] > latest) ++lane;
    if (lane == ends_.size()) ends_.push_back(0);
    const double begin = std::max(wanted, ends_[lane]);
    ends_[lane] = begin + length + kLaneGap * size;
    placed_.push_back({index, {begin, begin + length}, lane, size});
  }

  std::vector<PlacedLabel> take() { return std::move(placed_); }

 private:
  const Spacing& spacing_;
  ReadingDirection direction_;
  std::vector<double> ends_;  // of the last label in each lane
  std::vector<PlacedLabel> placed_;
};

}  // namespace

std::string meter_text(const model::Meter& meter) {
  return meter.is_free() ? std::string(kFreeTime) : to_text(meter);
}

std::optional<Rational> beat_in_heading(const model::Score& score) {
  if (score.measures.empty()) return std::nullopt;
  return ToldBeats().at(score.header.meter, score.measures.front().beat);
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
  ToldBeats beats;
  for (std::size_t i = 0; i < strip.bars.size(); ++i) {
    add_start_labels(labels, score, i, beats);
    for (; next < score.directions.size() && score.directions[next].measure == i; ++next) {
      const model::Direction& direction = score.directions[next];
      const bool at_end = direction.onset == score.measures[i].length && direction.onset > 0;
      const LabelOf label_of{i, strip.bars[i].step_at(direction.onset), at_end,
                             score.measures[i].meter, beats};
      if (auto label = std::visit(label_of, direction.value)) labels.push_back(std::move(*label));
    }
    add_end_label(labels, score, strip, i);
  }
  return labels;
}

std::vector<std::vector<PlacedLabel>> place_labels(const std::vector<Label>& labels,
                                                   const Columns& columns,
                                                   ReadingDirection direction) {
  std::vector<std::vector<PlacedLabel>> all;
  std::size_t next = 0;
  for (const Column& column : columns.columns) {
    ColumnOfLabels placing(columns.spacing, direction);
    for (const Piece& piece : column.pieces) {
      for (; next < labels.size() && labels[next].bar == piece.bar; ++next) {
        const Label& label = labels[next];
        if (!piece.last && (label.at_end || label.step >= piece.to)) break;
        placing.add(next, label, piece);
      }
    }
    all.push_back(placing.take());
  }
  return all;
}

std::size_t label_lanes(const std::vector<PlacedLabel>& placed) {
  std::size_t most = 0;
  for (const PlacedLabel& label : placed) most = std::max(most, label.lane + 1);
  return most;
}

std::vector<Item> draw_label(const Label& label, const PlacedLabel& placed, const Frame& frame,
                             Stretch lane) {
  return LabelDrawer(label, placed, frame, lane).run(placed.along);
}

}  // namespace yubifu::page
