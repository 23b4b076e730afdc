#include "notation/read/sign_reader.h"

#include <array>
#include <string>
#include <utility>

#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "model/pitch.h"
#include "notation/characters.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::HalfHole;
using model::Register;
using model::Sign;

constexpr char32_t kDotAbove = 0x0307;
constexpr std::u32string_view kLowSigns = U"一二三四五六七";

// A half hole in one of its spellings.
struct HalfSpelling {
  char32_t character;
  HalfHole half;
  bool before_sign;  // also read in front of the sign
  std::optional<LookAlike> look_alike;
};
constexpr std::array<HalfSpelling, 9> kHalves{{{U'メ', HalfHole::under, false, {}},
                                               {U'め', HalfHole::under, false, LookAlike::me},
                                               {U'm', HalfHole::under, false, {}},
                                               {U'×', HalfHole::under, true, {}},
                                               {U'♭', HalfHole::under, true, {}},
                                               {U'x', HalfHole::under, true, LookAlike::x},
                                               {U'カ', HalfHole::over, false, {}},
                                               {U'k', HalfHole::over, false, {}},
                                               {U'♯', HalfHole::over, true, {}}}};
constexpr HalfSpelling kChikara{U'力', HalfHole::over, false, LookAlike::chikara};

const HalfSpelling* half_spelling(char32_t character) {
  for (const HalfSpelling& spelling : kHalves) {
    if (spelling.character == character) return &spelling;
  }
  return character == kChikara.character ? &kChikara : nullptr;
}

// -1 for a bend down, 1 for one up, 0 for another character.
int bend_direction(char32_t character) {
  if (character == U'↓' || character == U'v') return -1;
  if (character == U'↑' || character == U'^') return 1;
  return 0;
}

// Takes a word apart from its front.
class UnitReader {
 public:
  UnitReader(std::string_view text, model::ZeroSign zero) : text_(text), zero_(zero) {}

  std::optional<std::variant<Unit, Fault>> run() {
    const char32_t first = peek().value;
    if (first == '?') return gap();
    if (is_dash(first)) return simple(Unit::Kind::hold);
    if (is_dot(first) || first == U'休') return simple(Unit::Kind::rest);
    model::Fingering fingering;
    const HalfSpelling* prefix = half_spelling(first);
    if (prefix != nullptr && prefix->before_sign) take_half(*prefix, fingering);
    if (zero_ == model::ZeroSign::cross && is_zero_kanji(peek().value)) return unclear_zero();
    fingering.sign = sign();
    if (!fingering.sign) return std::nullopt;
    const HalfSpelling* suffix = half_spelling(peek().value);
    if (suffix != nullptr && fingering.half == HalfHole::none) take_half(*suffix, fingering);
    return with_bend(std::move(fingering));
  }

 private:
  base::CodePoint peek() const { return base::first_code_point(text_.substr(at_)); }
  void take() { at_ += peek().size; }

  std::variant<Unit, Fault> simple(Unit::Kind kind) {
    take();
    return Unit{kind, {}, at_};
  }

  static bool is_zero_kanji(char32_t value) { return value == U'〇' || value == U'零'; }

  std::variant<Unit, Fault> unclear_zero() const {
    const std::string_view zero = text_.substr(at_, peek().size);
    return Fault{&rule::unclear_zero,
                 base::message("{} is not clear: cross-fingering or tube tone", shown(zero)),
                 base::message("write `0` or `筒`; where {} is the tube tone throughout, put "
                               "`zero: tube` in the header",
                               shown(zero))};
  }

  void take_half(const HalfSpelling& spelling, model::Fingering& fingering) {
    take();
    fingering.half = spelling.half;
    if (spelling.look_alike) unit_.sign.look_alikes.push_back(*spelling.look_alike);
  }

  std::optional<Sign> sign() {
    const base::CodePoint first = peek();
    if (first.value >= '0' && first.value <= '8') return digit(first.value);
    if (const auto low = kLowSigns.find(first.value); low != std::u32string_view::npos) {
      take();
      return Sign::standard(Register::low, static_cast<int>(low) + 1);
    }
    switch (first.value) {
      case U'ニ':
        unit_.sign.look_alikes.push_back(LookAlike::ni);
        take();
        return Sign::standard(Register::low, 2);
      case U'ミ':
        unit_.sign.look_alikes.push_back(LookAlike::mi);
        take();
        return Sign::standard(Register::low, 3);
      case U'筒':
      case U'〇':
      case U'零':
        take();
        return Sign::standard(Register::tube, 0);
      case U'r':
      case U'd':
        return ascii_sign();
      default:
        return own_sign();
    }
  }

