// Small staff files for tests, what is read from them in a form that tests can state, and the same
// files annotated.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/flute_name.h"
#include "model/score.h"
#include "musicxml/annotate/annotator.h"
#include "musicxml/read/reader.h"

namespace yubifu::musicxml {

/// A document with these <part> elements and no part list.
std::string document(std::string_view parts);

/// A document with one part, P1, named Flute; `measures` with their tags.
std::string one_part(std::string_view measures);

/// A <measure>; the number may be followed by further attributes: `1" implicit="yes`.
std::string measure(std::string_view number, std::string_view content);

/// <attributes> with divisions and a meter such as "4/4".
std::string attributes(int divisions, std::string_view meter);

/// One part of one measure in 4/4 with two divisions a quarter.
std::string one_bar(std::string_view content);

/// A <note>: "F#5" with a duration in divisions; `rest` comes after the duration, in the order of
/// the schema.
std::string note(std::string_view pitch, int duration, std::string_view rest = {});
/// The same with something before the pitch: <chord/>, <grace/>, <cue/>.
std::string note_with(std::string_view before, std::string_view pitch, int duration,
                      std::string_view rest = {});
std::string grace(std::string_view pitch, std::string_view attributes = {});
std::string rest(int duration, std::string_view rest = {});
std::string lyric(std::string_view number, std::string_view syllabic, std::string_view text);

/// What came of a text: the score, and each remark as "severity rule: message".
struct Reading {
  model::Score score;
  std::vector<std::string> remarks;
  base::Diagnostics diagnostics;
};

/// Reads a text that must give a score without broken invariants.
Reading read(const std::string& text, const MusicXmlReadOptions& options = {});

/// The only error of a text that must not give a score, as "line:column rule: message".
std::string refusal(const std::string& text, const MusicXmlReadOptions& options = {});

/// The notes: "0 D5 1, 1 E5 1/2 | 0 F5 4", onset, sounding spelling, cents if any ("D5+20"),
/// duration; bars parted by "|".
std::string melody(const model::Score& score);

/// The lengths of the bars with "!" behind irregular ones: "4 3! 4".
std::string lengths(const model::Score& score);

/// The directions: "1:0 tempo 90, 2:4 fine", bar index from 1 and onset.
std::string directions(const model::Score& score);

/// The fingerings as printed, "?F#5" for gaps and "-" for notes without.
std::string fingerings(const model::Score& score);

/// The syllables of one verse, note by note: "mi- na ~ to" with "-" behind a syllable whose word
/// goes on, "~" where one is carried on, "/" where there is none.
std::string verse(const model::Score& score, std::string_view name);

/// What came of annotating: the bytes, empty after an error, and "rule" of each finding.
struct Annotated {
  std::string bytes;
  std::vector<std::string> rules;
};

/// Annotates as the program does, for a flute of this size and moved by the octaves; the file must
/// be readable.
Annotated annotated_with_findings(const std::string& bytes, const AnnotateOptions& options = {},
                                  model::FluteSize flute = {7, 0},
                                  const MusicXmlReadOptions& reading = {});

/// The bytes alone; a test fails when there are none.
std::string annotated(const std::string& bytes, const AnnotateOptions& options = {},
                      model::FluteSize flute = {7, 0}, const MusicXmlReadOptions& reading = {});

/// The bytes without the annotation.
std::string bare(const std::string& bytes);

}  // namespace yubifu::musicxml
