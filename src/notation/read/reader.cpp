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
  return std::string(comment.substr(0, comment.find_last_not_of(" \t\n\v\f\r") + 1));
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
base::Diagnostics sorted_by_place(base::Diagnostics diagnostics) {
  const auto place = [](const base::Diagnostic& told) {
    return std::pair(told.rule == &rule::too_many_findings, told.where->begin);
  };
  std::stable_sort(diagnostics.begin(), diagnostics.end(),
                   [&](const auto& a, const auto& b) { return place(a) < place(b); });
  return diagnostics;
}

using model::Measure;
using model::Rational;

// "3 1/2" words.
std::string counted(Rational words) {
  const Rational whole(words.floor());
  if (words == whole || whole == Rational(0)) return model::to_text(words);
  return model::to_text(whole) + ' ' + model::to_text(words - whole);
}

// In a compound meter a bar whose words would fit if each lasted another usual beat of it.
std::optional<std::string> other_beat(const BuiltScore& built, std::size_t i) {
  const Measure& here = built.score.measures[i];
  const Rational full = here.meter.length();
  const Rational unit = model::default_beat(here.meter);
  const Rational felt = model::felt_beat(here.meter, unit);
  if (felt == unit || built.facts[i].changes_beat) return std::nullopt;
  if (here.beat == unit && here.length * Rational(3) == full) {
    return base::message(
        "here a word lasts {}; where it shall last {}, write `beat: {}` in the header",
        model::beat_text(unit), model::beat_text(felt), model::beat_text(felt));
  }
  if (here.beat == unit && here.length * Rational(2) == full) {
    const std::string twice = model::beat_text(unit * Rational(2));
    return base::message(
        "here a word lasts {}; where it shall last {}, write `beat: {}` in the header, and "
        "`beat: {}` where it shall last {}",
        model::beat_text(unit), twice, twice, model::beat_text(felt), model::beat_text(felt));
  }
  if (here.beat == felt && here.length == full * Rational(3)) {
    return base::message("here a word lasts {}; without `beat: {}` it lasts {}",
                         model::beat_text(felt), model::beat_text(felt), model::beat_text(unit));
  }
  return std::nullopt;
}

// What would make a whole bar with the short one at the other end.
std::optional<std::string> completing_words(const BuiltScore& built, std::size_t i) {
  const Measure& here = built.score.measures[i];
  for (const std::size_t partner : model::partners_of_short(built.score, i)) {
    const Measure& other = built.score.measures[partner];
    if (other.meter != here.meter || built.facts[partner].broken || other.irregular) continue;
    const Rational words = (here.meter.length() - other.length) / here.beat;
    return base::message(
        "with {} it would complete bar {}; if the bar is meant so, begin it with "
        "`{{irregular}}`",
        counted(words), other.number);
  }
  return std::nullopt;
}

std::string remedy(const BuiltScore& built, std::size_t i) {
  if (auto other = other_beat(built, i)) return *std::move(other);
  if (!lasts_less(built.score.measures[i])) {
    return base::message(
        "a bar sign may be missing; if the bar is meant so, begin it with `{{irregular}}`");
  }
  if (auto partner = completing_words(built, i)) return *std::move(partner);
  return base::message(
      "a word or hold may be missing; if the bar is meant so, begin it with `{{irregular}}`");
}

void report_length(const BuiltScore& built, std::size_t i, Reports& reports) {
  const Measure& here = built.score.measures[i];
  const std::string meter = model::to_text(here.meter);
  const Rational words = here.length / here.beat;
  const std::string beat = model::beat_text(here.beat);
  const std::string asked = model::to_text(here.meter.length() / here.beat);
  reports.add(
      rule::bar_length, here.source,
      built.facts[i].changes_beat ? base::message("bar {} lasts {} of a whole note, not {}",
                                                  here.number, model::beat_text(here.length), meter)
      : words > Rational(1) ? base::message("bar {} has {} words of {}; {} has {}", here.number,
                                            counted(words), beat, meter, asked)
                            : base::message("bar {} has {} word of {}; {} has {}", here.number,
                                            counted(words), beat, meter, asked),
      remedy(built, i));
}

void check_fractions(const BuiltScore& built, std::size_t i, Reports& reports) {
  const BarFacts& facts = built.facts[i];
  if (facts.fractions.empty()) return;
  if (facts.fractions.size() > 1) {
    return reports.add(
        rule::fraction_place, facts.fractions[1].range,
        base::message("a second incomplete word in bar {}", built.score.measures[i].number),
        base::message("one word of a bar may be incomplete"));
  }
  const FractionWord& word = facts.fractions.front();
  const bool comes_first = model::fraction_comes_first(built.score, i);
  if (comes_first ? word.first : word.last) return;
  // Words counted in two beats may be whole from the start of a pickup only.
  if (comes_first && facts.changes_beat && word.last) return;
  reports.add(rule::fraction_place, word.range,
              comes_first ? base::message("the incomplete word of a pickup is its first word")
                          : base::message("the incomplete word of this bar is its last word"),
              base::message("write the other words of the bar whole, with groups and holds"));
}

