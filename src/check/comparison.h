// Whether two scores, perhaps of different formats, hold the same music, and where they differ.
#pragma once

#include <optional>
#include <set>
#include <string>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::check {

/// What is compared. A format that cannot hold an aspect leaves it out.
enum class Aspect {
  pitch,  ///< sounding key and cents
  onset,  ///< when a note begins, counted from the start of the score
  duration,
  fingering,  ///< sign, half hole, bend, asked pattern of holes
  marks,      ///< marks, grace notes and slurs
  lyrics,     ///< all verses
  form,       ///< bars, meters, repeats, endings, jumps, sections and other directions
  header,     ///< title, people, flute, tuning, tempo and key
};

/// Those that are compared.
using Aspects = std::set<Aspect>;

/// Their words.
inline constexpr auto kAspects = base::word_table<Aspect>({{Aspect::pitch, "pitch"},
                                                           {Aspect::onset, "onset"},
                                                           {Aspect::duration, "duration"},
                                                           {Aspect::fingering, "fingering"},
                                                           {Aspect::marks, "marks"},
                                                           {Aspect::lyrics, "lyrics"},
                                                           {Aspect::form, "form"},
                                                           {Aspect::header, "header"}});

/// All of them.
Aspects every_aspect();

/// What has to agree, and how nearly.
struct CompareOptions {
  Aspects aspects = every_aspect();
  double cents = 1;  ///< pitches nearer than this are the same
};

/// All differences in the order of the music, as findings in the first file, with the place in the
/// second one, of which `b_source` is the text, as the hint. Both scores must be resolved (every
/// tone has its pitch). Notes are aligned, so that a missing one is one difference. A shift of all
/// that follows is told once, where it begins, and not at all where a missing note or another
/// length explains it. Where every note has the same fingers on another flute that differs by one
/// interval, this is one difference, and the others are those that remain on one flute.
base::Diagnostics compare(const model::Score& a, const model::Score& b,
                          const CompareOptions& options, const base::SourceText& b_source);

/// A score as a MIDI file holds it: repeats, endings and jumps played out, grace notes as notes
/// that take their time from the main one (an eighth of a quarter each, together at most half of
/// it), and of the song text what each time through sings, as verse 1: the first time the first
/// verse, then the next one, if there is one; shoga where there is nothing else. Gaps lose their
/// spelling; of marks, slurs and directions only tempos stay. Nothing for a score that cannot be
/// played out.
std::optional<model::Score> as_sounding(const model::Score& score);

/// A score as it would be on the flute of another one.
struct OnOtherFlute {
  model::Score score;  ///< pitches, keys and flutes moved
  std::string told;    ///< what has moved, for people
};

/// Moves `score` to the flute of `other` if that is another flute, every note has the fingers of
/// the other's (or both are gaps), and all sound one interval higher or lower, to within so many
/// cents.
std::optional<OnOtherFlute> on_flute_of(const model::Score& other, const model::Score& score,
                                        double tolerance);

}  // namespace yubifu::check