  // 0 to 8, with U+0307 the third register. The octave of 1 is 8 in every spelling.
  std::optional<Sign> digit(char32_t value) {
    const std::size_t begin = at_;
    const int number = static_cast<int>(value - '0');
    take();
    bool dotted = false;
    if (const char32_t mark = peek().value; base::is_combining_mark(mark)) {
      take();
      dotted = mark == kDotAbove && number != 0;
      if (!dotted || base::is_combining_mark(peek().value)) {
        at_ = begin;
        return std::nullopt;
      }
    }
    if (number == 8 || (dotted && number == 1)) return Sign::standard(Register::third, 1);
    if (number == 0 && zero_ == model::ZeroSign::tube) return Sign::standard(Register::tube, 0);
    return Sign::standard(dotted ? Register::third : Register::second, number);
  }

  // rt, r1 to r7, d2 to d7; d1 and d8 are read as 8.
  std::optional<Sign> ascii_sign() {
    const std::size_t begin = at_;
    const bool low = peek().value == 'r';
    take();
    const char32_t second = peek().value;
    take();
    std::optional<Sign> sign;
    if (low && second == 't') {
      sign = Sign::standard(Register::tube, 0);
    } else if (second >= '1' && second <= '8') {
      const int number = static_cast<int>(second - '0');
      sign =
          Sign::standard(low ? Register::low : Register::third, !low && number == 8 ? 1 : number);
    }
    if (!sign) at_ = begin;
    return sign;
  }

  // A sign that only a flute file defines: one letter or digit with its combining marks.
  std::optional<Sign> own_sign() {
    const std::size_t begin = at_;
    take();
    while (base::is_combining_mark(peek().value)) take();
    const std::string_view text = text_.substr(begin, at_ - begin);
    if (model::is_own_sign(text)) return Sign(std::string(text));
    at_ = begin;
    return std::nullopt;
  }

  std::variant<Unit, Fault> gap() {
    const std::size_t begin = at_;
    take();
    const std::size_t name = at_;
    const char32_t first = peek().value;
    take();
    const auto is_accidental = [](char32_t c) {
      return c == '#' || c == 'b' || c == U'♯' || c == U'♭';
    };
    while (is_accidental(peek().value)) take();
    if (peek().value == '-') take();
    while (is_digit(peek().value)) take();
    const auto spelling = model::parse_spelling(text_.substr(name, at_ - name));
    if (!spelling || !model::is_key(model::midi_key(*spelling))) {
      const bool small = first >= 'a' && first <= 'g';
      return Fault{&rule::bad_gap,
                   base::message("{} names no sounding note", shown(text_.substr(begin))),
                   small ? base::message("write the letter as a capital: `?C5`")
                         : base::message("write letter, accidental and octave: `?C5`, `?F#4`, "
                                         "`?Bb3`")};
    }
    if (half_spelling(peek().value) != nullptr) {
      return Fault{&rule::bad_gap, base::message("a gap takes no half hole"),
                   base::message("write the note that sounds: `?F#4`")};
    }
    unit_.sign.tone.spelling = spelling;
    return with_bend({});
  }

  std::variant<Unit, Fault> with_bend(model::Fingering fingering) {
    const int direction = bend_direction(peek().value);
    if (direction != 0) {
      const std::size_t begin = at_;
      take();
      const std::size_t digits = at_;
      while (is_digit(peek().value)) take();
      const int cents = base::whole_number(text_.substr(digits, at_ - digits)).value_or(0);
      const bool fraction = peek().value == '.' || peek().value == ',';
      if (fraction || cents < 1 || cents > model::kMostBendCents) {
        return Fault{
            &rule::bend_number,
            base::message("{} is no bend in whole cents from 1 to {}", shown(text_.substr(begin)),
                          model::kMostBendCents),
            base::message("write for example `{}20`", text_.substr(begin, digits - begin))};
      }
      fingering.bend_cents = direction * cents;
    }
    unit_.sign.tone.fingering = std::move(fingering);
    unit_.size = at_;
    return std::move(unit_);
  }

  std::string_view text_;
  model::ZeroSign zero_;
  std::size_t at_ = 0;
  Unit unit_;
};

}  // namespace

WordMeaning read_word(std::string_view text, model::ZeroSign zero) {
  const std::string word = folded(text);
  if (word == "%") return SameBarWord{};
  auto first = first_unit(word, zero);
  if (!first) return unknown_word(word, zero);
  if (auto* fault = std::get_if<Fault>(&*first)) return std::move(*fault);
  Unit& unit = std::get<Unit>(*first);
  if (unit.size != word.size()) return fault_after(word, unit, zero);
  switch (unit.kind) {
    case Unit::Kind::hold:
      return HoldWord{};
    case Unit::Kind::rest:
      return RestWord{};
    case Unit::Kind::sign:
      break;
  }
  return std::move(unit.sign);
}

std::optional<std::variant<Unit, Fault>> first_unit(std::string_view folded_word,
                                                    model::ZeroSign zero) {
  return UnitReader(folded_word, zero).run();
}

std::optional<model::HalfHole> half_hole_at(std::string_view text) {
  const HalfSpelling* spelling = half_spelling(base::first_code_point(text).value);
  return spelling == nullptr ? std::nullopt : std::optional(spelling->half);
}

bool bend_begins(std::string_view text) {
  return bend_direction(base::first_code_point(text).value) != 0;
}

}  // namespace yubifu::notation
