#include "notation/write/writer.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/findings.h"
#include "base/message.h"
#include "model/rhythm_tree.h"
#include "model/score.h"
#include "notation/rules.h"
#include "notation/spelling.h"
#include "notation/write/layout.h"
#include "notation/write/writable.h"

namespace yubifu::notation {
namespace {

using model::LineBreak;
using model::Measure;
using model::Rational;

bool has_plain_end(const Measure& measure) {
  return !measure.repeat_end && measure.right == model::BarStyle::regular;
}

// The beat in force at the end of a measure.
Rational last_beat(const model::Score& score, std::size_t measure) {
  Rational beat = score.measures[measure].beat;
  for (const model::Direction& direction : model::in_measure(score.directions, measure)) {
    if (const auto* change = std::get_if<model::BeatChange>(&direction.value)) beat = change->beat;
  }
  return beat;
}

std::string marks_text(const std::vector<model::Mark>& marks) {
  std::string text;
  for (const model::Mark mark : marks) text += braced(model::word_of(mark));
  return text;
}

// A note as one word: tone, marks in canonical order, grace notes, asked pattern, slur.
std::string note_text(const model::Note& note, Alphabet alphabet) {
  std::string text = model::printed(note.tone, alphabet) + marks_text(note.marks);
  if (!note.grace_before.empty()) text += grace_text(ValuedMark::pre, note.grace_before, alphabet);
  if (!note.grace_after.empty()) text += grace_text(ValuedMark::post, note.grace_after, alphabet);
  if (note.asked_holes) {
    text += braced(kValuedMarks.word_of(ValuedMark::holes),
                   model::printed(*note.asked_holes, alphabet));
  }
  if (note.slur_to_next) text += kSlur;
  return text;
}

// Prints the words of one measure. Throws DivisionTooFine and TimeOverflow.
class BarPrinter {
 public:
  BarPrinter(const model::Score& score, std::size_t measure, const model::BarContent& content,
             Alphabet alphabet)
      : score_(score),
        alphabet_(alphabet),
        index_(measure),
        measure_(score.measures[measure]),
        content_(content),
        beat_(measure_.beat) {}

  PrintedBar print() {
    add_attributes(bar_.lead);
    add_directions(0, bar_.lead);
    for (const model::RhythmWord& word : model::rhythm_words(score_, index_, content_)) {
      bar_.words.emplace_back();
      add_word(word, bar_.words.back());
      if (coming_beat_) beat_ = *std::exchange(coming_beat_, std::nullopt);
    }
    add_directions(measure_.length, bar_.tail);
    return std::move(bar_);
  }

 private:
  // What the measure itself says at its start.
  void add_attributes(Cell& cell) const {
    const auto add = [&](std::string text) { cell.push_back({{}, std::move(text), {}}); };
    if (measure_.irregular) add(braced(kIrregular));
    if (model::ending_starts(score_, index_)) {
      add(braced(kEnding, fmt::format("{}", fmt::join(measure_.ending, ","))));
    }
    if (index_ == 0) return;
    const Measure& before = score_.measures[index_ - 1];
    // Of an ending that no bar sign closes.
    const bool stays_open = !before.ending.empty() && has_plain_end(before);
    if (measure_.ending.empty() && stays_open) add(braced(kEnding, kEndingEnd));
    Rational beat = last_beat(score_, index_ - 1);
    if (measure_.meter != before.meter) {
      add(braced(kMeter, model::to_text(measure_.meter)));
      beat = model::default_beat(measure_.meter);
    }
    if (measure_.beat != beat) {
      add(braced(model::BeatChange::kWord, model::beat_text(measure_.beat)));
    }
  }

  // The directions up to a place that have not been printed yet.
  void add_directions(Rational until, Cell& cell) {
    for (; next_direction_ < content_.directions.size(); ++next_direction_) {
      const model::Direction& direction = score_.directions[content_.directions[next_direction_]];
      if (direction.onset > until) return;
      // Between a change of beat in a group and the end of its word it is unclear which counts.
      const Rational unit = coming_beat_ ? Rational(0) : model::felt_beat(measure_.meter, beat_);
      cell.push_back({{}, direction_text(direction.value, unit), {}});
      const auto* change = std::get_if<model::BeatChange>(&direction.value);
      if (change != nullptr && depth_ > 0) coming_beat_ = change->beat;
      if (change != nullptr && depth_ == 0) beat_ = change->beat;
    }
  }

