#include "page/sheet/layout.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/findings.h"
#include "base/message.h"
#include "flute/flute.h"
#include "page/rules.h"
#include "page/sheet/column_drawing.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// The columns of a score at one size, with their labels and lanes.
struct Setting {
  Columns columns;
  std::vector<std::vector<PlacedLabel>> labels;
  std::vector<Lanes> lanes;

  double width(std::size_t column) const { return lanes[column].all.length(); }
};

// The columns of one sheet, as a half-open range, and the space between them.
struct SheetRange {
  std::size_t begin = 0;
  std::size_t end = 0;
  double taken = 0;  // by the columns with the least space
  double gap = 0;
};

// Whether a condition holds for one of the tones: notes, and grace notes before and after them.
template <typename Condition>
bool has_tone(const model::Score& score, const Condition& holds) {
  return std::any_of(score.notes.begin(), score.notes.end(), [&](const model::Note& note) {
    return any_tone(note, [&](const model::Tone& tone) { return holds(note, tone); });
  });
}

bool is_arrow(const Item& item) {
  const auto* shape = std::get_if<GlyphShape>(&item.shape);
  return shape != nullptr &&
         (shape->glyph == GlyphId::arrow_down || shape->glyph == GlyphId::arrow_up);
}

bool is_frame_of_gap(const Item& item) {
  const bool sign = item.role == Role::number || item.role == Role::grace;
  return sign && std::holds_alternative<FrameShape>(item.shape);
}

// What the foot of the first sheet on which it stands explains.
struct Explanation {
  std::string text;
  bool (*is_sign)(const Item& item);
  bool (*concerns)(const model::Fingering& fingering);
};

std::vector<Explanation> explanations() {
  return {
      {base::message("↓20 ↑20: turn the flute until the note is 20 cents lower or higher."),
       is_arrow, [](const model::Fingering& fingering) { return fingering.bend_cents != 0; }},
      {base::message("A note name in a frame: the flute has no fingering for this note."),
       is_frame_of_gap, [](const model::Fingering& fingering) { return fingering.is_gap(); }},
  };
}

std::vector<Explanation> explanations_for(const model::Score& score) {
  std::vector<Explanation> needed = explanations();
  std::erase_if(needed, [&](const Explanation& one) {
    return !has_tone(score, [&](const model::Note&, const model::Tone& tone) {
      return tone.fingering && one.concerns(*tone.fingering);
    });
  });
  return needed;
}

base::Diagnostics out_of_range(const PageOptions& options) {
  base::Diagnostics found;
  const double scale = options.scale.value_or(1);
  if (!(scale >= kLeastScale && scale <= kMostScale)) {
    found.push_back(report(
        rule::option_range, std::nullopt,
        base::message("the scale is {}, expected {} to {}", scale, kLeastScale, kMostScale)));
  }
  if (options.columns && (*options.columns < 1 || *options.columns > kMostColumns)) {
    found.push_back(report(rule::option_range, std::nullopt,
                           base::message("the number of columns is {}, expected 1 to {}",
                                         *options.columns, kMostColumns)));
  }
  return found;
}

base::Diagnostics left_out(const model::Score& score) {
  std::vector<std::string> what;
  const bool comments =
      !score.header.comments.empty() ||
      std::any_of(score.measures.begin(), score.measures.end(),
                  [](const model::Measure& measure) { return !measure.comments.empty(); });
  if (comments) what.push_back(base::message("comments"));
  base::Diagnostic found = report(rule::left_out, std::nullopt, {});
  for (const model::Direction& direction : score.directions) {
    if (!std::holds_alternative<model::KeyChange>(direction.value)) continue;
    found.measures.push_back(score.measures[direction.measure].number);
  }
  if (score.header.key || !found.measures.empty()) what.push_back(base::message("keys"));
  for (const model::HeaderField& field : score.header.unknown) {
    what.push_back(base::message("the header field '{}'", field.key));
  }
  if (what.empty()) return {};
  found.message = base::message("left out of the page: {}", fmt::join(what, ", "));
  return {std::move(found)};
}

struct Layouter {
  static constexpr double kRowNumberRoom = 5;

