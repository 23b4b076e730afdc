// What a score says about itself before the music.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/flute_name.h"
#include "model/meter.h"
#include "model/pitch.h"

namespace yubifu::model {

/// How the staff shows the pitches: every flute with 一 as C4, or as it sounds.
enum class StaffMode { in_c, sounding };

/// What the sign 0 means: the cross-fingering a whole tone under 1, or (some groups) the tube
/// tone. In a score read with `tube` the notes already hold 筒; the header only remembers it.
enum class ZeroSign { cross, tube };

/// A header line whose key nobody knows, kept as it stood.
struct HeaderField {
  std::string key;
  std::string value;

  friend bool operator==(const HeaderField&, const HeaderField&) = default;
};

/// Texts are of one line or of several; empty ones are not there.
struct Header {
  std::string title;
  std::string subtitle;
  std::string composer;
  std::string lyricist;
  std::string source;
  std::string rights;
  std::optional<FluteName> flute;
  std::optional<double> tuning_hz;  ///< A4; 440 where absent
  Meter meter;                      ///< that of the first measure
  std::optional<Rational> beat;     ///< only where it differs from the meter's default
  std::optional<Tempo> tempo;
  std::optional<Key> key;  ///< the sounding key
  std::optional<StaffMode> staff;
  ZeroSign zero = ZeroSign::cross;
  std::vector<HeaderField> unknown;
  std::vector<std::string> comments;  ///< without the # and the space after it

  friend bool operator==(const Header&, const Header&) = default;
};

}  // namespace yubifu::model
