#include "notation/read/sign_reader.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "model/pitch.h"
#include "notation/characters.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

using model::HalfHole;
using model::Register;
using model::Sign;

constexpr char32_t kDotAbove = 0x0307;
constexpr std::u32string_view kLowSigns = U"一二三四五六七";

// Characters that are read as the one they look like.
struct LookAlike {
  char32_t character;
  std::string_view written;
  std::string_view meant;
};
constexpr std::array<LookAlike, 5> kLookAlikes{{{U'ニ', "ニ", "二"},
                                                {U'ミ', "ミ", "三"},
                                                {U'力', "力", "カ"},
                                                {U'x', "x", "×"},
                                                {U'め', "め", "メ"}}};

// A half hole in one of its spellings.
struct HalfSpelling {
  char32_t character;
  HalfHole half;
  bool before_sign;  // also read in front of the sign
};
constexpr std::array<HalfSpelling, 10> kHalves{{{U'メ', HalfHole::under, false},
                                                {U'め', HalfHole::under, false},
                                                {U'm', HalfHole::under, false},
                                                {U'×', HalfHole::under, true},
                                                {U'♭', HalfHole::under, true},
                                                {U'x', HalfHole::under, true},
                                                {U'カ', HalfHole::over, false},
                                                {U'k', HalfHole::over, false},
                                                {U'力', HalfHole::over, false},
                                                {U'♯', HalfHole::over, true}}};