  const model::Score& score;
  const Strip& strip;
  const FluteList& flutes;
  const PageOptions& options;
  Placing placing;
  std::vector<Label> labels = labels_of(score, strip);
  SheetSize size = sheet_size(options.paper, options.orientation);
  std::vector<Explanation> waiting = explanations_for(score);  // that no sheet has yet
  Box music_area = area_of(size);
  Heading heading = {};
  double filled = 0;  // of the sheet that is being filled
  std::vector<bool> numbered_verses = std::vector<bool>(score.verses.size());
  base::Outcome<MusicSheets> result = {MusicSheets(), {}};

  base::Outcome<MusicSheets> run() {
    take_areas();
    if (placing.taken > 0 && !has_room_for_one()) return {std::nullopt, {}};
    Setting setting = shrunk_setting();
    if (!options.scale) setting = grown(setting);
    report_fewer(setting);
    report_crowded(setting.columns);
    std::vector<Sheet>& sheets = result.value->sheets;
    for (const SheetRange& range : sheet_ranges(setting)) {
      Sheet sheet;
      sheet.width = size.width;
      sheet.height = size.height;
      sheet.start = is_down() ? SheetStart::right : SheetStart::left;
      const bool first = sheets.empty();
      if (first) append(sheet.items, heading.items);
      filled = first ? heading.room : 0;
      for (std::size_t i = range.begin; i < range.end; ++i) {
        add_column(sheet, setting, i);
        filled += setting.width(i) + range.gap;
      }
      add_notes(sheet, first);
      sheets.push_back(std::move(sheet));
    }
    result.value->taken = filled;
    return std::move(result);
  }

  // Heading and music, with room for the foot.
  void take_areas() {
    music_area.bottom -= placing.foot.value_or(footer_height(all_notes(), music_area.width()));
    Box heading_area = music_area;
    (is_down() ? heading_area.right : heading_area.top) +=
        is_down() ? -placing.taken : placing.taken;
    heading = make_heading(score, options.direction, heading_area);
    heading.room += placing.taken;
    if (is_down()) {
      music_area.top += style::kBarNumberRoom;
      music_area.right -= style::kBarNumberOver;
    } else {
      music_area.left += kRowNumberRoom;
    }
  }

  // All that the foot of a sheet may have to say; every sheet leaves room for it.
  std::vector<std::string> all_notes() const {
    std::vector<std::string> notes{score.header.source, score.header.rights,
                                   caution_for(score, flutes)};
    for (const Explanation& explanation : waiting) notes.push_back(explanation.text);
    std::erase(notes, std::string());
    return notes;
  }

  void add_notes(Sheet& sheet, bool first) {
    const auto is_needed = [&](const Explanation& explanation) {
      return std::any_of(sheet.items.begin(), sheet.items.end(), explanation.is_sign);
    };
    const auto rest = std::stable_partition(waiting.begin(), waiting.end(), is_needed);
    for (auto one = waiting.begin(); one != rest; ++one) sheet.notes.push_back(one->text);
    waiting.erase(waiting.begin(), rest);
    if (!first || placing.foot) return;
    for (const std::string& text : {score.header.source, score.header.rights}) {
      if (!text.empty()) sheet.notes.push_back(text);
    }
  }

  bool is_down() const { return options.direction == ReadingDirection::down; }

  // The room of a sheet in which columns stand side by side, or rows one under another.
  double room(bool first) const {
    const double all = is_down() ? music_area.width() : music_area.height();
    return first ? all - heading.room : all;
  }

  Setting setting_at(double unit) const {
    Setting setting;
    const double length = is_down() ? music_area.height() : music_area.width();
    setting.columns = break_into_columns(score, strip, options.direction, unit, length);
    setting.labels = place_labels(labels, setting.columns, options.direction);
    for (std::size_t i = 0; i < setting.columns.columns.size(); ++i) {
      std::size_t label_lanes = 0;
      for (const PlacedLabel& label : setting.labels[i]) {
        label_lanes = std::max(label_lanes, label.lane + 1);
      }
      setting.lanes.push_back(
          make_lanes(score, strip, setting.columns.columns[i], options, unit, label_lanes));
    }
    return setting;
  }

