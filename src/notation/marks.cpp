#include "notation/marks.h"

#include <utility>

#include "base/message.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "model/words.h"
#include "notation/characters.h"
#include "notation/rules.h"
#include "notation/sign_reader.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

std::string braced(std::string_view text) {
  std::string out = "{";
  return out.append(text).append("}");
}

Fault bad_value(const Brace& brace, std::string_view example) {
  const std::string name = braced(brace.name);
  if (brace.value.empty()) {
    return {&rule::bad_mark_value, base::message("{} needs a value", shown(name)),
            base::message("write `{}`", example)};
  }
  return {&rule::bad_mark_value,
          base::message("{} is no value of {}", shown(brace.value), shown(name)),
          base::message("write for example `{}`", example)};
}

MarkMeaning read_grace(const Brace& brace, GraceNotes::Side side, model::ZeroSign zero) {
  GraceNotes grace{side, {}, {}};
  std::string_view rest = brace.value;
  while (!rest.empty()) {
    std::size_t end = 0;
    while (end < rest.size()) {
      const base::CodePoint point = base::first_code_point(rest.substr(end));
      if (is_space(point.value)) break;
      end += point.size;
    }
    WordMeaning word = read_word(rest.substr(0, end), zero);
    auto* fault = std::get_if<Fault>(&word);
    if (fault != nullptr && !fault->hint.empty()) return std::move(*fault);
    auto* sign = std::get_if<SignWord>(&word);
    if (sign == nullptr) {
      return Fault{fault == nullptr ? &rule::bad_mark_value : fault->rule,
                   base::message("{} is no grace note", shown(rest.substr(0, end))),
                   base::message("grace notes are signs, as in `{{{} 六 七}}`", brace.name)};
    }
    grace.tones.push_back(std::move(sign->tone));
    grace.look_alikes.insert(grace.look_alikes.end(), sign->look_alikes.begin(),
                             sign->look_alikes.end());
    rest = trimmed(rest.substr(end));
  }
  if (grace.tones.empty()) return bad_value(brace, braced(brace.name + " 六 七"));
  return grace;
}

MarkMeaning read_holes(const Brace& brace) {
  auto pattern = model::parse_hole_pattern(brace.folded_value());
  if (!pattern) return bad_value(brace, "{holes ○●●●●●○}");
  if (pattern->holes.size() > kMostHoles) {
    return Fault{&rule::bad_mark_value,
                 base::message("a pattern of {} holes", pattern->holes.size()),
                 base::message("a pattern has at most {}", kMostHoles)};
  }
  return *std::move(pattern);
}

// True for a word that opens a free-standing brace.
bool names_direction(std::string_view name) {
  return model::cue_named(name).has_value() || direction_word(name).has_value();
}

}  // namespace

MarkMeaning read_mark(const Brace& brace, model::ZeroSign zero) {
  if (const auto mark = notation::mark(brace.name)) {
    if (brace.value.empty()) return *mark;
    return Fault{&rule::bad_mark_value,
                 base::message("{} takes no value", shown(braced(brace.name))),
                 base::message("take {} out", shown(brace.value))};
  }
  if (const auto valued = valued_mark(brace.name)) {
    switch (*valued) {
      case ValuedMark::pre:
        return read_grace(brace, GraceNotes::Side::before, zero);
      case ValuedMark::post:
        return read_grace(brace, GraceNotes::Side::after, zero);
      case ValuedMark::holes:
        return read_holes(brace);
    }
  }
  if (names_direction(brace.name)) {
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

bool names_mark(std::string_view name) {
  return mark(name).has_value() || valued_mark(name).has_value();
}

bool is_rest_mark(const MarkMeaning& mark) {
  const auto* plain = std::get_if<model::Mark>(&mark);
  return plain != nullptr && model::is_rest_mark(*plain);
}

}  // namespace yubifu::notation
