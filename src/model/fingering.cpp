#include "model/fingering.h"

#include <array>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "base/numbers.h"
#include "base/utf8.h"

namespace yubifu::model {
namespace {

constexpr std::string_view kTube = "筒";
constexpr std::array<std::string_view, 8> kLow{"", "一", "二", "三", "四", "五", "六", "七"};
constexpr std::array<std::string_view, 8> kSecond{"0", "1", "2", "3", "4", "5", "6", "7"};
// The octave of 1 is printed 8; the others take U+0307, the combining dot above.
constexpr std::array<std::string_view, 8> kThird{"", "8", "2̇", "3̇", "4̇", "5̇", "6̇", "7̇"};

constexpr std::string_view kUnder = "メ";
constexpr std::string_view kOver = "カ";

// Letters and digits that mean something in the fingering text, their look-alikes included, so
// that no flute file takes them for a sign of its own.
constexpr std::u32string_view kTaken = U"筒一二三四五六七012345678〇零休メめカニミ力ーmkvrtdx";
constexpr char32_t kDotAbove = 0x0307;
constexpr char32_t kFirstBeyondAscii = 0x80;

// Full-width letters and digits and half-width kana are read as their ordinary forms.
bool is_wide_form(char32_t value) {
  return value >= 0xFF00 && value <= 0xFFEF;
}

const std::array<std::string_view, 8>* table_of(Register in) {
  switch (in) {
    case Register::low:
      return &kLow;
    case Register::second:
      return &kSecond;
    case Register::third:
      return &kThird;
    case Register::tube:
      return nullptr;
  }
  return nullptr;
}

struct HoleName {
  Hole hole;
  std::string_view printed;
  char ascii;
};
constexpr std::array<HoleName, 4> kHoles{{{Hole::closed, "●", 'x'},
                                          {Hole::open, "○", 'o'},
                                          {Hole::half, "◐", 'h'},
                                          {Hole::steadying, "◎", 's'}}};

const HoleName& name_of(Hole hole) {
  return kHoles[static_cast<std::size_t>(hole)];
}

std::string bend_text(int cents, std::string_view down, std::string_view up) {
  if (cents == 0) return {};
  return fmt::format("{}{}", cents < 0 ? down : up, std::abs(cents));
}

// The standard sign at the front of `text`, the longest that fits.
std::optional<Sign> take_sign(std::string_view& text) {
  std::string_view best;
  const auto consider = [&](std::string_view sign) {
    if (!sign.empty() && text.starts_with(sign) && sign.size() > best.size()) best = sign;
  };
  consider(kTube);
  for (const auto* table : {&kLow, &kSecond, &kThird}) {
    for (const std::string_view sign : *table) consider(sign);
  }
  if (best.empty()) return std::nullopt;
  text.remove_prefix(best.size());
  return Sign(std::string(best));
}

// A letter with its combining marks.
std::optional<Sign> take_own_sign(std::string_view& text) {
  std::size_t end = base::first_code_point(text).size;
  while (end < text.size()) {
    const base::CodePoint next = base::first_code_point(text.substr(end));
    if (!base::is_combining_mark(next.value)) break;
    end += next.size;
  }
  const std::string_view sign = text.substr(0, end);
  if (!is_own_sign(sign)) return std::nullopt;
  text.remove_prefix(end);
  return Sign(std::string(sign));
}

// `rest` is what stands after the sign: half hole and bend.
std::optional<Fingering> with_sign(std::optional<Sign> sign, std::string_view rest) {
  if (!sign) return std::nullopt;
  Fingering result;
  result.sign = std::move(sign);
  if (rest.starts_with(kUnder)) {
    result.half = HalfHole::under;
    rest.remove_prefix(kUnder.size());
  } else if (rest.starts_with(kOver)) {
    result.half = HalfHole::over;
    rest.remove_prefix(kOver.size());
  }
  if (rest.empty()) return result;
  const std::optional<int> bend = parse_bend(rest);
  if (!bend) return std::nullopt;
  result.bend_cents = *bend;
  return result;
}

}  // namespace

std::optional<Sign> Sign::standard(Register in, int number) {
  if (in == Register::tube) {
    return number == 0 ? std::optional(Sign(std::string(kTube))) : std::nullopt;
  }
  if (number < 0 || number > 7) return std::nullopt;
  const std::string_view sign = (*table_of(in))[static_cast<std::size_t>(number)];
  if (sign.empty()) return std::nullopt;
  return Sign(std::string(sign));
}

std::optional<SignPlace> standard_place(const Sign& sign) {
  if (sign.printed() == kTube) return SignPlace{Register::tube, 0};
  for (const Register in : {Register::low, Register::second, Register::third}) {
    const auto& table = *table_of(in);
    for (std::size_t number = 0; number < table.size(); ++number) {
      if (!table[number].empty() && table[number] == sign.printed()) {
        return SignPlace{in, static_cast<int>(number)};
      }
    }
  }
  return std::nullopt;
}

bool is_own_sign(std::string_view text) {
  const base::CodePoint first = base::first_code_point(text);
  if (!base::is_letter_or_digit(first.value) || is_wide_form(first.value)) return false;
  if (standard_place(Sign(std::string(text)))) return false;
  for (text.remove_prefix(first.size); !text.empty();) {
    const base::CodePoint mark = base::first_code_point(text);
    if (!base::is_combining_mark(mark.value)) return false;
    // 1̇ and 8̇ are other spellings of 8.
    if (mark.value == kDotAbove && first.value < kFirstBeyondAscii) return false;
    text.remove_prefix(mark.size);
  }
  return kTaken.find(first.value) == std::u32string_view::npos;
}

std::string ascii(const Sign& sign) {
  const auto place = standard_place(sign);
  if (!place) return sign.printed();
  switch (place->in) {
    case Register::tube:
      return "rt";
    case Register::low:
      return fmt::format("r{}", place->number);
    case Register::second:
      return sign.printed();
    case Register::third:
      return place->number == 1 ? "8" : fmt::format("d{}", place->number);
  }
  return sign.printed();
}

std::string printed(const Fingering& fingering) {
  if (!fingering.sign) return {};
  std::string text = fingering.sign->printed();
  if (fingering.half == HalfHole::under) text += kUnder;
  if (fingering.half == HalfHole::over) text += kOver;
  return text + bend_text(fingering.bend_cents, kBendDown, kBendUp);
}

std::string ascii(const Fingering& fingering) {
  if (!fingering.sign) return {};
  std::string text = ascii(*fingering.sign);
  if (fingering.half == HalfHole::under) text += 'm';
  if (fingering.half == HalfHole::over) text += 'k';
  return text + bend_text(fingering.bend_cents, "v", "^");
}

std::optional<int> parse_bend(std::string_view text) {
  const bool down = text.starts_with(kBendDown);
  if (!down && !text.starts_with(kBendUp)) return std::nullopt;
  text.remove_prefix(kBendDown.size());
  if (text.starts_with('0')) return std::nullopt;
  const auto cents = base::whole_number(text);
  if (!cents || *cents < 1 || *cents > kMostBendCents) return std::nullopt;
  return down ? -*cents : *cents;
}

std::optional<Fingering> parse_printed(std::string_view text) {
  auto sign = take_sign(text);
  return with_sign(std::move(sign), text);
}

std::optional<Fingering> parse_printed_of_any_flute(std::string_view text) {
  if (auto standard = parse_printed(text)) return standard;
  auto sign = take_own_sign(text);
  return with_sign(std::move(sign), text);
}

std::string printed(const HolePattern& pattern) {
  std::string text;
  for (const Hole hole : pattern.holes) text += name_of(hole).printed;
  return text;
}

std::string ascii(const HolePattern& pattern) {
  std::string text;
  for (const Hole hole : pattern.holes) text += name_of(hole).ascii;
  return text;
}

std::optional<HolePattern> parse_hole_pattern(std::string_view text) {
  HolePattern pattern;
  while (!text.empty()) {
    const std::size_t before = text.size();
    for (const HoleName& name : kHoles) {
      if (text.starts_with(name.printed)) {
        pattern.holes.push_back(name.hole);
        text.remove_prefix(name.printed.size());
      } else if (text.starts_with(name.ascii)) {
        pattern.holes.push_back(name.hole);
        text.remove_prefix(1);
      }
    }
    if (text.size() == before) return std::nullopt;
  }
  if (pattern.holes.empty()) return std::nullopt;
  return pattern;
}

}  // namespace yubifu::model
