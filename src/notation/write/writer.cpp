#include "notation/write/writer.h"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "base/findings.h"
#include "base/message.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "notation/rules.h"
#include "notation/spelling.h"
#include "notation/write/layout.h"
#include "notation/write/text.h"
#include "notation/write/writable.h"

namespace yubifu::notation {
namespace {

// The measures [first, last) of one line.
struct LineOfBars {
  std::size_t first = 0;
  std::size_t last = 0;
  bool blank_before = false;        // a blank line stands before it
  bool starts_block = false;        // its beats stand in columns of their own
  bool begins_with_pickup = false;  // its first bar is short and others follow
};

using model::LineBreak;
using model::Measure;

constexpr std::size_t kBarsInLine = 4;
// A system of a staff may hold more bars than one can read in a line of text.
constexpr std::size_t kMostOfSystem = 8;

// The lines as the score breaks them, if it says so anywhere, and systems of more than eight whole
// bars within, too; otherwise after four whole bars, at double bars and repeats and before a
// section. A measure with comments always ends its line.
class LineBreaker {
 public:
  explicit LineBreaker(const model::Score& score)
      : score_(score),
        opens_section_(score.measures.size(), false),
        breaks_system_(score.measures.size(), false) {
    for (const Measure& measure : score.measures) {
      authored_ |= measure.break_before != LineBreak::none;
    }
    for (const model::Direction& direction : score.directions) {
      const bool section = std::holds_alternative<model::SectionStart>(direction.value);
      if (section) opens_section_[direction.measure] = true;
    }
    break_long_systems();
  }

  std::vector<LineOfBars> run() {
    std::vector<LineOfBars> lines;
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const LineBreak here = i == 0 ? LineBreak::line : break_before(i);
      if (here != LineBreak::none) {
        lines.push_back({i, i, here == LineBreak::blank_line, false, false});
        whole_bars_ = 0;
      }
      if (!is_short(i)) ++whole_bars_;
      lines.back().last = i + 1;
    }
    for (LineOfBars& line : lines) finish(line);
    return lines;
  }

 private:
  void break_long_systems() {
    const auto& measures = score_.measures;
    const bool has_systems = std::any_of(measures.begin(), measures.end(), [](const Measure& one) {
      return one.break_before == LineBreak::system;
    });
    if (!has_systems) return;
    for (std::size_t first = 0; first < measures.size();) {
      std::size_t last = first + 1;
      while (last < measures.size() && measures[last].break_before == LineBreak::none) ++last;
      break_long_system(first, last);
      first = last;
    }
  }

  // As where nobody says anything, except that no bar is left alone at the end.
  void break_long_system(std::size_t first, std::size_t last) {
    std::size_t left = 0;
    for (std::size_t i = first; i < last; ++i) left += is_short(i) ? 0 : 1;
    if (left <= kMostOfSystem) return;
    std::size_t in_line = 0;
    for (std::size_t i = first; i < last; ++i) {
      if (in_line >= kBarsInLine && left > 1 && !ends_parted_bar(i)) {
        breaks_system_[i] = true;
        in_line = 0;
      }
      if (is_short(i)) continue;
      ++in_line;
      --left;
    }
  }

  LineBreak break_before(std::size_t measure) const {
    const Measure& before = score_.measures[measure - 1];
    const LineBreak forced = before.comments.empty() ? LineBreak::none : LineBreak::line;
    if (authored_) {
      const bool within = breaks_system_[measure];
      return std::max({forced, within ? LineBreak::system : LineBreak::none,
                       score_.measures[measure].break_before});
    }
    if (opens_section_[measure] || before.right != model::BarStyle::regular) {
      return LineBreak::blank_line;
    }
    const bool full = whole_bars_ == kBarsInLine && !ends_parted_bar(measure);
    const bool repeat = before.repeat_end || score_.measures[measure].repeat_start;
    return full || repeat ? LineBreak::line : forced;
  }

  // A short bar that only completes the one before it stays in its line.
  bool ends_parted_bar(std::size_t measure) const {
    return is_short(measure) && is_short(measure - 1);
  }

  bool is_short(std::size_t measure) const { return lasts_less(score_.measures[measure]); }

  // A comment between two blocks stands below the blank line that parts them.
  bool follows_blank_line(std::size_t measure) const {
    const auto& comments = score_.measures[measure - 1].comments;
    return std::any_of(comments.begin(), comments.end(),
                       [](const model::Comment& comment) { return comment.blank_before; });
  }

  void finish(LineOfBars& line) const {
    const Measure& first = score_.measures[line.first];
    line.begins_with_pickup = is_short(line.first) && line.last - line.first > 1;
    line.starts_block = line.first == 0 || line.blank_before || opens_section_[line.first] ||
                        follows_blank_line(line.first) || first.meter.is_free() ||
                        first.meter != score_.measures[line.first - 1].meter ||
                        first.beat != score_.measures[line.first - 1].beat;
  }

  const model::Score& score_;
  std::vector<bool> opens_section_;
  std::vector<bool> breaks_system_;  // inside a long one
  bool authored_ = false;
  std::size_t whole_bars_ = 0;  // in the line so far
};

// Directions at the start of a line that take more columns stand on a line of their own.
constexpr int kWidestLead = 14;

class Writer {
 public:
  Writer(const model::Score& score, Alphabet alphabet) : score_(score), alphabet_(alphabet) {}

  base::Outcome<std::string> run() {
    if (read_contents()) {
      text_ = header_text(score_.header);
      music();
    }
    if (base::has_errors(diagnostics_)) return {std::nullopt, std::move(diagnostics_)};
    return {std::move(text_), std::move(diagnostics_)};
  }