void check_bar(const BuiltScore& built, std::size_t i, Reports& reports) {
  const Measure& here = built.score.measures[i];
  const BarFacts& facts = built.facts[i];
  // Reasons to be short that the score does not hold: a meter said again, an ending closed where
  // a bar sign closes it too.
  const bool by_word = facts.may_be_short || facts.ends_ending ||
                       (i + 1 < built.facts.size() && built.facts[i + 1].may_be_short);
  if (here.irregular && !facts.irregular && !(by_word && lasts_less(here))) {
    return report_length(built, i, reports);
  }
  if (!here.irregular && facts.irregular) {
    reports.add(rule::needless_irregular, *facts.irregular,
                base::message("bar {} needs no {{irregular}}", here.number),
                base::message("take it out"));
  }
  check_fractions(built, i, reports);
}

// Of the bars, once all of them are known.
void check_lengths(BuiltScore& built, base::SourceRange end, Reports& reports) {
  try {
    model::mark_irregular(built.score);
    model::number_measures(built.score);
    for (std::size_t i = 0; i < built.facts.size(); ++i) {
      if (!built.facts[i].broken && built.facts[i].time_known) check_bar(built, i, reports);
    }
  } catch (const model::TimeOverflow&) {
    reports.add(rule::bar_overflow, end,
                base::message("the lengths of two bars together are too fine to be held exactly"),
                base::message("divide the beat into fewer parts"));
  }
}

void report_missing_music(const base::SourceText& source, const Tree& tree, Reports& reports) {
  const bool empty = tree.header.empty() && tree.comments.empty() && tree.songs.empty() &&
                     tree.music_lines.empty();
  if (empty) {
    reports.add(rule::empty_input, {0, 0}, base::message("the text is empty"),
                base::message("a score is a header such as `flute: 6`, and below it the music"));
  } else {
    reports.add(rule::no_words, end_of(source), base::message("the text has no music"),
                base::message("write the signs below the header: `五 六 七 - |`"));
  }
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
    const auto* read = std::get_if<ReadWord>(&meaning);
    const bool own = read != nullptr && read->tone.fingering && read->tone.fingering->sign &&
                     !model::standard_place(*read->tone.fingering->sign);
    if (read != nullptr && !own) ++good;
  }
  return bar && good * 2 > words;
}

}  // namespace

base::Outcome<model::Score> read_notation(const base::SourceText& source, const SignsOf& signs_of) {
  if (const auto at = base::first_invalid_utf8(source.text())) {
    return {std::nullopt, {not_utf8(*at)}};
  }
  Reports reports;
  const Tree tree = parse(source, lex(source, reports), reports);
  const HeaderReading header = read_header(source, tree.header, reports);
  if (tree.bars.empty()) {
    report_missing_music(source, tree, reports);
    return {std::nullopt, sorted_by_place(reports.take())};
  }
  BuiltScore built = build_score(source, tree, header, signs_of, reports);
  if (!reports.has(rule::size_limit)) add_song_text(source, tree, built, reports);
  check_lengths(built, end_of(source), reports);
  place_comments(source, tree, built.score);
  model::gather_start_into_header(built.score);
  base::Diagnostics diagnostics = sorted_by_place(reports.take());
  name_measures(built.score, diagnostics);
  return {std::move(built.score), std::move(diagnostics)};
}

base::Outcome<std::string> notation_text(std::string bytes) {
  const bool utf16 = bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
  const auto invalid = base::first_invalid_utf8(bytes);
  if (!invalid) return {std::move(bytes), {}};
  base::Conversion converted = base::to_utf8(bytes, utf16 ? "UTF-16" : base::kShiftJis);
  if (!converted.stopped_at && (utf16 || looks_like_notation(converted.text))) {
    return {std::move(converted.text),
            {base::report(
                rule::other_encoding, std::nullopt,
                base::message("the text is {} and is read as such", utf16 ? "UTF-16" : "Shift_JIS"),
                base::message("save it with the encoding UTF-8, so that every program "
                              "reads the same"))}};
  }
  bytes.resize(*invalid);
  return {std::move(bytes) + "\uFFFD", {not_utf8(*invalid)}};
}

bool looks_like_notation(std::string_view text) {
  const base::SourceText source({}, std::string(text));
  Reports untold;
  std::vector<Token> line;
  for (const Token& token : lex(source, untold)) {
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