  void add_word(const model::RhythmWord& word, Cell& cell) {
    add_directions(word.begin, cell);
    if (!word.is_group()) return cell.push_back(leaf(word));
    open_ += '(';
    ++depth_;
    for (const model::RhythmWord& part : word.parts) add_word(part, cell);
    --depth_;
    std::string& text = cell.back().text;
    text += ')';
    if (word.words > 1) text += fmt::format(":{}", word.words);
    if (word.fraction != Rational(1)) text += ":" + model::to_text(word.fraction);
  }

  Piece leaf(const model::RhythmWord& word) {
    Piece piece;
    std::swap(piece.brackets, open_);
    const model::BarSpan& span = content_.spans[word.span];
    if (!span.note) {
      piece.text = alphabet_ == Alphabet::ascii ? kRestAscii : kRest;
      if (span.rest && word.starts) piece.text += marks_text(score_.rests[*span.rest].marks);
    } else if (!word.starts) {
      piece.text = kHold;
    } else {
      const model::Note& note = score_.notes[*span.note];
      piece.text = note_text(note, alphabet_);
      for (const std::string& verse : score_.verses) piece.song.push_back(song_of(note, verse));
    }
    return piece;
  }

  static std::string song_of(const model::Note& note, const std::string& verse) {
    const model::Syllable* syllable = note.syllable_of(verse);
    if (syllable == nullptr) return std::string(kSkipNote);
    if (syllable->extends) return std::string(kCarryOn);
    return song_word(on_one_line(syllable->text)).append(word_goes_on(syllable->kind) ? kJoin : "");
  }

  const model::Score& score_;
  Alphabet alphabet_;
  std::size_t index_;
  const model::Measure& measure_;
  const model::BarContent& content_;
  Rational beat_;                        // in force
  std::optional<Rational> coming_beat_;  // in force from the end of the word on
  int depth_ = 0;                        // of groups
  std::size_t next_direction_ = 0;
  std::string open_;  // brackets before the next leaf
  PrintedBar bar_;
};

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
    bool has_systems = false;
    for (const Measure& measure : score.measures) {
      authored_ |= measure.break_before != LineBreak::none;
      has_systems |= measure.break_before == LineBreak::system;
    }
    for (const model::Direction& direction : score.directions) {
      const bool section = std::holds_alternative<model::SectionStart>(direction.value);
      if (section) opens_section_[direction.measure] = true;
    }
    if (has_systems) break_long_systems();
  }

