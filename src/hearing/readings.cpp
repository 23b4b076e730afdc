#include "hearing/readings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "base/encoding.h"
#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "flute/flute_file.h"
#include "hearing/rules.h"
#include "hearing/signs.h"

namespace yubifu::hearing {
namespace {

using base::message;

constexpr std::size_t kMostRows = 200;
constexpr double kMostCents = 200;

enum class Column { sign, hz, note, cents, holes };

constexpr auto kColumns = base::word_table<Column>({{Column::sign, "sign"},
                                                    {Column::sign, "指"},
                                                    {Column::sign, "運指"},
                                                    {Column::sign, "番号"},
                                                    {Column::hz, "hz"},
                                                    {Column::hz, "hertz"},
                                                    {Column::hz, "frequency"},
                                                    {Column::hz, "周波数"},
                                                    {Column::hz, "ヘルツ"},
                                                    {Column::note, "note"},
                                                    {Column::note, "音名"},
                                                    {Column::note, "音"},
                                                    {Column::cents, "cents"},
                                                    {Column::cents, "cent"},
                                                    {Column::cents, "セント"},
                                                    {Column::holes, "holes"},
                                                    {Column::holes, "pattern"},
                                                    {Column::holes, "指孔"},
                                                    {Column::holes, "穴"}});

// What stands between two separators, without the white space and quotes around it.
struct Cell {
  std::string text;
  base::SourceRange where;
};

using Row = std::vector<Cell>;

std::string_view without_space(std::string_view text, std::size_t& begin) {
  while (!text.empty()) {
    const base::CodePoint first = base::first_code_point(text);
    if (!base::is_white_space(first.value)) break;
    text.remove_prefix(first.size);
    begin += first.size;
  }
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  while (text.ends_with("\u3000")) text.remove_suffix(3);
  return text;
}

Cell cell_of(std::string_view text, std::size_t begin) {
  text = without_space(text, begin);
  const base::SourceRange where{begin, begin + text.size()};
  if (text.size() < 2 || !text.starts_with('"') || !text.ends_with('"')) {
    return {std::string(text), where};
  }
  std::string inner;
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    inner += text[i];
    if (text[i] == '"' && text[i + 1] == '"') ++i;
  }
  return {inner, where};
}

Row cells_of(std::string_view line, std::size_t begin, char separator) {
  Row row;
  bool quoted = false;
  std::size_t start = 0;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quoted = !quoted;
    if (i < line.size() && (line[i] != separator || quoted)) continue;
    row.push_back(cell_of(line.substr(start, i - start), begin + start));
    start = i + 1;
  }
  while (!row.empty() && row.back().text.empty()) row.pop_back();
  return row;
}

// Tabs part before semicolons, and these before commas, which may stand in numbers.
char separator_of(std::string_view line) {
  for (const char separator : {'\t', ';'}) {
    if (line.find(separator) != std::string_view::npos) return separator;
  }
  return ',';
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return text;
}

std::optional<double> number_of(std::string text, char separator) {
  if (separator != ',') std::replace(text.begin(), text.end(), ',', '.');
  if (text.starts_with('+')) text.erase(0, 1);
  if (text.starts_with("\u2212")) text.replace(0, 3, "-");
  return base::decimal_number(text);
}

class TableReader {
 public:
  TableReader(const base::SourceText& source, const flute::Flute& like)
      : source_(source), like_(like) {}

  base::Outcome<std::vector<NotedSign>> read() {
    const std::string_view text = source_.text();
    std::size_t at = text.starts_with(base::kByteOrderMark) ? base::kByteOrderMark.size() : 0;
    while (at < text.size() && noted_.size() <= kMostRows && !is_header_wrong_) {
      const std::size_t end = std::min(text.find_first_of("\r\n", at), text.size());
      take_line(text.substr(at, end - at), at);
      at = end + 1;
    }
    if (noted_.size() > kMostRows) {
      report(rule::readings_columns, {0, 0}, message("more than {} rows", kMostRows),
             message("a table holds the signs of one flute"));
    } else if (noted_.empty() && !base::has_errors(findings_)) {
      report(rule::readings_columns, {0, 0}, message("the table has no rows"), columns_hint());
    }
    check_holes();
    if (base::has_errors(findings_)) return {std::nullopt, std::move(findings_)};
    return {std::move(noted_), std::move(findings_)};
  }

