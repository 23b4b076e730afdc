// What is said of words that are no signs: the readings they may have been meant for; and of signs
// that only look like the one meant.
#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "notation/characters.h"
#include "notation/read/sign_reader.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

constexpr std::string_view kDigits = "0123456789";
constexpr std::size_t kMostPieces = 16;

bool is_standard(const Unit& unit) {
  if (unit.kind != Unit::Kind::sign) return true;
  const auto& sign = unit.sign.tone.fingering->sign;
  return !sign || model::standard_place(*sign).has_value();
}

// The words that a run of signs without spaces was meant for; empty when it is no such run.
std::vector<std::string> pieces_of(std::string_view word, model::ZeroSign zero) {
  std::vector<std::string> pieces;
  while (!word.empty()) {
    const auto next = first_unit(word, zero);
    const Unit* unit = next ? std::get_if<Unit>(&*next) : nullptr;
    if (unit == nullptr || !is_standard(*unit) || pieces.size() == kMostPieces) return {};
    pieces.emplace_back(word.substr(0, unit->size));
    word.remove_prefix(unit->size);
  }
  return pieces;
}

// The whole number of a plain digit sign, 1 to 8.
std::optional<int> plain_digit(std::string_view sign) {
  if (sign.size() != 1 || sign.front() < '1' || sign.front() > '8') return std::nullopt;
  return sign.front() - '0';
}

Fault dot_on_digit(std::string_view word, std::string_view digit, int number) {
  const auto dotted = model::Sign::standard(model::Register::third, number == 8 ? 1 : number);
  return {&rule::dot_on_digit, base::message("the dot in {} is a rest or another dot", shown(word)),
          base::message("write `{}` for the third register (or `d{}`), `{} {}` for a note and a "
                        "rest",
                        dotted->printed(), number, digit, kRest)};
}

// 三メ20: either the bend sign is missing, or メ stands for it.
Fault half_hole_number(std::string_view word, const model::Fingering& half_holed,
                       std::string_view number) {
  const bool ascii = std::all_of(word.begin(), word.end(),
                                 [](char c) { return static_cast<unsigned char>(c) < 0x80; });
  const bool up = half_holed.half == model::HalfHole::over;
  const std::string_view bend = up ? (ascii ? "^" : "↑") : (ascii ? "v" : "↓");
  model::Fingering plain = half_holed;
  plain.half = model::HalfHole::none;
  const auto bent = [&](const model::Fingering& fingering) {
    std::string text = ascii ? model::ascii(fingering) : model::printed(fingering);
    return text.append(bend).append(number);
  };
  return {&rule::half_hole_number,
          base::message("{} has a number after its half hole", shown(word)),
          base::message("write `{}` for the half-holed note bent by {} cents, or `{}` for the "
                        "plain one bent so",
                        bent(half_holed), number, bent(plain))};
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

bool is_whole_sign(std::string_view word, model::ZeroSign zero) {
  const auto first = first_unit(word, zero);
  const Unit* unit = first ? std::get_if<Unit>(&*first) : nullptr;
  return unit != nullptr && unit->size == word.size();
}

// The strokes of paper that hold a note.
bool is_strokes(std::string_view text) {
  return !text.empty() && text.find_first_not_of("/_") == std::string_view::npos;
}

// A semitone under a sign: the sign below, where that is one; else its half hole.
std::string semitone_under(const model::Sign& sign) {
  using model::Register;
  const auto place = model::standard_place(sign);
  std::optional<model::Sign> below;
  if (place && place->number == 4) below = model::Sign::standard(place->in, 3);
  if (place == model::SignPlace{Register::second, 1})
    below = model::Sign::standard(Register::low, 7);
  if (place == model::SignPlace{Register::third, 1}) {
    below = model::Sign::standard(Register::second, 7);
  }
  return below ? below->printed() : model::printed({sign, model::HalfHole::under, 0});
}

// The sign in words such as `3b` and `b3`.
std::optional<model::Sign> flattened(std::string_view word, model::ZeroSign zero) {
  if (word.starts_with('b')) {
    word.remove_prefix(1);
  } else if (word.ends_with('b')) {
    word.remove_suffix(1);
  } else {
    return std::nullopt;
  }
  const auto first = first_unit(word, zero);
  const Unit* unit = first ? std::get_if<Unit>(&*first) : nullptr;
  if (unit == nullptr || unit->size != word.size() || unit->kind != Unit::Kind::sign ||
      !is_standard(*unit)) {
    return std::nullopt;
  }
  const model::Fingering& fingering = *unit->sign.tone.fingering;
  const bool plain = fingering.half == model::HalfHole::none && fingering.bend_cents == 0;
  return plain ? fingering.sign : std::nullopt;
}

// Empty where nobody can tell what was meant.
std::string hint_for(std::string_view word, model::ZeroSign zero) {
  const std::string lower = lower_case(word);
  if (lower != word && is_whole_sign(lower, zero)) {
    return base::message("write it in small letters: `{}`", lower);
  }
  if (half_hole_at(word) || bend_begins(word)) {
    return base::message("half hole and bend stand directly after a sign, without a space");
  }
  const std::size_t first_size = base::first_code_point(word).size;
  const std::string_view rest = word.substr(first_size);
  if (is_dash(base::first_code_point(word).value) && (half_hole_at(rest) || bend_begins(rest))) {
    return base::message("a dash is a hold; the sign of the low register is the kanji 一");
  }
  if (word.starts_with(':')) {
    return base::message(
        "a length such as `:2` stands directly after `)`; repeats are `|:` and "
        "`:|`");
  }
  if (word.find('#') != std::string_view::npos) {
    return base::message(
        "a comment needs a space before its `#`; a semitone over a sign is `カ` "
        "(`k`)");
  }
  if (word == "○" || word == "◯") return base::message("write `0`, or `筒` for the tube tone");
  if (is_strokes(word)) {
    return base::message("a hold is written `-`: it holds the note before it for one more word");
  }
  if (const auto sign = flattened(word, zero)) {
    return base::message("a semitone under {} is `{}`", sign->printed(), semitone_under(*sign));
  }
  return {};
}

// What is written, and what it is read as; in the order of LookAlike.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> kLookAlikes{
    {{"ニ", "二"}, {"ミ", "三"}, {"力", "カ"}, {"x", "×"}, {"め", "メ"}}};

}  // namespace