  std::vector<LaidLine> run() {
    std::vector<LaidLine> lines;
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const LineBreak here = i == 0 ? LineBreak::line : break_before(i);
      if (here != LineBreak::none) {
        lines.push_back({i, i, here == LineBreak::blank_line, opens_section_[i]});
        whole_bars_ = 0;
      }
      if (!is_short(i)) ++whole_bars_;
      lines.back().last = i + 1;
    }
    for (LaidLine& line : lines) finish(line);
    return lines;
  }

 private:
  // A long one breaks as where nobody says anything, except that no bar is left alone at the end.
  void break_long_systems() {
    const auto& measures = score_.measures;
    for (std::size_t first = 0, last = 0; first < measures.size(); first = last) {
      std::size_t left = 0;
      do {
        left += is_short(last) ? 0 : 1;
      } while (++last < measures.size() && measures[last].break_before == LineBreak::none);
      if (left <= kMostOfSystem) continue;
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
  }

  LineBreak break_before(std::size_t measure) const {
    const Measure& before = score_.measures[measure - 1];
    const LineBreak forced = before.comments.empty() ? LineBreak::none : LineBreak::line;
    if (authored_) {
      const LineBreak within = breaks_system_[measure] ? LineBreak::system : LineBreak::none;
      return std::max({forced, within, score_.measures[measure].break_before});
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

  void finish(LaidLine& line) const {
    line.begins_with_pickup = is_short(line.first) && line.last - line.first > 1;
    line.starts_block = line.first == 0 || line.blank_before || line.opens_section;
    if (line.starts_block) return;
    const Measure& first = score_.measures[line.first];
    const Measure& before = score_.measures[line.first - 1];
    // A comment between two blocks stands below the blank line that parts them.
    const bool parted = std::any_of(before.comments.begin(), before.comments.end(),
                                    [](const auto& comment) { return comment.blank_before; });
    line.starts_block =
        parted || first.meter.is_free() || first.meter != before.meter || first.beat != before.beat;
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
  Writer(const model::Score& score, Alphabet alphabet, base::Diagnostics told)
      : score_(score), alphabet_(alphabet), diagnostics_(std::move(told)) {}

  base::Outcome<std::string> run() {
    try {
      contents_ = model::bar_contents(score_);
      text_ = header_text(score_.header);
      music();
    } catch (const model::TimeOverflow&) {
      diagnostics_.push_back(
          base::report(rule::bar_too_fine, std::nullopt,
                       base::message("a note is too long or too fine to be placed in its bars"),
                       base::message("move the notes to simpler fractions of the beat")));
    }
    if (base::has_errors(diagnostics_)) return {std::nullopt, std::move(diagnostics_)};
    return {std::move(text_), std::move(diagnostics_)};
  }

 private:
  void music() {
    std::vector<LaidLine> lines = LineBreaker(score_).run();
    if (!lines.empty()) text_ += '\n';
    for (std::size_t i = 0; i < lines.size();) {
      LaidBlock block;
      do {
        block.push_back(laid(std::move(lines[i++])));
      } while (i < lines.size() && !lines[i].starts_block);
      if (base::has_errors(diagnostics_)) return;
      print_block(block, score_.verses, score_.song_bars, text_);
    }
  }

  LaidLine laid(LaidLine line) {
    for (std::size_t i = line.first; i < line.last; ++i) line.bars.push_back(printed(i, line));
    move_heading(line);
    const auto& comments = score_.measures[line.last - 1].comments;
    for (const auto& [text, own_line, blank_before] : comments) {
      if (&text == &comments.front().text && !own_line) {
        line.comment = comment_text(text);
      } else {
        line.comments_below.push_back((blank_before ? "\n" : "") + comment_text(text));
      }
    }
    return line;
  }

  // With its signs; a repeat start takes the place of a plain bar line before it.
  PrintedBar printed(std::size_t measure, const LaidLine& line) {
    const model::Measure& here = score_.measures[measure];
    PrintedBar bar = words_of(measure);
    const bool before_repeat = measure + 1 < line.last && score_.measures[measure + 1].repeat_start;
    bar.end_sign = before_repeat && has_plain_end(here)
                       ? std::string(kRepeatStart)
                       : bar_end_text({here.right, here.repeat_end, here.times, false});
    const bool said = measure > line.first && has_plain_end(score_.measures[measure - 1]);
    if (here.repeat_start && !said) bar.begin_sign = kRepeatStart;
    return bar;
  }

  PrintedBar words_of(std::size_t measure) {
    try {
      PrintedBar bar = BarPrinter(score_, measure, contents_[measure], alphabet_).print();
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
    base::Diagnostic told =
        base::report(rule::bar_too_fine, {}, std::move(message),
                     base::message("move its notes to simpler fractions of the beat"));
    base::tell(diagnostics_, {std::move(told), 1, {measure}}, model::BarNumbers{score_});
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
  static void move_heading(LaidLine& line) {
    PrintedBar& first = line.bars.front();
    if (!line.opens_section && cell_width(first.lead) <= kWidestLead) return;
    line.heading = std::exchange(first.begin_sign, {});
    for (const Piece& piece : std::exchange(first.lead, {})) {
      if (!line.heading.empty()) line.heading += ' ';
      line.heading += piece.text;
    }
  }

  const model::Score& score_;
  Alphabet alphabet_;
  base::Diagnostics diagnostics_;
  std::vector<model::BarContent> contents_;
  std::string text_;
  std::size_t words_ = 0;
};

}  // namespace

base::Outcome<std::string> write_notation(const model::Score& score, Alphabet alphabet) {
  base::Diagnostics found = check_writable(score, alphabet);
  // Without fingers and signs there is nothing to print.
  if (base::has_errors(found)) return {std::nullopt, std::move(found)};
  auto mended = mend(score);
  return Writer(mended.value ? *mended.value : score, alphabet, std::move(mended.diagnostics))
      .run();
}

}  // namespace yubifu::notation
