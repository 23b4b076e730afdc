#include "musicxml/read/direction_element.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "musicxml/read/note_element.h"
#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

// Directions that only say how the page looks: lines beside words, lines that spare ledger lines
// (the pitch holds the octave already), marks of the editor.
constexpr std::array<std::string_view, 7> kLayout{
    "octave-shift", "dashes", "bracket", "principal-voice", "image", "staff-divide", "eyeglasses"};

// The number at the front of "c. 108" or "100-120".
std::optional<Rational> leading_number(std::string_view text) {
  const std::size_t begin = text.find_first_of("0123456789");
  if (begin == std::string_view::npos) return std::nullopt;
  text.remove_prefix(begin);
  const std::size_t end = std::min(text.find_first_not_of("0123456789."), text.size());
  std::string_view number = text.substr(0, end);
  if (number.ends_with('.')) number.remove_suffix(1);
  return model::parse_decimal(number);
}

std::optional<model::Tempo> read_metronome(pugi::xml_node node) {
  const pugi::xml_node unit_node = node.child("beat-unit");
  const auto unit = note_type_length(word_of(unit_node));
  const auto number = leading_number(child_word(node, "per-minute"));
  if (!unit || !number || *number <= Rational(0)) return std::nullopt;
  Rational length = *unit;
  Rational dot = *unit;
  for (pugi::xml_node next = unit_node.next_sibling();
       std::string_view(next.name()) == "beat-unit-dot"; next = next.next_sibling()) {
    dot = dot / 2;
    length += dot;
  }
  const model::Tempo tempo{*number, length};
  return metronome_holds(tempo) ? std::optional(tempo) : std::nullopt;
}

class DirectionReader {
 public:
  DirectionElement run(pugi::xml_node node) {
    if (std::string_view(node.name()) == "sound") {
      take_sound(node);
      return std::move(out_);
    }
    for (const pugi::xml_node type : node.children("direction-type")) {
      for (const pugi::xml_node child : type.children()) {
        if (child.type() == pugi::node_element) take(child);
      }
    }
    if (const pugi::xml_node sound = node.child("sound")) take_sound(sound);
    return std::move(out_);
  }

 private:
  void take(pugi::xml_node node) {
    const std::string_view name = node.name();
    if (name == "words") {
      ++out_.word_parts;
      add_words(text_of(node));
    } else if (name == "rehearsal") {
      out_.sections.push_back(one_line(text_of(node)));
    } else if (name == "segno") {
      out_.has_segno = true;
    } else if (name == "coda") {
      out_.has_coda = true;
    } else if (name == "dynamics") {
      if (std::string level = dynamic_level(node); !level.empty()) out_.levels.push_back(level);
    } else if (name == "metronome") {
      const auto tempo = read_metronome(node);
      if (tempo) out_.metronome = tempo;
      if (!tempo) out_.odd_tempos.push_back(node);
    } else if (name == "other-direction") {
      take_other(node);
    } else if (std::find(kLayout.begin(), kLayout.end(), name) == kLayout.end()) {
      out_.left_out.push_back(node);
    }
  }

  void take_other(pugi::xml_node node) {
    const std::string text = text_of(node);
    if (text.starts_with(kOwnPrefix)) {
      out_.own = parse_own_text(text);
      if (!out_.own) out_.unreadable_own = node;
    } else if (attribute(node, "print-object") == "no" || text.empty()) {
      out_.left_out.push_back(node);
    } else {
      add_words(text);
    }
  }

  static std::string one_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
  }

  void add_words(std::string text) {
    text = one_line(std::move(text));
    if (text.empty()) return;
    out_.words += out_.words.empty() ? text : " " + text;
  }

  void take_sound(pugi::xml_node sound) {
    for (const pugi::xml_attribute entry : sound.attributes()) {
      const std::string_view name = entry.name();
      const std::string_view value = entry.value();
      if (value == "no") continue;
      if (const auto cue = cue_of_sound(name)) out_.sound_cues.push_back(*cue);
      if (name == "tempo") take_tempo(value);
      if (name == "forward-repeat") out_.repeats_from_here = true;
    }
  }

  // Zero means: ask the player.
  void take_tempo(std::string_view text) {
    const auto tempo = model::parse_decimal(text);
    if (tempo && *tempo > Rational(0) && *tempo <= kFastest) out_.sound_tempo = tempo;
  }

  DirectionElement out_;
};

}  // namespace

DirectionElement read_direction(pugi::xml_node node) {
  return DirectionReader().run(node);
}

}  // namespace yubifu::musicxml
