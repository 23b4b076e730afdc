#include "model/fingering.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "base/numbers.h"
#include "base/utf8.h"

namespace yubifu::model {
namespace {

// The signs of each register by their numbers. The octave of 1 is printed 8; the others take
// U+0307, the combining dot above.
using Signs = std::array<std::array<std::string_view, 8>, 4>;
constexpr Signs kPrinted{{{"筒"},
                          {"", "一", "二", "三", "四", "五", "六", "七"},
                          {"0", "1", "2", "3", "4", "5", "6", "7"},
                          {"", "8", "2̇", "3̇", "4̇", "5̇", "6̇", "7̇"}}};
constexpr Signs kAscii{{{"rt"},
                        {"", "r1", "r2", "r3", "r4", "r5", "r6", "r7"},
                        {"0", "1", "2", "3", "4", "5", "6", "7"},
                        {"", "8", "d2", "d3", "d4", "d5", "d6", "d7"}}};

constexpr std::string_view kUnder = "メ";
constexpr std::string_view kOver = "カ";
// Of half holes, and of a bend down and up.
using Marks = std::array<std::string_view, 4>;
constexpr Marks kPrintedMarks{kUnder, kOver, kBendDown, kBendUp};
constexpr Marks kAsciiMarks{"m", "k", "v", "^"};

// What means something in the fingering text, or looks like it, is no sign of a flute's own.
constexpr std::u32string_view kTaken = U"筒一二三四五六七012345678〇零休メめカニミ力ーmkvrtdx";
constexpr char32_t kDotAbove = 0x0307;
constexpr char32_t kFirstBeyondAscii = 0x80;

std::string_view sign_in(const Signs& signs, Register in, int number) {
  return signs[static_cast<std::size_t>(in)][static_cast<std::size_t>(number)];
}

struct HoleName {
  Hole hole;
  std::string_view printed;
  std::string_view ascii;
};
constexpr std::array<HoleName, 4> kHoles{{{Hole::closed, "●", "x"},
                                          {Hole::open, "○", "o"},
                                          {Hole::half, "◐", "h"},
                                          {Hole::steadying, "◎", "s"}}};

// The bytes of the flute's own sign that `text` begins with, combining marks included; or 0.
std::size_t own_sign_size(std::string_view text) {
  const base::CodePoint first = base::first_code_point(text);
  // Full-width letters and digits and half-width kana are read as their ordinary forms.
  const bool is_wide_form = first.value >= 0xFF00 && first.value <= 0xFFEF;
  if (!base::is_letter_or_digit(first.value) || is_wide_form ||
      kTaken.find(first.value) != std::u32string_view::npos) {
    return 0;
  }
  std::size_t size = first.size;
  while (size < text.size()) {
    const base::CodePoint mark = base::first_code_point(text.substr(size));
    if (!base::is_combining_mark(mark.value)) break;
    // 1̇ and 8̇ are other spellings of 8.
    if (mark.value == kDotAbove && first.value < kFirstBeyondAscii) return 0;
    size += mark.size;
  }
  return size;
}

// `rest` is what stands after the sign: half hole and bend.
std::optional<Fingering> with_sign(std::string_view sign, std::string_view rest) {
  Fingering result{Sign(std::string(sign))};
  if (rest.starts_with(kUnder)) {
    result.half = HalfHole::under;
    rest.remove_prefix(kUnder.size());
  } else if (rest.starts_with(kOver)) {
    result.half = HalfHole::over;
    rest.remove_prefix(kOver.size());
  }
  if (rest.empty()) return result;
  const std::optional<int> bend = parse_bend(rest);
  result.bend_cents = bend.value_or(0);
  return bend ? std::optional(std::move(result)) : std::nullopt;
}

}  // namespace

std::optional<Sign> Sign::standard(Register in, int number) {
  if (number < 0 || number > 7) return std::nullopt;
  const std::string_view sign = sign_in(kPrinted, in, number);
  return sign.empty() ? std::nullopt : std::optional(Sign(std::string(sign)));
}

std::optional<SignPlace> standard_place(const Sign& sign) {
  if (sign.printed().empty()) return std::nullopt;
  for (const Register in : {Register::tube, Register::low, Register::second, Register::third}) {
    for (int number = 0; number <= 7; ++number) {
      if (sign_in(kPrinted, in, number) == sign.printed()) return SignPlace{in, number};
    }
  }
  return std::nullopt;
}

bool is_own_sign(std::string_view text) {
  return !text.empty() && own_sign_size(text) == text.size();
}

std::string ascii(const Sign& sign) {
  const auto place = standard_place(sign);
  return place ? std::string(sign_in(kAscii, place->in, place->number)) : sign.printed();
}

std::string printed(const Fingering& fingering, Alphabet alphabet) {
  if (!fingering.sign) return {};
  const bool is_ascii = alphabet == Alphabet::ascii;
  const auto& [under, over, down, up] = is_ascii ? kAsciiMarks : kPrintedMarks;
  std::string text = is_ascii ? ascii(*fingering.sign) : fingering.sign->printed();
  if (fingering.half == HalfHole::under) text += under;
  if (fingering.half == HalfHole::over) text += over;
  const int cents = fingering.bend_cents;
  return cents == 0 ? text : fmt::format("{}{}{}", text, cents < 0 ? down : up, std::abs(cents));
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
  std::string_view longest;
  for (const auto& signs : kPrinted) {
    for (const std::string_view sign : signs) {
      if (text.starts_with(sign) && sign.size() > longest.size()) longest = sign;
    }
  }
  return longest.empty() ? std::nullopt : with_sign(longest, text.substr(longest.size()));
}

std::optional<Fingering> parse_printed_of_any_flute(std::string_view text) {
  if (auto standard = parse_printed(text)) return standard;
  const std::size_t size = own_sign_size(text);
  return size == 0 ? std::nullopt : with_sign(text.substr(0, size), text.substr(size));
}

std::string printed(const HolePattern& pattern, Alphabet alphabet) {
  std::string text;
  for (const Hole hole : pattern.holes) {
    const HoleName& name = kHoles[static_cast<std::size_t>(hole)];
    text += alphabet == Alphabet::ascii ? name.ascii : name.printed;
  }
  return text;
}

std::optional<HolePattern> parse_hole_pattern(std::string_view text) {
  HolePattern pattern;
  while (!text.empty()) {
    const auto* name = std::find_if(kHoles.begin(), kHoles.end(), [&](const HoleName& known) {
      return text.starts_with(known.printed) || text.starts_with(known.ascii);
    });
    if (name == kHoles.end()) return std::nullopt;
    pattern.holes.push_back(name->hole);
    text.remove_prefix(text.starts_with(name->ascii) ? 1 : name->printed.size());
  }
  return pattern.holes.empty() ? std::nullopt : std::optional(std::move(pattern));
}

}  // namespace yubifu::model