  // The columns at the wanted size, or at a smaller one at which as many fit as were asked for.
  Setting shrunk_setting() {
    const double scale = options.scale.value_or(1);
    double unit = style::kDigitHeight * scale;
    Setting setting = setting_at(unit);
    constexpr int kMostTries = 60;
    constexpr double kLeastChange = 0.98;
    double too_large = 0;
    for (int i = 0; i < kMostTries; ++i) {
      const double fill = fullest_sheet(setting);
      if (fill <= 1 + style::kSlack) break;
      too_large = unit;
      unit *= std::min(kLeastChange, 1 / fill);
      setting = setting_at(unit);
    }
    if (too_large > 0) {
      setting = largest(std::move(setting), too_large, [&](const Setting& larger) {
        return fullest_sheet(larger) <= 1 + style::kSlack;
      });
      result.diagnostics.push_back(report(
          rule::made_smaller, std::nullopt,
          base::message("the columns asked for do not fit at scale {}; the page has scale {:.2f}",
                        scale, setting.columns.spacing.unit / style::kDigitHeight)));
    }
    return setting;
  }

  // The largest signs that need no more sheets, part no more bars and crowd no more of them.
  Setting grown(const Setting& from) const {
    const std::size_t sheets = sheet_ranges(from).size();
    const std::size_t pieces = pieces_of(from);
    const std::size_t crowded = from.columns.crowded.size();
    return largest(from, style::kDigitHeight * kMostScale, [&](const Setting& larger) {
      return sheet_ranges(larger).size() <= sheets && pieces_of(larger) <= pieces &&
             larger.columns.crowded.size() <= crowded && fullest_sheet(larger) <= 1 + style::kSlack;
    });
  }

  // The largest signs that fit, from some that do up to a size that does not or may not be passed.
  template <typename Fits>
  Setting largest(Setting best, double too_large, const Fits& fits) const {
    constexpr int kHalvings = 6;
    double fitting = best.columns.spacing.unit;
    for (int i = 0; i < kHalvings; ++i) {
      const double unit = (fitting + too_large) / 2;
      Setting larger = setting_at(unit);
      const bool does = fits(larger);
      if (does) best = std::move(larger);
      (does ? fitting : too_large) = unit;
    }
    return best;
  }

  // Whether the heading and a column have room behind the music before them.
  bool has_room_for_one() const {
    const Setting wanted = setting_at(style::kDigitHeight * options.scale.value_or(1));
    return !wanted.lanes.empty() && wanted.width(0) <= room(true) + style::kSlack;
  }

  static std::size_t pieces_of(const Setting& setting) {
    std::size_t pieces = 0;
    for (const Column& column : setting.columns.columns) pieces += column.size();
    return pieces;
  }

  void report_fewer(const Setting& setting) {
    if (!options.columns) return;
    const std::size_t columns = setting.columns.columns.size();
    if (columns >= static_cast<std::size_t>(*options.columns)) return;
    result.diagnostics.push_back(
        report(rule::fewer_columns, std::nullopt,
               base::message("the whole score fills only {} of the {} columns asked for", columns,
                             *options.columns),
               options.scale ? base::message("signs of a larger scale fill more columns")
                             : base::message("its signs could not be larger on one page")));
  }

  // What the columns of the fullest sheet take of its room.
  double fullest_sheet(const Setting& setting) const {
    double fullest = 0;
    for (const SheetRange& range : sheet_ranges(setting)) {
      fullest = std::max(fullest, range.taken / room(range.begin == 0));
    }
    return fullest;
  }

  // At least one sheet; on each as many columns as were asked for or as fit.
  std::vector<SheetRange> sheet_ranges(const Setting& setting) const {
    const std::size_t count = setting.lanes.size();
    const double least = style::kColumnGap * setting.columns.spacing.unit;
    std::vector<SheetRange> ranges;
    std::size_t next = 0;
    do {
      SheetRange range{next, next};
      const double all = room(next == 0);
      const auto fits = [&] {
        if (options.columns) {
          return range.end - range.begin < static_cast<std::size_t>(*options.columns);
        }
        return range.end == range.begin ||
               range.taken + least + setting.width(range.end) <= all + style::kSlack;
      };
      while (range.end < count && fits()) {
        range.taken += setting.width(range.end) + (range.end > range.begin ? least : 0);
        ++range.end;
      }
      range.gap = gap_on(range, least, all - range.taken, ranges, range.end == count);
      next = range.end;
      ranges.push_back(range);
    } while (next < count);
    return ranges;
  }

  // The columns of a full sheet fill it; those of the last one stand as on the sheet before.
  double gap_on(const SheetRange& range, double least, double left,
                const std::vector<SheetRange>& before, bool last) const {
    const double most = least * style::kMostColumnGap / style::kColumnGap;
    const double gaps = std::max(1.0, static_cast<double>(range.end - range.begin) - 1);
    const double spread = least + std::max(0.0, left) / gaps;
    if (options.columns && !last) return spread;
    const double wanted = last && !before.empty() ? before.back().gap : most;
    return std::min(spread, options.columns ? std::max(most, wanted) : wanted);
  }

