// Whether two scores, perhaps of different formats, hold the same music, and where they differ.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

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

/// One difference. A place is "bar 3, beat 2" on its side; empty where that side has nothing.
struct Difference {
  Aspect aspect = Aspect::pitch;
  std::string message;
  std::string place_a;
  std::string place_b;
  std::optional<base::SourceRange> where_a;
  std::optional<base::SourceRange> where_b;
};

/// What has to agree, and how nearly.
struct CompareOptions {
  Aspects aspects = every_aspect();
  double cents = 1;  ///< pitches nearer than this are the same
};

/// All differences in the order of the music. Both scores must be resolved (every tone has its
/// pitch). Notes are aligned, so that a missing one is one difference. A shift of all that follows
/// is told once, where it begins, and not at all where a missing note or another length explains
/// it. Where every note has the same fingers on another flute that differs by one interval, this is
/// one difference, and the others are those that remain on one flute.
std::vector<Difference> compare(const model::Score& a, const model::Score& b,
                                const CompareOptions& options);

/// The differences as findings in the first file, with the place in the second one as the hint.
base::Diagnostics as_diagnostics(const std::vector<Difference>& differences,
                                 const base::SourceText& b);

}  // namespace yubifu::check
