#include "musicxml/read/staff_attributes.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "musicxml/transposition.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Key;
using model::Meter;
using model::Rational;

constexpr int kMostTransposedAlter = 2;
// Transpositions past these are slips.
constexpr int kMostSemitones = 60;
constexpr int kMostSteps = 35;
constexpr int kMostOctaveChange = 5;

// "3+2" is five beats.
std::optional<int> sum_of_beats(std::string_view text) {
  int sum = 0;
  while (true) {
    const std::size_t plus = text.find('+');
    const auto part = whole_number(text.substr(0, plus));
    if (!part || *part < 1 || *part > std::numeric_limits<int>::max() - sum) return std::nullopt;
    sum += *part;
    if (plus == std::string_view::npos) return sum;
    text.remove_prefix(plus + 1);
    while (text.starts_with(' ')) text.remove_prefix(1);
  }
}

// On either side of zero; the size of the least integer is none.
bool is_within(int value, int most) {
  return -most <= value && value <= most;
}

// The steps of an interval in semitones: the two nearest on the circle of fifths are tried, and
// the one that leaves the key with fewer signs wins.
int steps_for(int semitones, int written_fifths) {
  const int low = static_cast<int>(std::floor(7.0 * semitones / 12.0));
  const auto signs = [&](int steps) {
    return std::abs(written_fifths + 7 * semitones - 12 * steps);
  };
  return signs(low + 1) < signs(low) ? low + 1 : low;
}

class AttributeReader {
 public:
  AttributeReader(const PartEvents& part, int staff, std::string_view text)
      : part_(part), staff_(staff), text_(text) {}

  StaffAttributes run() {
    std::vector<PlacedNode> placed = part_.attributes;
    const auto earlier = [](const PlacedNode& a, const PlacedNode& b) { return a.at < b.at; };
    if (!std::is_sorted(placed.begin(), placed.end(), earlier)) {
      std::stable_sort(placed.begin(), placed.end(), earlier);
    }
    for (const PlacedNode& attributes : placed) {
      if (attributes.at != at_) look_for_doubled_octaves();
      at_ = attributes.at;
      for (const pugi::xml_node child : attributes.node.children()) take(child);
    }
    look_for_doubled_octaves();
    return std::move(out_);
  }

 private:
  void remark(pugi::xml_node node, const RemarkKind& kind, std::string detail = {}) {
    out_.remarks.add(kind, at_.measure, range_of(node, text_), std::move(detail));
  }

  // Clefs, staff lines, page matters and divisions (read before) are not here: a clef never moves
  // the pitch. Only its octave is kept, to warn of.
  void take(pugi::xml_node node) {
    const std::string_view name = node.name();
    const auto staff = whole_number(attribute(node, "number"));
    if (name != "directive" && staff && *staff != staff_) return;
    if (name == "time") take_time(node);
    if (name == "key") take_key(node);
    if (name == "transpose") take_transpose(node);
    if (name == "measure-style") take_style(node);
    if (name == "clef") {
      octave_clef_ = whole_number(child_word(node, "clef-octave-change")).value_or(0) != 0;
      octave_node_ = node;
    }
  }

  // What stands under them is read as it is written, often nothing but rests.
  void take_style(pugi::xml_node node) {
    const auto begins = [&](const char* name) {
      const pugi::xml_node style = node.child(name);
      return style && attribute(style, "type") != "stop";
    };
    if (begins("slash"))
      remark(node, kind(rule::left_out, "slash notation left out", "slash notations left out"));
    if (begins("measure-repeat") || begins("beat-repeat"))
      remark(node, kind(rule::left_out, "sign for a repeated bar or beat left out",
                        "signs for repeated bars or beats left out"));
  }

  std::optional<Meter> read_meter(pugi::xml_node time) {
    if (time.child("senza-misura")) return Meter::free_time();
    Rational length;
    int unit = 1;
    int parts = 0;
    for (const pugi::xml_node beats : time.children("beats")) {
      const auto count = sum_of_beats(word_of(beats));
      const auto beat_type = whole_number(word_of(beats.next_sibling("beat-type")));
      const bool usable = count && beat_type && model::parse_meter(fmt::format("1/{}", *beat_type));
      if (!usable) return std::nullopt;
      length += Rational(*count) * Rational(4, *beat_type);
      unit = std::max(unit, *beat_type);
      parts += word_of(beats).find('+') == std::string_view::npos ? 1 : 2;
    }
    const Rational beats = length * Rational(unit, 4);
    if (!beats.is_whole()) return std::nullopt;
    const auto meter = model::parse_meter(fmt::format("{}/{}", beats.numerator(), unit));
    const bool is_joined = parts > 1 || time.child("interchangeable");
    if (meter && is_joined)
      remark(time, kind(rule::left_out, "meter of several parts read as their sum",
                        "meters of several parts read as their sum"));
    return meter;
  }

  void take_time(pugi::xml_node node) {
    const auto meter = read_meter(node);
    if (!meter)
      return remark(node,
                    kind(rule::unknown_value, "meter cannot be read", "meters cannot be read"));
    Moment from = at_;
    if (at_.onset > Rational(0)) {
      // After the last note it is the next bar's; before that, somebody wants it inside the bar.
      if (at_.onset < part_.measures[at_.measure].filled)
        remark(node, kind(rule::misplaced_sign, "meter inside a bar counts from the next bar on",
                          "meters inside a bar count from the next bar on"));
      from = {at_.measure + 1, 0};
    }
    if (!out_.meters.empty() && out_.meters.back().at == from) out_.meters.pop_back();
    out_.meters.push_back({from, *meter});
  }

