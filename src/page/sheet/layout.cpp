#include "page/sheet/layout.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

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
  double gap = 0;
};

// The flute in use at a measure, if its table is at hand.
const flute::Flute* flute_at(const model::Score& score, const FluteList& flutes,
                             std::size_t measure) {
  if (flutes.empty()) return nullptr;
  return flutes[std::min(model::flute_index(score, measure), flutes.size() - 1)].get();
}

bool is_loud(const flute::Flute* flute, const model::Tone& tone) {
  if (!tone.fingering || tone.fingering->is_gap()) return false;
  if (flute != nullptr && flute->find(*tone.fingering)) {
    return flute::is_loud(*flute, *tone.fingering);
  }
  const auto place = standard_place(*tone.fingering->sign);
  return place && place->in == model::Register::third;
}

// The caution, where the score has loud notes.
std::string caution_for(const model::Score& score, const FluteList& flutes) {
  for (const model::Note& note : score.notes) {
    const flute::Flute* flute = flute_at(score, flutes, note.measure);
    const auto loud = [&](const model::Tone& tone) { return is_loud(flute, tone); };
    if (loud(note.tone) || std::any_of(note.grace_before.begin(), note.grace_before.end(), loud) ||
        std::any_of(note.grace_after.begin(), note.grace_after.end(), loud)) {
      return hearing_caution();
    }
  }
  return {};
}

// What the foot says: caution, source, rights.
std::vector<std::string> footer_texts(const model::Score& score, const FluteList& flutes) {
  std::vector<std::string> texts;
  for (const std::string& text :
       {caution_for(score, flutes), score.header.source, score.header.rights}) {
    if (!text.empty()) texts.push_back(text);
  }
  return texts;
}