  void add_column(Sheet& sheet, const Setting& setting, std::size_t index) {
    const Lanes& lanes = setting.lanes[index];
    // Where the axis of its numbers begins.
    const Point origin = is_down()
                             ? Point{music_area.right - filled - lanes.all.to, music_area.top}
                             : Point{music_area.left, music_area.top + filled - lanes.all.from};
    const Frame frame{options.direction, origin};
    const Place place{score, strip, options, setting.columns.spacing, lanes, frame};
    const Column& column = setting.columns.columns[index];
    number_verses(sheet, place);
    std::vector<Item> items = draw_column(place, column, setting.labels[index]);
    std::vector<std::string> words(column.size());
    for (Item& item : items) {
      if (!item.bar) continue;
      if (const auto* unseen = std::get_if<UnseenText>(&item.shape)) {
        std::string& text = words[*item.bar];
        for (const auto& run : unseen->runs) text += (text.empty() ? "" : " ") + run.text;
      }
      *item.bar += sheet.bars.size();
    }
    append(sheet.items, std::move(items));
    for (std::size_t i = 0; i < words.size(); ++i) {
      const model::Measure& measure = place.measure_of(column[i]);
      sheet.bars.push_back(base::message("bar {}: {}", measure.number, words[i]));
    }
  }

  // Of several verses each has its number where it first stands.
  void number_verses(Sheet& sheet, const Place& place) {
    const auto is_numbered = [](const std::string& name) { return name != model::kShogaVerse; };
    const auto& verses = score.verses;
    if (std::count_if(verses.begin(), verses.end(), is_numbered) < 2) return;
    for (std::size_t i = 0; i < verses.size(); ++i) {
      const Stretch lane = place.lanes.verses[i];
      if (lane.length() <= 0 || numbered_verses[i] || !is_numbered(verses[i])) continue;
      numbered_verses[i] = true;
      sheet.items.push_back(draw_verse_number(place, verses[i], lane));
    }
  }

  void report_crowded(const Columns& columns) {
    base::Findings found;
    for (const std::size_t bar : columns.crowded) {
      found.add(
          report(rule::crowded, std::nullopt,
                 base::message("notes follow one another so closely that their numbers are small"),
                 base::message("print these bars at a smaller scale or on a larger page")),
          strip.bars[bar].measure);
    }
    base::append(result.diagnostics,
                 found.diagnostics(model::BarNumbers{score}, base::bars_unsaid));
  }
};

}  // namespace

std::string caution_for(const model::Score& score, const FluteList& flutes) {
  const auto is_loud = [&](const model::Note& note, const model::Tone& tone) {
    if (!tone.fingering || tone.fingering->is_gap()) return false;
    const std::size_t index = model::flute_index(score, note.measure);
    const auto* flute = flutes.empty() ? nullptr : flutes[std::min(index, flutes.size() - 1)].get();
    if (flute != nullptr && flute->find(*tone.fingering)) {
      return flute::is_loud(*flute, *tone.fingering);
    }
    const auto place = standard_place(*tone.fingering->sign);
    return place && place->in == model::Register::third;
  };
  return has_tone(score, is_loud) ? hearing_caution() : std::string();
}

std::vector<std::string> all_explanations() {
  std::vector<std::string> texts;
  for (const Explanation& explanation : explanations()) texts.push_back(explanation.text);
  return texts;
}

base::Outcome<MusicSheets> music_sheets(const model::Score& score, const FluteList& flutes,
                                        const PageOptions& options, const Placing& placing) {
  base::Outcome<MusicSheets> result{std::nullopt, out_of_range(options)};
  auto strip = make_strip(score);
  base::append(result.diagnostics, std::move(strip.diagnostics));
  if (!result.diagnostics.empty() || !strip.value) return result;
  base::append(result.diagnostics, left_out(score));
  auto sheets = Layouter{score, *strip.value, flutes, options, placing}.run();
  if (!sheets.value) {
    sheets = Layouter{score, *strip.value, flutes, options, {0, placing.foot}}.run();
    sheets.value->on_own_sheet = true;
  }
  base::append(result.diagnostics, std::move(sheets.diagnostics));
  result.value = std::move(sheets.value);
  return result;
}

}  // namespace yubifu::page