 private:
  static std::string columns_hint() {
    return message("a row is such as {} or {}", "一,588.2", "一,D5,+5,○●●●●●○");
  }

  void report(const base::Rule& rule, base::SourceRange where, std::string text,
              std::string hint = {}) {
    findings_.push_back(base::report(rule, where, std::move(text), std::move(hint)));
  }

  void take_line(std::string_view line, std::size_t begin) {
    std::size_t start = begin;
    const std::string_view content = without_space(line, start);
    if (content.empty() || content.starts_with('#')) return;
    if (separator_ == 0) separator_ = separator_of(line);
    const Row row = cells_of(line, begin, separator_);
    if (row.empty()) return;
    if (std::exchange(is_first_, false) && is_header(row)) {
      take_header(row);
    } else {
      take_row(row);
    }
  }

  static std::optional<Column> column_named(const std::string& text) {
    return kColumns.value_of(lower(text));
  }

  static bool is_header(const Row& row) {
    return std::any_of(row.begin(), row.end(),
                       [](const Cell& cell) { return column_named(cell.text).has_value(); });
  }

  void take_header(const Row& row) {
    header_.emplace();
    for (const Cell& cell : row) {
      const auto column = column_named(cell.text);
      if (!column) {
        report(rule::readings_columns, cell.where, message("there is no column \"{}\"", cell.text),
               message("the columns are sign, Hz, note, cents, holes"));
      }
      header_->push_back(column);
    }
    const auto has = [&](Column column) {
      return std::find(header_->begin(), header_->end(), column) != header_->end();
    };
    if (!has(Column::sign) || has(Column::hz) == has(Column::note)) {
      report(rule::readings_columns, row.front().where,
             message("the columns must be sign and either Hz or note"), columns_hint());
    }
    is_header_wrong_ = base::has_errors(findings_);
  }

