// Options for what a staff shows.
#include "base/message.h"
#include "cli/options/rows.h"
#include "model/words.h"

namespace yubifu::cli {
namespace {

using base::message;

std::optional<musicxml::Clef> clef(const std::string& text) {
  if (text == "treble") return musicxml::Clef::treble;
  if (text == "treble8") return musicxml::Clef::treble8;
  return std::nullopt;
}

}  // namespace

std::vector<OptionRow> staff_options() {
  return {
      {"fingering",
       0,
       "KIND",
       OptionGroup::staff,
       {"convert"},
       "how the staff shows the fingering: lyric (the default), lyric-above, technical, words or "
       "none",
       [](Options& o, const std::string& v) {
         return keep(musicxml::annotation_named(v), o.musicxml_write.annotation,
                     message("lyric, lyric-above, technical, words or none"));
       },
       {"lyric", "lyric-above", "technical", "words", "none"}},
      // That none would add nothing is said where it is asked for.
      {"fingering",
       0,
       "KIND",
       OptionGroup::staff,
       {"annotate"},
       "how the staff shows the fingering: lyric (the default), lyric-above, technical or words",
       [](Options& o, const std::string& v) {
         return keep(musicxml::annotation_named(v), o.musicxml_write.annotation,
                     message("lyric, lyric-above, technical or words"));
       },
       {"lyric", "lyric-above", "technical", "words"}},
      {"strokes",
       0,
       "",
       OptionGroup::staff,
       {"convert", "annotate"},
       "held beats as strokes behind the fingering",
       [](Options& o, const std::string&) -> Complaint {
         o.musicxml_write.strokes = true;
         return std::nullopt;
       }},
      {"holes",
       0,
       "",
       OptionGroup::staff,
       {"convert", "annotate"},
       "the holes of each note as well",
       [](Options& o, const std::string&) -> Complaint {
         o.musicxml_write.holes = true;
         return std::nullopt;
       }},
      {"remove",
       0,
       "",
       OptionGroup::staff,
       {"annotate"},
       "take the fingering out that annotate has added; the file is then, byte for byte, what it "
       "was before",
       [](Options& o, const std::string&) -> Complaint {
         o.annotate_task = AnnotateTask::remove;
         return std::nullopt;
       }},
      {"staff",
       0,
       "KIND",
       OptionGroup::staff,
       {"convert"},
       "in-c: 一 is written C4 whatever the flute, the default for scores of numbers; sounding: "
       "as it sounds",
       [](Options& o, const std::string& v) {
         return keep(model::staff_mode_named(v), o.musicxml_write.staff,
                     message("in-c or sounding"));
       },
       {"in-c", "sounding"}},
      {"clef",
       0,
       "CLEF",
       OptionGroup::staff,
       {"convert"},
       "of a sounding staff: treble or treble8; the one with fewer ledger lines by default",
       [](Options& o, const std::string& v) {
         return keep(clef(v), o.musicxml_write.clef, message("treble or treble8"));
       },
       {"treble", "treble8"}},
      {"alter",
       0,
       "exact",
       OptionGroup::staff,
       {"convert"},
       "write cents off the tempered scale into the staff's alterations",
       [](Options& o, const std::string& v) -> Complaint {
         if (v != "exact") return message("exact");
         o.musicxml_write.alterations = musicxml::Alterations::exact;
         return std::nullopt;
       },
       {"exact"}},
  };
}

}  // namespace yubifu::cli