Fault fault_after(std::string_view folded_word, const Unit& unit, model::ZeroSign zero) {
  const std::string_view front = folded_word.substr(0, unit.size);
  const std::string_view rest = folded_word.substr(unit.size);
  if (unit.kind == Unit::Kind::sign) {
    const model::Fingering& fingering = *unit.sign.tone.fingering;
    const bool half = fingering.half != model::HalfHole::none;
    const bool bent = fingering.bend_cents != 0;
    if (half && !bent && rest.find_first_not_of(kDigits) == std::string_view::npos) {
      return half_hole_number(folded_word, fingering, rest);
    }
    if (half_hole_at(rest) && !half && bent) {
      return {&rule::suffix_order, base::message("the half hole stands after the bend"),
              base::message("write the half hole first, as in `三メ↓20`")};
    }
    if ((half_hole_at(rest) && half) || (bend_begins(rest) && bent)) {
      return {&rule::suffix_twice,
              half_hole_at(rest) ? base::message("{} has two half holes", shown(folded_word))
                                 : base::message("{} has two bends", shown(folded_word)),
              base::message("keep one of them")};
    }
    const auto number = plain_digit(front);
    const base::CodePoint next = base::first_code_point(rest);
    if (number && is_dot(next.value) && next.size == rest.size()) {
      return dot_on_digit(folded_word, front, *number);
    }
  }
  if (is_strokes(rest)) {
    std::string held(front);
    for (std::size_t i = 0; i < rest.size(); ++i) held += " -";
    return {&rule::unknown_sign, base::message("{} is no sign", shown(folded_word)),
            base::message("a hold is a word of its own: `{}`", held)};
  }
  if (const auto pieces = pieces_of(folded_word, zero); !pieces.empty()) {
    const std::string apart = fmt::format("{}", fmt::join(pieces, " "));
    return {&rule::two_signs,
            pieces.size() == 2
                ? base::message("{} is two words in one", shown(folded_word))
                : base::message("{} is {} words in one", shown(folded_word), pieces.size()),
            base::message("write `{}`, each of one beat, or `({})` within one", apart, apart)};
  }
  return unknown_word(folded_word, zero);
}

Fault unknown_word(std::string_view folded_word, model::ZeroSign zero) {
  return {&rule::unknown_sign, base::message("{} is no sign", shown(folded_word)),
          hint_for(folded_word, zero)};
}

void LookAlikes::count(const std::vector<LookAlike>& found, base::SourceRange where) {
  for (const LookAlike look_alike : found) {
    Kind& kind = kinds_[static_cast<std::size_t>(look_alike)];
    if (kind.count++ == 0) kind.first = where;
  }
}

void LookAlikes::report(Reports& reports) const {
  for (std::size_t i = 0; i < kinds_.size(); ++i) {
    const Kind& kind = kinds_[i];
    if (kind.count == 0) continue;
    const auto& [written, meant] = kLookAlikes[i];
    std::string message = base::message("{} is read as {}", shown(written), shown(meant));
    if (kind.count > 1) message += base::message(", here and in {} more places", kind.count - 1);
    reports.add(rule::look_alike, kind.first, std::move(message),
                static_cast<LookAlike>(i) == LookAlike::me
                    ? base::message("half holes are written in katakana")
                    : base::message("they only look alike"));
  }
}

}  // namespace yubifu::notation