  // The cells of a row by what they are; without a header, by what the second one looks like.
  std::map<Column, Cell> named_cells(const Row& row) {
    std::vector<std::optional<Column>> columns{Column::sign, Column::hz, Column::holes};
    if (header_) {
      columns = *header_;
    } else if (row.size() > 1 && !number_of(row[1].text, separator_)) {
      columns = {Column::sign, Column::note, Column::cents, Column::holes};
    }
    std::map<Column, Cell> cells;
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i >= columns.size()) {
        report(rule::readings_columns, row[i].where,
               message("{} cells, and there are {} columns", row.size(), columns.size()),
               columns_hint());
        break;
      }
      if (columns[i] && !row[i].text.empty()) cells[*columns[i]] = row[i];
    }
    return cells;
  }

  void take_row(const Row& row) {
    const std::size_t before = findings_.size();
    const std::map<Column, Cell> cells = named_cells(row);
    const auto sign = cells.find(Column::sign);
    if (sign == cells.end()) {
      report(rule::readings_sign, row.front().where, message("the row has no sign"));
      return;
    }
    NotedSign noted;
    read_sign(sign->second, cells.contains(Column::holes), noted);
    read_pitch(cells, row, noted);
    const auto holes = cells.find(Column::holes);
    const Cell& last = holes == cells.end() ? sign->second : holes->second;
    if (holes != cells.end()) noted.holes = model::parse_hole_pattern(last.text);
    if (holes != cells.end() && !noted.holes) {
      report(rule::readings_holes, last.where, message("\"{}\" is no hole pattern", last.text),
             message("● closed, ○ open, ◐ half, ◎ closed to steady; in ASCII x o h s"));
    }
    if (findings_.size() != before) return;
    noted_.push_back(std::move(noted));
    hole_places_.push_back(last.where);
  }

  void read_sign(const Cell& cell, bool has_holes, NotedSign& noted) {
    const auto entry = entry_named(like_, cell.text);
    const auto fingering = entry ? std::optional(fingering_of(like_.entries()[*entry]))
                                 : flute::parse_entry_sign(cell.text);
    const bool is_standard = fingering && model::standard_place(*fingering->sign);
    if (!entry && !(is_standard && has_holes)) {
      report(rule::readings_sign, cell.where,
             message("\"{}\" is no sign of the flute {}", cell.text, like_.title()),
             is_standard ? message("add its holes, or name a flute that has it with --like")
                         : message("name a flute that has it with --like"));
      return;
    }
    noted.fingering = *fingering;
    const bool twice = std::any_of(noted_.begin(), noted_.end(), [&](const NotedSign& other) {
      return other.fingering == noted.fingering;
    });
    if (twice) {
      report(rule::readings_twice, cell.where, message("{} has a row already", cell.text),
             message("leave one of them out"));
    }
  }

  void read_pitch(const std::map<Column, Cell>& cells, const Row& row, NotedSign& noted) {
    const auto cell = [&](Column column) {
      const auto found = cells.find(column);
      return found == cells.end() ? nullptr : &found->second;
    };
    const Cell* const hz = cell(Column::hz);
    const Cell* const note = cell(Column::note);
    if (hz == nullptr && note == nullptr) {
      report(rule::readings_pitch, row.back().where, message("the row has no pitch"),
             columns_hint());
      return;
    }
    const Cell& place = hz != nullptr ? *hz : *note;
    const auto value =
        hz != nullptr ? number_of(hz->text, separator_) : note_hz(*note, cell(Column::cents));
    if (!value) return report_pitch(place);
    noted.hz = *value;
    if (!(noted.hz >= flute::kLeastHz && noted.hz <= flute::kMostHz)) report_pitch(place);
  }

  void report_pitch(const Cell& cell) {
    report(rule::readings_pitch, cell.where, message("\"{}\" is no pitch", cell.text),
           message("Hz from {} to {} such as 588.2, or a note such as D5 or Bb5 and its cents",
                   flute::kLeastHz, flute::kMostHz));
  }

  std::optional<double> note_hz(const Cell& note, const Cell* cents) {
    const auto spelling = model::parse_spelling(note.text);
    if (!spelling) return std::nullopt;
    double beside = 0;
    if (cents != nullptr) {
      const auto number = number_of(cents->text, separator_);
      if (!number || std::abs(*number) > kMostCents) {
        report(rule::readings_pitch, cents->where,
               message("\"{}\" is no number of cents from -{} to {}", cents->text, kMostCents,
                       kMostCents));
      } else {
        beside = *number;
      }
    }
    return model::frequency_hz({midi_key(*spelling), beside}, like_.tuning_hz());
  }

  // As many as the flute has; or where every row tells them, as many as the first.
  void check_holes() {
    const bool all = std::all_of(noted_.begin(), noted_.end(),
                                 [](const NotedSign& noted) { return noted.holes.has_value(); });
    const std::size_t wanted =
        all && !noted_.empty() ? noted_[0].holes->holes.size() : like_.hole_count();
    for (std::size_t i = 0; i < noted_.size(); ++i) {
      if (!noted_[i].holes || noted_[i].holes->holes.size() == wanted) continue;
      report(rule::readings_holes, hole_places_[i],
             message("the pattern {} must have {} signs, not {}", printed(*noted_[i].holes), wanted,
                     noted_[i].holes->holes.size()),
             all ? std::string()
                 : message("give every row its pattern, or name a flute with as many holes with "
                           "--like"));
    }
  }

  const base::SourceText& source_;
  const flute::Flute& like_;
  char separator_ = 0;
  bool is_first_ = true;
  bool is_header_wrong_ = false;
  std::optional<std::vector<std::optional<Column>>> header_;
  std::vector<NotedSign> noted_;
  std::vector<base::SourceRange> hole_places_;  // of each that was noted
  base::Diagnostics findings_;
};

}  // namespace

base::Outcome<std::string> readings_text(std::string_view bytes) {
  const bool is_text = bytes.find('\0') == std::string_view::npos;
  if (is_text && !base::first_invalid_utf8(bytes)) return {std::string(bytes), {}};
  if (is_text) {
    base::Conversion converted = base::to_utf8(bytes, base::kShiftJis);
    if (!converted.stopped_at) return {std::move(converted.text), {}};
  }
  return {std::nullopt,
          {base::report(rule::readings_text, std::nullopt,
                        message("this is neither a recording nor a table in UTF-8 or Shift_JIS"),
                        message("save the recording as WAV, FLAC or Ogg, the table as text"))}};
}

base::Outcome<std::vector<NotedSign>> read_readings(const base::SourceText& source,
                                                    const flute::Flute& like) {
  return TableReader(source, like).read();
}

}  // namespace yubifu::hearing
