#include "notation/writer.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "model/rhythm_tree.h"
#include "notation/lexer.h"
#include "notation/punctuation.h"
#include "notation/rules.h"
#include "notation/writer_check.h"
#include "notation/writer_header.h"
#include "notation/writer_layout.h"
#include "notation/writer_lines.h"
#include "notation/writer_mend.h"
#include "notation/writer_report.h"
#include "notation/writer_words.h"

namespace yubifu::notation {
namespace {

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
    const std::vector<LineOfBars> lines = lines_of(score_);
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
    diagnostics_.push_back(report_measures(
        score_, rule::bar_too_fine, std::move(message),
        base::message("move its notes to simpler fractions of the beat"), {measure}));
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
