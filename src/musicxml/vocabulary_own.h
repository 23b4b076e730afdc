// Texts of our own for what MusicXML has no element for: the miscellaneous fields of the header
// and the hidden directions. Writer and reader share these functions, so that what one writes
// the other reads.
//
// A `<direction>` that holds `<other-direction print-object="no">` with one of these texts says
// exactly what the text says; whatever else stands in the same `<direction>` (words, metronome,
// sound) is its print and is not read. A `<key>` or `<transpose>` change comes in `<attributes>`
// before such a direction at the same place and is print as well.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "model/header.h"
#include "model/score.h"

namespace yubifu::musicxml {

/// The names of `<miscellaneous-field>`; the value is the header's text. A field that is missing
/// was not in the header, in particular `key` (the staff's own key was found by the writer then,
/// and `<key>` is no header field) and `staff`. A file with `version` is one of ours.
namespace field {
inline constexpr std::string_view kPrefix = "yubifu.";
inline constexpr std::string_view kVersion = "yubifu.version";      ///< "1"
inline constexpr std::string_view kFingering = "yubifu.fingering";  ///< kind of annotation
inline constexpr std::string_view kFlute = "yubifu.flute";
inline constexpr std::string_view kTuning = "yubifu.tuning";
/// The header fields without an element of their own, each as the prefix and its word; the subtitle
/// is printed as a `<credit>` too.
inline constexpr std::array kKept{model::HeaderKey::subtitle, model::HeaderKey::flute,
                                  model::HeaderKey::tuning,   model::HeaderKey::beat,
                                  model::HeaderKey::key,      model::HeaderKey::staff,
                                  model::HeaderKey::zero};
/// Before the key of a header line that nobody knows.
inline constexpr std::string_view kUnknownPrefix = "yubifu.header.";
}  // namespace field
// Title: `<work-title>`; composer and lyricist: `<creator type="…">`; rights and source: elements
// of `<identification>`. The header's meter is that of the first bar, its tempo the metronome at
// the start.

/// The next `<note>` has a pattern of holes of its own: `yubifu:holes ○●●●●●○`.
struct HolesAsked {
  model::HolePattern holes;
  friend bool operator==(const HolesAsked&, const HolesAsked&) = default;
};

/// The bar is irregular: `yubifu:irregular`, at its start.
struct IrregularBar {
  friend bool operator==(const IrregularBar&, const IrregularBar&) = default;
};

/// The bar ends with a repeat and with this line: `yubifu:bar section` or `… final`, at its end.
struct BarLine {
  model::BarStyle style = model::BarStyle::regular;
  friend bool operator==(const BarLine&, const BarLine&) = default;
};

/// A line of print that is no part of the score: `yubifu:print`.
struct PrintOnly {
  friend bool operator==(const PrintOnly&, const PrintOnly&) = default;
};

/// What a hidden direction means. A direction of the score: `yubifu:tempo UNIT PER_MINUTE`
/// (quarters, both fractions), `yubifu:beat 1/8` (at the start of a bar it is Measure::beat),
/// `yubifu:key D minor`, `yubifu:flute 7.5`, `yubifu:section NAME`, `yubifu:text TEXT`,
/// `yubifu:dyn mf`, `yubifu:rit` and the other cues by the names of the fingering text.
using OwnMeaning =
    std::variant<model::DirectionValue, HolesAsked, IrregularBar, BarLine, PrintOnly>;

std::string own_text(const OwnMeaning& meaning);

/// Nothing for a text that does not begin with `yubifu:` or is none of ours.
std::optional<OwnMeaning> parse_own_text(std::string_view text);

/// Every text of our own begins so.
inline constexpr std::string_view kOwnPrefix = "yubifu:";

}  // namespace yubifu::musicxml
