#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/message.h"
#include "base/word_table.h"
#include "model/words.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/read/sign_reader.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

// {pre 六 七} or {post 六}
struct GraceNotes {
  ValuedMark side = ValuedMark::pre;
  std::vector<model::Tone> tones;
  std::u32string look_alikes;
};

using MarkMeaning = std::variant<model::Mark, GraceNotes, model::HolePattern, Fault>;

Fault bad_mark(const Brace& brace, std::string_view example) {
  return bad_value(rule::bad_mark_value, brace,
                   brace.value.empty() ? base::message("write `{}`", example)
                                       : base::message("write for example `{}`", example));
}

MarkMeaning read_grace(const Brace& brace, ValuedMark side, model::ZeroSign zero) {
  GraceNotes grace{side, {}, {}};
  std::string_view rest = brace.value;
  while (!rest.empty()) {
    const std::string_view written = first_word(rest);
    WordMeaning word = read_word(written, zero);
    auto* fault = std::get_if<Fault>(&word);
    if (fault != nullptr && !fault->hint.empty()) return std::move(*fault);
    auto* sign = std::get_if<ReadWord>(&word);
    if (sign == nullptr || sign->kind != WordKind::note) {
      return Fault{fault == nullptr ? &rule::bad_mark_value : fault->rule,
                   base::message("{} is no grace note", shown(written)),
                   base::message("grace notes are signs, as in `{{{} 六 七}}`", brace.name)};
    }
    grace.tones.push_back(std::move(sign->tone));
    grace.look_alikes += sign->look_alikes;
    rest = trimmed(rest.substr(written.size()));
  }
  if (grace.tones.empty()) return bad_mark(brace, braced(brace.name, "六 七"));
  return grace;
}

MarkMeaning read_holes(const Brace& brace) {
  auto pattern = model::parse_hole_pattern(folded(brace.value));
  if (!pattern) return bad_mark(brace, "{holes ○●●●●●○}");
  if (pattern->holes.size() > kMostHoles) {
    return Fault{&rule::bad_mark_value,
                 base::message("a pattern of {} holes", pattern->holes.size()),
                 base::message("a pattern has at most {}", kMostHoles)};
  }
  return *std::move(pattern);
}

// Reads a brace that is attached to a sign.
MarkMeaning read_mark(const Brace& brace, model::ZeroSign zero) {
  if (const auto mark = notation::mark(brace.name)) {
    if (brace.value.empty()) return *mark;
    return needless_value(rule::bad_mark_value, brace);
  }
  if (const auto valued = kValuedMarks.value_of(brace.name)) {
    return *valued == ValuedMark::holes ? read_holes(brace) : read_grace(brace, *valued, zero);
  }
  if (place_of_word(brace.name)) {
    return Fault{&rule::glued_direction,
                 base::message("the direction {} is glued to a sign", shown(braced(brace.name))),
                 base::message("put a space before it")};
  }
  const auto near = base::nearest_word(brace.name, mark_words());
  const auto free = near ? std::nullopt : base::nearest_word(brace.name, direction_words());
  return Fault{&rule::unknown_mark, base::message("{} is no mark", shown(braced(brace.name))),
               near   ? base::message("did you mean `{{{}}}`?", *near)
               : free ? base::message("did you mean the direction `{{{}}}`? It stands free, with a "
                                      "space before it",
                                      *free)
                      : base::message("marks are {{fermata}}, {{breath}}, {{uchi}}, {{age}}, "
                                      "{{suri}}, {{yuri}}, {{trill}}, {{accent}}, {{staccato}}, "
                                      "{{tenuto}}, {{pre …}}, {{post …}} and {{holes …}}")};
}

// What to say of a mark that this kind of word does not take; nothing where it takes it.
std::optional<Fault> refused(const MarkMeaning& meaning, WordKind kind, std::string_view name,
                             std::string_view written, std::string_view held) {
  const auto* mark = std::get_if<model::Mark>(&meaning);
  switch (kind) {
    case WordKind::note:
      return std::nullopt;
    case WordKind::rest:
      if (mark != nullptr && model::is_rest_mark(*mark)) return std::nullopt;
      return Fault{&rule::mark_on_rest, base::message("a rest takes no `{{{}}}`", name),
                   base::message("rests take {{fermata}}, {{breath}} and {{breath?}}")};
    case WordKind::hold:
      return Fault{&rule::mark_on_hold, base::message("a hold takes no `{{{}}}`", name),
                   held.empty()
                       ? base::message("write it on the sign that is held")
                       : base::message("write it on the sign that is held: `{}{}`", held, written)};
    case WordKind::same_bar:
      break;
  }
  return Fault{&rule::same_bar_place, base::message("`%` takes no `{{{}}}`", name),
               base::message("write the bar out to give it a mark")};
}

// False for what the note has already.
bool add(MarkMeaning meaning, model::Note& note) {
  if (const auto* mark = std::get_if<model::Mark>(&meaning)) {
    if (note.has(*mark)) return false;
    note.marks.push_back(*mark);
  } else if (auto* grace = std::get_if<GraceNotes>(&meaning)) {
    auto& tones = grace->side == ValuedMark::pre ? note.grace_before : note.grace_after;
    if (!tones.empty()) return false;
    tones = std::move(grace->tones);
  } else {
    if (note.asked_holes) return false;
    note.asked_holes = std::get<model::HolePattern>(std::move(meaning));
  }
  return true;
}

}  // namespace

model::Note read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                          model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes,
                          std::string_view held) {
  model::Note note;
  const auto twice = [&](base::SourceRange range, std::string_view what) {
    reports.add(rule::suffix_twice, range,
                base::message("{} stands twice on one sign", shown(what)),
                base::message("keep one of them"));
  };
  for (const auto& [token, spaced, range] : word.attached) {
    if (token == TokenKind::slur) {
      if (kind != WordKind::note) {
        reports.add(rule::slur_place, range,
                    base::message("`~` stands after a word that is no sign"),
                    base::message("write it after the sign of the note that is slurred, before its "
                                  "holds"));
      } else if (note.slur_to_next) {
        twice(range, "~");
      }
      note.slur_to_next = kind == WordKind::note;
      continue;
    }
    const std::string_view written = text_of(source, range);
    const Brace brace = take_apart(written);
    MarkMeaning meaning = read_mark(brace, zero);
    if (auto* fault = std::get_if<Fault>(&meaning)) {
      reports.add(std::move(*fault), range);
    } else if (auto no = refused(meaning, kind, brace.name, written, held)) {
      reports.add(*std::move(no), range);
    } else {
      const auto* grace = std::get_if<GraceNotes>(&meaning);
      if (grace != nullptr) count(look_alikes, grace->look_alikes, range);
      if (!add(std::move(meaning), note)) twice(range, braced(brace.name));
    }
  }
  std::sort(note.marks.begin(), note.marks.end());
  return note;
}

}  // namespace yubifu::notation
