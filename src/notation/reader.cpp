#include "notation/reader.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/message.h"
#include "base/utf8.h"
#include "notation/bar_checks.h"
#include "notation/characters.h"
#include "notation/header.h"
#include "notation/lexer.h"
#include "notation/parser.h"
#include "notation/reports.h"
#include "notation/rules.h"
#include "notation/score_builder.h"
#include "notation/verses.h"

namespace yubifu::notation {
namespace {

std::optional<base::Diagnostic> encoding_fault(std::string_view text) {
  const auto invalid = base::first_invalid_utf8(text);
  if (!invalid) return std::nullopt;
  const bool utf16 = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
  return base::report(
      rule::not_utf8, base::SourceRange{*invalid, *invalid + 1},
      utf16 ? base::message("the file is UTF-16, not UTF-8")
            : base::message("the byte 0x{:02X} is not UTF-8",
                            static_cast<unsigned>(static_cast<unsigned char>(text[*invalid]))),
      utf16 ? base::message("convert it: iconv -f UTF-16 -t UTF-8 old.yubifu > new.yubifu")
            : base::message("convert it, for example: iconv -f SHIFT_JIS -t UTF-8 old.yubifu > "
                            "new.yubifu"));
}

// The place for messages about what is missing.
base::SourceRange end_of(const base::SourceText& source) {
  return {source.text().size(), source.text().size()};
}

std::string comment_text(std::string_view comment) {
  comment.remove_prefix(base::first_code_point(comment).size);
  const base::CodePoint first = base::first_code_point(comment);
  if (first.size > 0 && is_space(first.value)) comment.remove_prefix(first.size);
  while (!comment.empty() && trimmed(comment.substr(comment.size() - 1)).empty()) {
    comment.remove_suffix(1);
  }
  return std::string(comment);
}

void place_comments(const base::SourceText& source, const Tree& tree, model::Score& score) {
  for (const PlacedComment& comment : tree.comments) {
    std::string text = comment_text(
        source.text().substr(comment.range.begin, comment.range.end - comment.range.begin));
    if (!comment.after_bar || score.measures.empty()) {
      score.header.comments.push_back(std::move(text));
      continue;
    }
    const std::size_t measure = std::min(*comment.after_bar, score.measures.size() - 1);
    score.measures[measure].comments.push_back(
        {std::move(text), comment.own_line, comment.blank_before});
  }
}

// Names the measure that each finding is about.
void name_measures(const model::Score& score, base::Diagnostics& diagnostics) {
  for (base::Diagnostic& diagnostic : diagnostics) {
    if (!diagnostic.where || !diagnostic.measures.empty()) continue;
    const std::size_t at = diagnostic.where->begin;
    const auto after = std::upper_bound(score.measures.begin(), score.measures.end(), at,
                                        [](std::size_t offset, const model::Measure& measure) {
                                          return offset < measure.source.begin;
                                        });
    if (after == score.measures.begin()) continue;
    const model::Measure& measure = *(after - 1);
    if (at < measure.source.end) diagnostic.measures.push_back(measure.number);
  }
}

// In the order of the text; what is told of no place comes last.
void sort_by_place(base::Diagnostics& diagnostics) {
  std::stable_sort(diagnostics.begin(), diagnostics.end(),
                   [](const base::Diagnostic& a, const base::Diagnostic& b) {
                     const bool last_a = a.rule == &rule::too_many_findings;
                     const bool last_b = b.rule == &rule::too_many_findings;
                     if (last_a != last_b) return last_b;
                     return a.where->begin < b.where->begin;
                   });
}

class NotationReader {
 public:
  explicit NotationReader(const base::SourceText& source) : source_(source) {}

  base::Outcome<model::Score> run() {
    if (auto fault = encoding_fault(source_.text())) return {std::nullopt, {*std::move(fault)}};
    const Tree tree = read_tree();
    HeaderReading header = read_header(source_, tree.header);
    reports_.add_all(std::move(header.diagnostics));
    if (tree.bars.empty()) {
      missing_music(tree);
      return {std::nullopt, take()};
    }
    BuiltScore built = build_score(source_, tree, header);
    reports_.add_all(std::move(built.diagnostics));
    if (!reports_.has(rule::size_limit)) reports_.add_all(add_song_text(source_, tree, built));
    finish(tree, built);
    base::Diagnostics diagnostics = take();
    name_measures(built.score, diagnostics);
    return {std::move(built.score), std::move(diagnostics)};
  }

 private:
  base::Diagnostics take() {
    base::Diagnostics diagnostics = reports_.take();
    sort_by_place(diagnostics);
    return diagnostics;
  }

  Tree read_tree() {
    auto tokens = lex(source_);
    reports_.add_all(std::move(tokens.diagnostics));
    auto tree = parse(source_, *tokens.value);
    reports_.add_all(std::move(tree.diagnostics));
    return *std::move(tree.value);
  }

  void missing_music(const Tree& tree) {
    const bool empty = tree.header.empty() && tree.comments.empty() && tree.songs.empty() &&
                       tree.music_lines.empty();
    if (empty) {
      reports_.add(rule::empty_input, {0, 0}, base::message("the text is empty"),
                   base::message("a score is a header such as `flute: 6`, and below it the music"));
      return;
    }
    reports_.add(rule::no_words, end_of(source_), base::message("the text has no music"),
                 base::message("write the signs below the header: `五 六 七 - |`"));
  }

  void finish(const Tree& tree, BuiltScore& built) {
    try {
      check_bars(built.score, built.facts, reports_);
    } catch (const model::TimeOverflow&) {
      reports_.add(
          rule::bar_overflow, end_of(source_),
          base::message("the lengths of two bars together are too fine to be held exactly"),
          base::message("divide the beat into fewer parts"));
    }
    place_comments(source_, tree, built.score);
    model::gather_start_into_header(built.score);
  }

  const base::SourceText& source_;
  Reports reports_;
};

}  // namespace

base::Outcome<model::Score> read_notation(const base::SourceText& source) {
  return NotationReader(source).run();
}

}  // namespace yubifu::notation
