// How a score names its flute: a size with an offset, or the path of a flute file.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "model/rational.h"

namespace yubifu::model {

/// Sizes 1 to 13; each step is a semitone (Japanese Wikipedia, 篠笛, for 1 to 12; 13 and the half
/// sizes between them are our choice). `cents` (-99 to 99) moves the whole flute: 6+15c.
struct FluteSize {
  Rational size = 8;
  int cents = 0;
  friend bool operator==(const FluteSize&, const FluteSize&) = default;
};

/// Relative to the folder of the score that names it.
struct FlutePath {
  std::string path;
  friend bool operator==(const FlutePath&, const FlutePath&) = default;
};

using FluteName = std::variant<FluteSize, FlutePath>;

/// The size when a score names no flute (our choice: its 一 is C).
inline constexpr FluteSize kDefaultFluteSize{};

/// "6", "7.5", "6+15c", "6-8c", or the path.
std::string to_text(const FluteName& name);

/// 一 of size 1 is F4, MIDI key 65, and each size lies a semitone higher (Japanese Wikipedia,
/// 篠笛).
inline constexpr int kKeyUnderSizeOne = 64;

/// Reads an offset: a sign and whole cents below a semitone, "+15c" or "-8c".
std::optional<int> parse_offset(std::string_view text);

/// The size from 1 to 12 whose 一 is a note such as "C", "Bb" or "F#", also with 管 behind it;
/// nothing for other text.
std::optional<int> size_with_ichi(std::string_view note);

/// Reads a size in digits, full-width digits or kanji, also with 本 or 本調子; what ends in ".json"
/// or holds a "/" is a path. Nothing for other text and for sizes that do not exist.
std::optional<FluteName> parse_flute_name(std::string_view text);

}  // namespace yubifu::model