const HalfSpelling* half_spelling(char32_t character) {
  const auto found = std::find_if(kHalves.begin(), kHalves.end(), [&](const HalfSpelling& half) {
    return half.character == character;
  });
  return found == kHalves.end() ? nullptr : &*found;
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

  std::optional<WordMeaning> run() {
    const char32_t first = peek().value;
    if (first == '?') return gap();
    if (is_dash(first)) return simple(WordKind::hold);
    if (is_dot(first) || first == U'休') return simple(WordKind::rest);
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

  // A sign or half hole, which may only look like one.
  void take_sign() {
    const auto looks_so = [&](const LookAlike& like) { return like.character == peek().value; };
    if (std::any_of(kLookAlikes.begin(), kLookAlikes.end(), looks_so)) {
      word_.look_alikes += peek().value;
    }
    take();
  }

  WordMeaning simple(WordKind kind) {
    take();
    return ReadWord{kind, {}, {}, at_};
  }

  static bool is_zero_kanji(char32_t value) { return value == U'〇' || value == U'零'; }

  WordMeaning unclear_zero() const {
    const std::string_view zero = text_.substr(at_, peek().size);
    return Fault{&rule::unclear_zero,
                 base::message("{} is not clear: cross-fingering or tube tone", shown(zero)),
                 base::message("write `0` or `筒`; where {} is the tube tone throughout, put "
                               "`zero: tube` in the header",
                               shown(zero))};
  }

  void take_half(const HalfSpelling& spelling, model::Fingering& fingering) {
    take_sign();
    fingering.half = spelling.half;
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
      case U'ミ':
        take_sign();
        return Sign::standard(Register::low, first.value == U'ニ' ? 2 : 3);
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
    const int number = static_cast<int>(value - '0');
    take();
    bool dotted = false;
    if (const char32_t mark = peek().value; base::is_combining_mark(mark)) {
      take();
      dotted = mark == kDotAbove && number != 0;
      if (!dotted || base::is_combining_mark(peek().value)) return std::nullopt;
    }
    if (number == 8 || (dotted && number == 1)) return Sign::standard(Register::third, 1);
    if (number == 0 && zero_ == model::ZeroSign::tube) return Sign::standard(Register::tube, 0);
    return Sign::standard(dotted ? Register::third : Register::second, number);
  }

  // rt, r1 to r7, d2 to d7; d1 and d8 are read as 8.
  std::optional<Sign> ascii_sign() {
    const bool low = peek().value == 'r';
    take();
    const char32_t second = peek().value;
    take();
    if (low && second == 't') return Sign::standard(Register::tube, 0);
    if (second < '1' || second > '8') return std::nullopt;
    const int number = static_cast<int>(second - '0');
    return Sign::standard(low ? Register::low : Register::third, !low && number == 8 ? 1 : number);
  }

  // A sign that only a flute file defines: one letter or digit with its combining marks.
  std::optional<Sign> own_sign() {
    const std::size_t begin = at_;
    take();
    while (base::is_combining_mark(peek().value)) take();
    const std::string_view text = text_.substr(begin, at_ - begin);
    return model::is_own_sign(text) ? std::optional(Sign(std::string(text))) : std::nullopt;
  }

  WordMeaning gap() {
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
    word_.tone.spelling = spelling;
    return with_bend({});
  }

  WordMeaning with_bend(model::Fingering fingering) {
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
    word_.tone.fingering = std::move(fingering);
    word_.size = at_;
    return std::move(word_);
  }

  std::string_view text_;
  model::ZeroSign zero_;
  std::size_t at_ = 0;
  ReadWord word_;
};

// The unit that begins a word; its size is 0 where none does.
ReadWord known_front(std::string_view word, model::ZeroSign zero) {
  auto front = UnitReader(word, zero).run();
  auto* unit = front ? std::get_if<ReadWord>(&*front) : nullptr;
  return unit == nullptr ? ReadWord() : std::move(*unit);
}

// The half hole at the front of a text, in any spelling.
bool half_hole_begins(std::string_view text) {
  return half_spelling(base::first_code_point(text).value) != nullptr;
}

bool bend_begins(std::string_view text) {
  return bend_direction(base::first_code_point(text).value) != 0;
}

constexpr std::string_view kDigits = "0123456789";
constexpr std::size_t kMostPieces = 16;

// True for all but the signs of a flute's own.
bool is_standard(const ReadWord& unit) {
  return unit.kind != WordKind::note || !unit.tone.fingering->sign ||
         model::standard_place(*unit.tone.fingering->sign);
}

// The words that a run of signs without spaces was meant for; empty when it is no such run.
std::vector<std::string> pieces_of(std::string_view word, model::ZeroSign zero) {
  std::vector<std::string> pieces;
  while (!word.empty()) {
    const ReadWord unit = known_front(word, zero);
    if (unit.size == 0 || !is_standard(unit) || pieces.size() == kMostPieces) return {};
    pieces.emplace_back(word.substr(0, unit.size));
    word.remove_prefix(unit.size);
  }
  return pieces;
}

Fault dot_on_digit(std::string_view word, std::string_view digit) {
  const int number = digit.front() - '0';
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
  const auto alphabet = ascii ? model::Alphabet::ascii : model::Alphabet::printed;
  const bool up = half_holed.half == model::HalfHole::over;
  const std::string_view bend = up ? (ascii ? "^" : "↑") : (ascii ? "v" : "↓");
  model::Fingering plain = half_holed;
  plain.half = model::HalfHole::none;
  const auto bent = [&](const model::Fingering& fingering) {
    return model::printed(fingering, alphabet).append(bend).append(number);
  };
  return {&rule::half_hole_number,
          base::message("{} has a number after its half hole", shown(word)),
          base::message("write `{}` for the half-holed note bent by {} cents, or `{}` for the "
                        "plain one bent so",
                        bent(half_holed), number, bent(plain))};
}

// The strokes of paper that hold a note.
bool is_strokes(std::string_view text) {
  return !text.empty() && text.find_first_not_of("/_") == std::string_view::npos;
}

// A semitone under a sign: the sign below, where that is one; else its half hole.
std::string semitone_under(const model::Sign& sign) {
  const auto place = model::standard_place(sign);
  std::optional<model::Sign> below;
  if (place && place->number == 4) below = model::Sign::standard(place->in, 3);
  if (place && place->number == 1 && place->in != Register::low) {
    below =
        model::Sign::standard(place->in == Register::third ? Register::second : Register::low, 7);
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
  const ReadWord unit = known_front(word, zero);
  const bool whole = !word.empty() && unit.size == word.size();
  if (!whole || unit.kind != WordKind::note || !is_standard(unit)) return std::nullopt;
  const model::Fingering& fingering = *unit.tone.fingering;
  const bool plain = fingering.half == model::HalfHole::none && fingering.bend_cents == 0;
  return plain ? fingering.sign : std::nullopt;
}

// Empty where nobody can tell what was meant.
std::string hint_for(std::string_view word, model::ZeroSign zero) {
  const std::string lower = base::lower_case(word);
  if (lower != word && known_front(lower, zero).size == word.size()) {
    return base::message("write it in small letters: `{}`", lower);
  }
  if (half_hole_begins(word) || bend_begins(word)) {
    return base::message("half hole and bend stand directly after a sign, without a space");
  }
  const std::size_t first_size = base::first_code_point(word).size;
  const std::string_view rest = word.substr(first_size);
  if (is_dash(base::first_code_point(word).value) &&
      (half_hole_begins(rest) || bend_begins(rest))) {
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

// What to say of a word that begins with no unit.
Fault unknown_word(std::string_view word, model::ZeroSign zero) {
  return {&rule::unknown_sign, base::message("{} is no sign", shown(word)), hint_for(word, zero)};
}

// What to say of a word that begins with a unit and does not end with it.
Fault fault_after(std::string_view word, const ReadWord& unit, model::ZeroSign zero) {
  const std::string_view front = word.substr(0, unit.size);
  const std::string_view rest = word.substr(unit.size);
  if (unit.kind == WordKind::note) {
    const model::Fingering& fingering = *unit.tone.fingering;
    const bool half = fingering.half != model::HalfHole::none;
    const bool bent = fingering.bend_cents != 0;
    if (half && !bent && rest.find_first_not_of(kDigits) == std::string_view::npos) {
      return half_hole_number(word, fingering, rest);
    }
    if (half_hole_begins(rest) && !half && bent) {
      return {&rule::suffix_order, base::message("the half hole stands after the bend"),
              base::message("write the half hole first, as in `三メ↓20`")};
    }
    if ((half_hole_begins(rest) && half) || (bend_begins(rest) && bent)) {
      return {&rule::suffix_twice,
              half_hole_begins(rest) ? base::message("{} has two half holes", shown(word))
                                     : base::message("{} has two bends", shown(word)),
              base::message("keep one of them")};
    }
    const base::CodePoint next = base::first_code_point(rest);
    const bool is_digit = front.size() == 1 && front >= "1" && front <= "8";
    if (is_digit && is_dot(next.value) && next.size == rest.size()) {
      return dot_on_digit(word, front);
    }
  }
  if (is_strokes(rest)) {
    std::string held(front);
    for (std::size_t i = 0; i < rest.size(); ++i) held += " -";
    return {&rule::unknown_sign, base::message("{} is no sign", shown(word)),
            base::message("a hold is a word of its own: `{}`", held)};
  }
  if (const auto pieces = pieces_of(word, zero); !pieces.empty()) {
    const std::string apart = fmt::format("{}", fmt::join(pieces, " "));
    return {&rule::two_signs,
            pieces.size() == 2 ? base::message("{} is two words in one", shown(word))
                               : base::message("{} is {} words in one", shown(word), pieces.size()),
            base::message("write `{}`, each of one beat, or `({})` within one", apart, apart)};
  }
  return unknown_word(word, zero);
}

}  // namespace

WordMeaning read_word(std::string_view text, model::ZeroSign zero) {
  const std::string word = folded(text);
  if (word == "%") return ReadWord{WordKind::same_bar, {}, {}, word.size()};
  auto front = UnitReader(word, zero).run();
  if (!front) return unknown_word(word, zero);
  const auto* unit = std::get_if<ReadWord>(&*front);
  if (unit != nullptr && unit->size != word.size()) return fault_after(word, *unit, zero);
  return *std::move(front);
}

void count(LookAlikes& look_alikes, std::u32string_view found, base::SourceRange where) {
  for (const char32_t character : found) {
    ++look_alikes.try_emplace(character, 0, where).first->second.first;
  }
}

void report(const LookAlikes& look_alikes, Reports& reports) {
  for (const auto& [character, written, meant] : kLookAlikes) {
    const auto found = look_alikes.find(character);
    if (found == look_alikes.end()) continue;
    const auto& [times, first] = found->second;
    std::string message = base::message("{} is read as {}", shown(written), shown(meant));
    if (times > 1) message += base::message(", here and in {} more places", times - 1);
    reports.add(rule::look_alike, first, std::move(message),
                character == U'め' ? base::message("half holes are written in katakana")
                                   : base::message("they only look alike"));
  }
}

}  // namespace yubifu::notation
