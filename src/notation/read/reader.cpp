#include "notation/read/reader.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/encoding.h"
#include "base/message.h"
#include "base/utf8.h"
#include "notation/characters.h"
#include "notation/read/lexer.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/read/sign_reader.h"
#include "notation/read/steps.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

base::Diagnostic not_utf8(std::size_t at) {
  return base::report(
      rule::not_utf8, base::SourceRange{at, at + 1},
      base::message("from here on the text is not UTF-8"),
      base::message("open it in the editor that made it and save it with the encoding UTF-8"));
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
    std::string text = comment_text(text_of(source, comment.range));
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
  NotationReader(const base::SourceText& source, const SignsOf& signs_of)
      : source_(source), signs_of_(signs_of) {}

  base::Outcome<model::Score> run() {
    if (const auto at = base::first_invalid_utf8(source_.text())) {
      return {std::nullopt, {not_utf8(*at)}};
    }
    const Tree tree = read_tree();
    HeaderReading header = read_header(source_, tree.header);
    reports_.add_all(std::move(header.diagnostics));
    if (tree.bars.empty()) {
      missing_music(tree);
      return {std::nullopt, take()};
    }
    BuiltScore built = build_score(source_, tree, header, signs_of_);
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
  const SignsOf& signs_of_;
  Reports reports_;
};

base::Diagnostic other_encoding(std::string_view name) {
  return base::report(rule::other_encoding, std::nullopt,
                      base::message("the text is {} and is read as such", name),
                      base::message("save it with the encoding UTF-8, so that every program reads "
                                    "the same"));
}

// A line of music: more than half of what stands between bar signs and brackets are words.
bool is_music_line(const std::vector<Token>& line, const base::SourceText& source) {
  std::size_t good = 0;
  std::size_t words = 0;
  bool bar = false;
  for (const Token& token : line) {
    bar |= token.kind == TokenKind::bar;
    if (token.kind != TokenKind::word) continue;
    ++words;
    const auto meaning = read_word(text_of(source, token.range), model::ZeroSign::cross);
    const auto* sign = std::get_if<SignWord>(&meaning);
    const bool own = sign != nullptr && sign->tone.fingering->sign &&
                     !model::standard_place(*sign->tone.fingering->sign);
    if (!own && !std::holds_alternative<Fault>(meaning)) ++good;
  }
  return bar && good * 2 > words;
}

}  // namespace

base::Outcome<model::Score> read_notation(const base::SourceText& source, const SignsOf& signs_of) {
  return NotationReader(source, signs_of).run();
}

base::Outcome<std::string> notation_text(std::string bytes) {
  const bool utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
  const auto invalid = base::first_invalid_utf8(bytes);
  if (!invalid) return {std::move(bytes), {}};
  base::Conversion converted = base::to_utf8(bytes, utf16 ? "UTF-16" : base::kShiftJis);
  if (!converted.stopped_at && (utf16 || looks_like_notation(converted.text))) {
    return {std::move(converted.text), {other_encoding(utf16 ? "UTF-16" : "Shift_JIS")}};
  }
  bytes.resize(*invalid);
  return {std::move(bytes) + "\uFFFD", {not_utf8(*invalid)}};
}

bool looks_like_notation(std::string_view text) {
  const base::SourceText source({}, std::string(text));
  const auto tokens = lex(source);
  std::vector<Token> line;
  for (const Token& token : *tokens.value) {
    if (token.kind == TokenKind::header) {
      const auto parts = header_parts(text_of(source, token.range));
      if (parts && header_key(folded(parts->key))) return true;
    }
    if (token.kind != TokenKind::line_end) {
      line.push_back(token);
      continue;
    }
    if (is_music_line(line, source)) return true;
    line.clear();
  }
  return is_music_line(line, source);
}

}  // namespace yubifu::notation
