// What a score says about itself before the music, and its fields as words and texts: the one table
// that every format asks.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
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

/// In the order in which fields are written.
enum class HeaderKey {
  title,
  subtitle,
  composer,
  lyricist,
  source,
  rights,
  flute,
  tuning,
  meter,
  beat,
  tempo,
  key,
  staff,
  zero,
};

/// "title", "flute" … A word that no field has gives nothing.
std::string_view word_of(HeaderKey key);
std::optional<HeaderKey> header_key(std::string_view word);
/// The same, but nothing for a field that is not among `kept`.
std::optional<HeaderKey> header_key(std::string_view word, std::span<const HeaderKey> kept);

/// Every field, and its word, in order.
std::vector<HeaderKey> header_keys();
std::vector<std::string_view> header_words();

/// The field as text; nothing where the header does not have it or has what goes without saying
/// (zero: cross). Meter always is there. A tempo names its unit unless it counts the felt beat.
std::optional<std::string> field_text(const Header& header, HeaderKey key);
/// Sets a field from its text. False, and nothing is set, where that is no value of the field. A
/// tempo without a unit counts the felt beat, so meter and beat come first.
bool set_field(Header& header, HeaderKey key, const std::string& text);

/// What a value of the field looks like, for the catalogue: "A4 in Hz from 300 to 600, such as
/// `442`".
std::string_view expected_value(HeaderKey key);
/// True for a field that may hold any text: the title and the other names.
bool holds_any_text(HeaderKey key);

/// The beat in force at the start: that of the header, else what its meter usually has.
Rational first_beat(const Header& header);

}  // namespace yubifu::model
