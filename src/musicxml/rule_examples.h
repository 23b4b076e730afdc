// Frames for the examples of the rules, so that each shows only what matters.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <string_view>

namespace yubifu::musicxml {

/// A text as a template argument.
template <std::size_t N>
struct FixedText {
  char characters[N]{};

  // Implicit, so that a literal can be the argument.
  constexpr FixedText(const char (&literal)[N]) {  // NOLINT(google-explicit-constructor)
    std::copy_n(literal, N, characters);
  }
  constexpr std::size_t size() const { return N - 1; }
};

template <FixedText... Parts>
constexpr auto joined_characters() {
  std::array<char, (Parts.size() + ... + 0)> out{};
  auto* end = out.data();
  ((end = std::copy_n(Parts.characters, Parts.size(), end)), ...);
  return out;
}

template <FixedText... Parts>
inline constexpr auto kJoined = joined_characters<Parts...>();

template <FixedText... Parts>
inline constexpr std::string_view kText{kJoined<Parts...>.data(), kJoined<Parts...>.size()};

/// A score of one part, P1, whose measures (with their tags) are the content.
template <FixedText... Measures>
inline constexpr std::string_view kOnePart = kText<R"(<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <part-list>
    <score-part id="P1"><part-name>Flute</part-name></score-part>
  </part-list>
  <part id="P1">
)",
                                                   Measures..., R"(
  </part>
</score-partwise>
)">;

/// The same with one measure in 4/4, two divisions a quarter, that holds the content.
template <FixedText... Content>
inline constexpr std::string_view kOneBar = kOnePart<R"(    <measure number="1">
      <attributes>
        <divisions>2</divisions>
        <time><beats>4</beats><beat-type>4</beat-type></time>
      </attributes>
)",
                                                     Content..., R"(
    </measure>)">;

inline constexpr std::string_view kBarOfRest =
    kOneBar<"<note><rest/><duration>8</duration></note>">;

// Notes up to the number of their duration.
inline constexpr FixedText kD = "<note><pitch><step>D</step><octave>5</octave></pitch><duration>";
inline constexpr FixedText kE = "<note><pitch><step>E</step><octave>5</octave></pitch><duration>";

}  // namespace yubifu::musicxml