 private:
  bool read_contents() {
    try {
      contents_ = model::bar_contents(score_);
      return true;
    } catch (const model::TimeOverflow&) {
      diagnostics_.push_back(
          base::report(rule::bar_too_fine, std::nullopt,
                       base::message("a note is too long or too fine to be placed in its bars"),
                       base::message("move the notes to simpler fractions of the beat")));
      return false;
    }
  }

  void music() {
    const int indent = song_indent(score_.verses);
    const std::vector<LineOfBars> lines = LineBreaker(score_).run();
    if (!lines.empty()) text_ += '\n';
    for (std::size_t first = 0; first < lines.size();) {
      std::size_t last = first + 1;
      while (last < lines.size() && !lines[last].starts_block) ++last;
      LaidBlock block;
      for (std::size_t i = first; i < last; ++i) block.push_back(laid(lines[i]));
      if (base::has_errors(diagnostics_)) return;
      print_block(block, score_.verses, score_.song_bars, indent, text_);
      first = last;
    }
  }

  LaidLine laid(const LineOfBars& line) {
    LaidLine result;
    result.blank_before = line.blank_before;
    result.begins_with_pickup = line.begins_with_pickup;
    for (std::size_t i = line.first; i < line.last; ++i) result.bars.push_back(laid_bar(i, line));
    move_heading(line, result);
    for (const model::Comment& comment : score_.measures[line.last - 1].comments) {
      const bool first = &comment == &score_.measures[line.last - 1].comments.front();
      if (first && !comment.own_line) {
        result.comment = comment_text(comment.text);
      } else {
        result.comments_below.push_back((comment.blank_before ? "\n" : "") +
                                        comment_text(comment.text));
      }
    }
    return result;
  }

  LaidBar laid_bar(std::size_t measure, const LineOfBars& line) {
    const model::Measure& here = score_.measures[measure];
    LaidBar laid{printed(measure), {}, {}};
    // A repeat start takes the place of a plain bar line before it.
    const bool before_repeat = measure + 1 < line.last && score_.measures[measure + 1].repeat_start;
    if (before_repeat && has_plain_end(here)) {
      laid.end_sign = kRepeatStart;
    } else {
      laid.end_sign = bar_end_text({here.right, here.repeat_end, here.times, false});
    }
    const bool said = measure > line.first && has_plain_end(score_.measures[measure - 1]);
    if (here.repeat_start && !said) laid.begin_sign = kRepeatStart;
    return laid;
  }

  static bool has_plain_end(const model::Measure& measure) {
    return !measure.repeat_end && measure.right == model::BarStyle::regular;
  }

  PrintedBar printed(std::size_t measure) {
    try {
      PrintedBar bar = print_bar(score_, measure, contents_[measure], alphabet_);
      count_words(bar);
      return bar;
    } catch (const model::DivisionTooFine&) {
      report_rhythm(measure, base::message("notes of a bar divide a word into more than {} "
                                           "parts",
                                           model::kFinestDivision));
    } catch (const model::TimeOverflow&) {
      report_rhythm(measure, base::message("a bar is too long, or its notes are too short"));
    }
    return {};
  }

  void report_rhythm(std::size_t measure, std::string message) {
    base::Finding found;
    found.add(measure,
              base::report(rule::bar_too_fine, {}, std::move(message),
                           base::message("move its notes to simpler fractions of the beat")));
    base::tell(diagnostics_, std::move(found), model::BarNumbers{score_});
  }

  void count_words(const PrintedBar& bar) {
    const bool full = words_ > kMostTokens;
    for (const Cell& cell : bar.words) words_ += cell.size();
    if (full || words_ <= kMostTokens) return;
    diagnostics_.push_back(
        base::report(rule::size_limit, std::nullopt,
                     base::message("the score has more than {} words", kMostTokens),
                     base::message("cut it into several files")));
  }

  // Directions at the start of a line that would tear its columns apart get a line of their own.
  void move_heading(const LineOfBars& line, LaidLine& laid) const {
    LaidBar& first = laid.bars.front();
    const bool section = opens_section(line.first);
    if (!section && cell_width(first.bar.lead) <= kWidestLead) return;
    laid.heading = std::exchange(first.begin_sign, {});
    for (const Piece& piece : first.bar.lead) {
      if (!laid.heading.empty()) laid.heading += ' ';
      laid.heading += piece.text;
    }
    first.bar.lead.clear();
  }

  bool opens_section(std::size_t measure) const {
    const auto& indexes = contents_[measure].directions;
    return std::any_of(indexes.begin(), indexes.end(), [&](std::size_t index) {
      return std::holds_alternative<model::SectionStart>(score_.directions[index].value);
    });
  }

  const model::Score& score_;
  Alphabet alphabet_;
  std::vector<model::BarContent> contents_;
  base::Diagnostics diagnostics_;
  std::string text_;
  std::size_t words_ = 0;
};

}  // namespace

base::Outcome<std::string> write_notation(const model::Score& score,
                                          const NotationWriteOptions& options) {
  base::Diagnostics found = check_writable(score, options.alphabet);
  // Without fingers and signs there is nothing to print.
  if (base::has_errors(found)) return {std::nullopt, std::move(found)};
  Mended mended = mend(score);
  auto written = Writer(mended.score ? *mended.score : score, options.alphabet).run();
  base::append(mended.diagnostics, std::move(written.diagnostics));
  return {std::move(written.value), std::move(mended.diagnostics)};
}

}  // namespace yubifu::notation