base::Diagnostics out_of_range(const PageOptions& options) {
  base::Diagnostics found;
  if (!(options.scale >= kLeastScale && options.scale <= kMostScale)) {
    found.push_back(report(rule::option_range, std::nullopt,
                           base::message("the scale is {}, expected {} to {}", options.scale,
                                         kLeastScale, kMostScale)));
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

class Layouter {
 public:
  Layouter(const model::Score& score, const Strip& strip, const FluteList& flutes,
           const PageOptions& options)
      : score_(score),
        strip_(strip),
        options_(options),
        labels_(labels_of(score, strip)),
        size_(sheet_size(options.paper, options.orientation)),
        notes_(footer_texts(score, flutes)),
        music_area_(area_of(size_)) {
    music_area_.bottom -= footer_height(footer_lines(notes_, music_area_.width()));
    heading_ = make_heading(score, options.direction, music_area_);
    if (is_down()) {
      music_area_.top += style::kBarNumberRoom;
    } else {
      music_area_.left += kRowNumberRoom;
    }
  }

  base::Outcome<std::vector<Sheet>> run() {
    Setting setting = fitting_setting();
    report_crowded(setting.columns);
    const Music music{score_, strip_, labels_};
    for (const SheetRange& range : sheet_ranges(setting)) {
      Sheet sheet;
      sheet.width = size_.width;
      sheet.height = size_.height;
      sheet.start = is_down() ? SheetStart::right : SheetStart::left;
      sheet.notes = notes_;
      const bool first = sheets_.empty();
      if (first) append(sheet.items, heading_.items);
      double before = first ? heading_.room : 0;
      for (std::size_t i = range.begin; i < range.end; ++i) {
        add_column(sheet, music, setting, i, before);
        before += setting.width(i) + range.gap;
      }
      sheets_.push_back(std::move(sheet));
    }
    return {std::move(sheets_), std::move(diagnostics_)};
  }

 private:
  static constexpr double kRowNumberRoom = 5;

  bool is_down() const { return options_.direction == ReadingDirection::down; }

  // The room of a sheet in which columns stand side by side, or rows one under another.
  double room(bool first) const {
    const double all = is_down() ? music_area_.width() : music_area_.height();
    return first ? all - heading_.room : all;
  }

  double column_length() const { return is_down() ? music_area_.height() : music_area_.width(); }

  Setting setting_at(double unit) const {
    Setting setting;
    setting.columns = break_into_columns(score_, strip_, options_.direction, unit, column_length());
    setting.labels = place_labels(labels_, setting.columns, options_.direction);
    for (std::size_t i = 0; i < setting.columns.columns.size(); ++i) {
      setting.lanes.push_back(make_lanes(score_, strip_, setting.columns.columns[i], options_, unit,
                                         label_lanes(setting.labels[i])));
    }
    return setting;
  }

  // The columns at the wanted size, or at a smaller one at which as many fit as were asked for.
  Setting fitting_setting() {
    double unit = style::kDigitHeight * options_.scale;
    Setting setting = setting_at(unit);
    constexpr int kMostTries = 60;
    constexpr double kLeastChange = 0.98;
    bool smaller = false;
    for (int i = 0; i < kMostTries; ++i) {
      const double fill = fullest_sheet(setting);
      if (fill <= 1 + style::kSlack) break;
      unit *= std::min(kLeastChange, 1 / fill);
      setting = setting_at(unit);
      smaller = true;
    }
    if (smaller) {
      diagnostics_.push_back(report(
          rule::made_smaller, std::nullopt,
          base::message("the columns asked for do not fit at scale {}; the page has scale {:.2f}",
                        options_.scale, unit / style::kDigitHeight)));
    }
    return setting;
  }

  // What the columns of the fullest sheet take of its room.
  double fullest_sheet(const Setting& setting) const {
    double fullest = 0;
    for (const SheetRange& range : sheet_ranges(setting)) {
      double taken = 0;
      for (std::size_t i = range.begin; i < range.end; ++i) taken += setting.width(i);
      taken += least_gap(setting) * static_cast<double>(columns_on(range) - 1);
      fullest = std::max(fullest, taken / room(range.begin == 0));
    }
    return fullest;
  }

  static double least_gap(const Setting& setting) {
    return style::kColumnGap * setting.columns.spacing.unit;
  }

  static std::size_t columns_on(const SheetRange& range) {
    return std::max<std::size_t>(range.end - range.begin, 1);
  }

  // At least one sheet; on each as many columns as were asked for or as fit.
  std::vector<SheetRange> sheet_ranges(const Setting& setting) const {
    const std::size_t count = setting.lanes.size();
    const double least = least_gap(setting);
    std::vector<SheetRange> ranges;
    std::size_t next = 0;
    do {
      SheetRange range{next, next, 0};
      const double all = room(next == 0);
      double taken = 0;
      const auto fits = [&] {
        if (options_.columns) {
          return range.end - range.begin < static_cast<std::size_t>(*options_.columns);
        }
        return range.end == range.begin ||
               taken + least + setting.width(range.end) <= all + style::kSlack;
      };
      while (range.end < count && fits()) {
        taken += setting.width(range.end) + (range.end > range.begin ? least : 0);
        ++range.end;
      }
      range.gap = gap_on(range, least, all - taken, ranges, range.end == count);
      next = range.end;
      ranges.push_back(range);
    } while (next < count);
    return ranges;
  }

  // The columns of a full sheet fill it; those of the last one stand as on the sheet before.
  double gap_on(const SheetRange& range, double least, double left,
                const std::vector<SheetRange>& before, bool last) const {
    const double most = least * style::kMostColumnGap / style::kColumnGap;
    const double spread = least + std::max(0.0, left) / static_cast<double>(std::max<std::size_t>(
                                                            1, columns_on(range) - 1));
    if (options_.columns && !last) return spread;
    const double wanted = last && !before.empty() ? before.back().gap : most;
    return std::min(spread, options_.columns ? std::max(most, wanted) : wanted);
  }

  // Where the axis of a column's numbers begins; `before` is taken by the columns before it.
  Point origin(const Lanes& lanes, double before) const {
    if (is_down()) return {music_area_.right - before - lanes.all.to, music_area_.top};
    return {music_area_.left, music_area_.top + before - lanes.all.from};
  }

  void add_column(Sheet& sheet, const Music& music, const Setting& setting, std::size_t index,
                  double before) {
    const Lanes& lanes = setting.lanes[index];
    const Place place{Frame(options_.direction, origin(lanes, before)), setting.columns.spacing,
                      lanes, options_.held};
    const Column& column = setting.columns.columns[index];
    std::vector<Item> items = draw_column(music, place, column, setting.labels[index]);
    std::vector<std::string> words(column.pieces.size());
    for (Item& item : items) {
      if (!item.bar) continue;
      if (const auto* unseen = std::get_if<UnseenText>(&item.shape)) {
        words[*item.bar] = text_of(*unseen);
      }
      *item.bar += sheet.bars.size();
    }
    append(sheet.items, std::move(items));
    for (std::size_t i = 0; i < words.size(); ++i) {
      const std::size_t measure = strip_.bars[column.pieces[i].bar].measure;
      sheet.bars.push_back(
          {measure, base::message("bar {}: {}", score_.measures[measure].number, words[i])});
    }
  }

  static std::string text_of(const UnseenText& unseen) {
    std::string text;
    for (const UnseenText::Run& run : unseen.runs) text += (text.empty() ? "" : " ") + run.text;
    return text;
  }

  void report_crowded(const Columns& columns) {
    if (columns.crowded.empty()) return;
    base::Diagnostic found =
        report(rule::crowded, std::nullopt,
               base::message("notes follow one another so closely that their numbers are small"),
               base::message("print these bars at a smaller scale or on a larger page"));
    for (const std::size_t bar : columns.crowded) {
      found.measures.push_back(score_.measures[strip_.bars[bar].measure].number);
    }
    diagnostics_.push_back(std::move(found));
  }

  const model::Score& score_;
  const Strip& strip_;
  const PageOptions& options_;
  std::vector<Label> labels_;
  SheetSize size_;
  std::vector<std::string> notes_;
  Box music_area_;
  Heading heading_;
  std::vector<Sheet> sheets_;
  base::Diagnostics diagnostics_;
};

}  // namespace

base::Outcome<std::vector<Sheet>> music_sheets(const model::Score& score, const FluteList& flutes,
                                               const PageOptions& options) {
  base::Outcome<std::vector<Sheet>> result;
  result.diagnostics = out_of_range(options);
  auto strip = make_strip(score);
  base::append(result.diagnostics, std::move(strip.diagnostics));
  if (!result.diagnostics.empty() || !strip.value) return result;
  base::append(result.diagnostics, left_out(score));
  auto sheets = Layouter(score, *strip.value, flutes, options).run();
  base::append(result.diagnostics, std::move(sheets.diagnostics));
  result.value = std::move(sheets.value);
  return result;
}

}  // namespace yubifu::page