  void take_key(pugi::xml_node node) {
    const auto fifths = whole_number(child_word(node, "fifths"));
    if (!fifths || !is_within(*fifths, 2 * kMostSigns))
      return remark(node, kind(rule::left_out, "key signature of its own kind left out",
                               "key signatures of their own kind left out"));
    if (!is_within(*fifths, kMostSigns))
      remark(node, kind(rule::left_out,
                        "key of more than seven signs read as the one that sounds like it",
                        "keys of more than seven signs read as those that sound like them"));
    const std::string_view mode = child_word(node, "mode");
    const bool plain = mode.empty() || mode == "major" || mode == "minor" || mode == "none";
    if (!plain)
      remark(node,
             kind(rule::left_out, "mode of a key other than major and minor left out",
                  "modes of keys other than major and minor left out"),
             std::string(mode));
    written_ = Key{*fifths, mode == "minor" ? model::Mode::minor : model::Mode::major};
    update_key();
  }

  void take_transpose(pugi::xml_node node) {
    const auto chromatic = model::parse_decimal(child_word(node, "chromatic"));
    const auto octaves = whole_number(child_word(node, "octave-change"));
    const auto diatonic = whole_number(child_word(node, "diatonic"));
    const bool usable = chromatic && std::abs(chromatic->as_double()) <= kMostSemitones &&
                        (octaves || !node.child("octave-change")) &&
                        is_within(octaves.value_or(0), kMostOctaveChange) &&
                        (diatonic || !node.child("diatonic")) &&
                        is_within(diatonic.value_or(0), kMostSteps);
    if (!usable)
      return remark(node, kind(rule::unknown_value, "transposition cannot be read",
                               "transpositions cannot be read"));
    if (node.child("double"))
      remark(node, kind(rule::left_out, "doubling at the octave left out",
                        "doublings at the octave left out"));
    const double semitones = chromatic->as_double();
    const int whole = static_cast<int>(std::lround(semitones));
    StaffTransposition& transposition =
        out_.transpositions.emplace_back(From<StaffTransposition>{at_, {}}).value;
    transposition.cents = 100.0 * (semitones - whole);
    transposition.steps.chromatic = whole;
    transposition.steps.octaves = octaves.value_or(0);
    transposition.steps.diatonic =
        diatonic ? *diatonic : steps_for(whole, written_ ? written_->fifths : 0);
    octave_node_ = node;
    update_key();
  }

  // Clef and transposition often change at one place, in any order; what holds behind it counts.
  void look_for_doubled_octaves() {
    const bool doubled = octave_clef_ && !out_.transpositions.empty() &&
                         out_.transpositions.back().value.steps.octaves != 0;
    if (doubled && !octaves_doubled_)
      remark(
          octave_node_,
          kind(rule::octave_twice,
               "transposition by octaves stands beside an octave clef; both are read as they stand",
               "transpositions by octaves stand beside octave clefs; both are read as they stand"));
    octaves_doubled_ = doubled;
  }

  // The sounding key follows from the written one and the transposition; both often change at one
  // place, and only what comes of it there counts.
  void update_key() {
    if (!written_) return;
    Key key = *written_;
    if (!out_.transpositions.empty()) {
      key.fifths += out_.transpositions.back().value.steps.fifths();
    }
    key = within_seven_signs(key);
    if (!out_.keys.empty() && out_.keys.back().at == at_) out_.keys.pop_back();
    if (out_.keys.empty() || out_.keys.back().value != key) out_.keys.push_back({at_, key});
  }

  const PartEvents& part_;
  int staff_;
  std::string_view text_;
  StaffAttributes out_;
  Moment at_;
  std::optional<Key> written_;
  pugi::xml_node octave_node_;  // the last clef or transposition
  bool octave_clef_ = false;
  bool octaves_doubled_ = false;
};

// The value that holds at a place; before the first that of no sign and no step.
template <typename Value>
Value in_force(const std::vector<From<Value>>& entries, const Moment& moment) {
  const auto after = std::upper_bound(
      entries.begin(), entries.end(), moment,
      [](const Moment& place, const From<Value>& entry) { return place < entry.at; });
  return after == entries.begin() ? Value{} : std::prev(after)->value;
}

}  // namespace

StaffAttributes read_attributes(const PartEvents& part, int staff, std::string_view text) {
  return AttributeReader(part, staff, text).run();
}

SoundingPitch StaffAttributes::sounding(const WrittenPitch& written, const Moment& at) const {
  const auto [steps, cents] = in_force(transpositions, at);
  const int natural = model::midi_key({written.step, 0, written.octave});
  const model::Pitch pitch =
      model::pitch_at(100.0 * (natural + steps.semitones() + written.alter) + cents);
  const model::Spelling spelling = spelled_on(static_cast<int>(written.step) + steps.diatonic +
                                                  kOctaveSteps * (written.octave + steps.octaves),
                                              pitch.key);
  const bool is_plain = std::abs(spelling.alter) <= kMostTransposedAlter;
  return {pitch, is_plain ? spelling : model::spell_in_key(pitch.key, in_force(keys, at))};
}

}  // namespace yubifu::musicxml
