// Which line of a file with many is the melody: one table of evidence for every format.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::model {

/// What is known of one line: a voice of a part, or a channel of a track.
struct LineEvidence {
  /// Of the line and its instrument, in UTF-8. The first that says anything counts.
  std::vector<std::string> names;
  bool is_percussion = false;
  bool has_fingering = false;  ///< one of this program
  std::size_t bars = 0;        ///< in how many it plays; stretches of one length will do
  std::size_t attacks = 0;     ///< places where notes of it begin
  std::size_t chords = 0;      ///< those of them where several begin
  std::size_t syllables = 0;   ///< attacks that are sung
  int staff = 0;               ///< 0 on the upper staff of its part, 1 below it, and so on
  std::size_t place = 0;       ///< from the top of the file; lines beside each other share one
  std::array<std::uint32_t, 128> notes_at_key{};  ///< how many notes sound at each MIDI key

  /// Counts a note; keys outside MIDI count as its lowest or highest.
  void add_note(int key);
};

/// What decided for a line.
enum class MelodyReason {
  pitched,          ///< others are percussion
  fingering,        ///< it carries a fingering
  plays,            ///< others hardly play
  name,             ///< its name speaks for it
  names_of_others,  ///< those of others speak against them
  sung,
  upper_staff,
  fullest,  ///< others are silent most of the time
  highest,
  one_at_a_time,
  place,
  count,
};

struct MelodyVerdict {
  std::size_t line = 0;               ///< index of the melody
  std::vector<MelodyReason> reasons;  ///< each parted it from some of the others
};

/// Goes through the evidence in the order of MelodyReason; each kind is asked only of the lines
/// that were equal so far. Names are those of scores in several languages, also inside longer
/// ones; between lower voices and instruments of chords the voices win, and a singer among
/// instruments is not held back by the name of a low voice. Heights are medians, equal within a
/// whole tone. All of this is our choice. `lines` is not empty.
MelodyVerdict find_melody(const std::vector<LineEvidence>& lines);

/// Says what is read, why, and what is left out; `titles_left_out` is not empty.
std::string melody_sentence(std::string_view title, const MelodyVerdict& verdict,
                            const std::vector<std::string>& titles_left_out);

/// Items for a message, with commas; of many the first eight and how many more there are.
std::string listed(const std::vector<std::string>& items);

}  // namespace yubifu::model
