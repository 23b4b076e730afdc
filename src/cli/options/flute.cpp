// Options for the flute, the pitch, and the fingers that are found.
#include "base/word_table.h"
#include "cli/options/rows.h"

namespace yubifu::cli {
namespace {

using base::message;

constexpr int kMostOctaves = 8;
constexpr int kMostSemitones = 60;

using Effort = fingering::EffortTable;
constexpr auto kAvoided =
    base::word_table<bool Effort::*>({{&Effort::avoid_half_holes, "half-holes"},
                                      {&Effort::avoid_bends, "bends"},
                                      {&Effort::avoid_third_register, "third"},
                                      {&Effort::avoid_cross_fingering, "cross"}});

Complaint set_octave(Options& options, const std::string& text) {
  if (text == "auto") {
    options.octave = fingering::AutoOctave{};
    return std::nullopt;
  }
  return keep(whole_number(text, -kMostOctaves, kMostOctaves), options.octave,
              message("auto, or a number of octaves from -{} to {}", kMostOctaves, kMostOctaves));
}

Complaint set_move(Options& options, const std::string& text) {
  return keep(whole_number(text, -kMostSemitones, kMostSemitones), options.resolve.move_semitones,
              message("semitones from -{} to {}", kMostSemitones, kMostSemitones));
}

Complaint set_avoided(Options& options, const std::string& text) {
  std::string_view rest = text;
  while (!rest.empty()) {
    const auto kind = kAvoided.value_of(next_part(rest));
    if (!kind) {
      return message("half-holes, bends, third, cross, or several of them parted by commas");
    }
    options.resolve.effort.*(*kind) = true;
  }
  return std::nullopt;
}

// Sizes and files of flutes, parted by commas.
std::optional<std::vector<model::FluteName>> flute_list(std::string_view text) {
  std::vector<model::FluteName> flutes;
  while (true) {
    const std::size_t comma = text.find(',');
    const auto flute = model::parse_flute_name(text.substr(0, comma));
    if (!flute) return std::nullopt;
    flutes.push_back(*flute);
    if (comma == std::string_view::npos) return flutes;
    text.remove_prefix(comma + 1);
  }
}

OptionRow flute_row(std::string_view verb, std::string_view help) {
  return row("flute", "SIZE|FILE", OptionGroup::flute, {verb}, help,
             read_by(flute_list,
                     base::catalogued(
                         "sizes from 1 to 13 such as 6, 7.5 or 6+15c, or paths of flute files"),
                     {}, &Options::flutes),
             'f');
}

}  // namespace

std::vector<OptionRow> flute_options() {
  using Resolve = fingering::ResolveOptions;
  constexpr OptionGroup group = OptionGroup::flute;
  constexpr auto resolve = &Options::resolve;
  return {
      flute_row("convert",
                "size 1 to 13, half sizes (7.5), an offset in cents (6+15c), or the path of a "
                "flute file; several parted by commas with --out-dir. Staff and MIDI files are "
                "fingered for it; scores of numbers keep their fingers and sound as on it"),
      flute_row("annotate",
                "the flute to finger for: size 1 to 13, half sizes (7.5), an offset in cents "
                "(6+15c), or the path of a flute file"),
      flute_row("bind",
                "the flute in hand: size 1 to 13, half sizes (7.5), an offset in cents (6+15c), or "
                "the path of a flute file. Staff and MIDI files are fingered for it; scores of "
                "numbers keep their fingers and sound as on it"),
      flute_row(
          "fit",
          "what to rank, parted by commas: sizes 1 to 13, half sizes (7.5), offsets in cents "
          "(6+15c), or paths of flute files; without a size among them, the sizes 1 to 13 too"),
      flute_row("chart",
                "the flute to show: size 1 to 13, half sizes (7.5), an offset in cents (6+15c), or "
                "the path of a flute file"),
      flute_row("check",
                "check for this flute, whatever flute the file names: size 1 to 13, half sizes "
                "(7.5), an offset in cents (6+15c), or the path of a flute file"),
      flute_row("compare",
                "the flute of a file that names none: size 1 to 13, half sizes (7.5), an offset in "
                "cents (6+15c), or the path of a flute file"),
      flute_row("new",
                "the flute of the tune: size 1 to 13, half sizes (7.5), an offset in cents "
                "(6+15c), or the path of a flute file"),
      row("tuning", "HZ", group,
          {"convert", "annotate", "chart", "fit", "check", "compare", "gauge", "bind", "new"},
          "A4 in hertz; 440 unless the score says otherwise",
          read_by(tuning_hz, base::catalogued("hertz from 300 to 600"), {}, resolve,
                  &Resolve::tuning_hz)),
      row("octave", "auto|N", group, {"convert", "annotate", "bind"},
          "move the melody by whole octaves: as suits the flute, or by N; auto unless said "
          "otherwise for a staff or MIDI file that has no fingering, else 0",
          {set_octave, {"auto"}}),
      row("move", "SEMITONES", group, {"convert", "annotate", "fit"},
          "move the sound by semitones and find fingers for it", {set_move}),
      row("refinger", "", group, {"convert"},
          "keep the pitch of a score of numbers and find new fingers for it",
          becomes(fingering::Refinger::all, resolve, &Resolve::refinger)),
      row("avoid", "WHAT", group, {"convert", "annotate", "fit"},
          "half-holes, bends, third or cross (the sign 0): take them only where nothing else "
          "reaches",
          {set_avoided, kAvoided.words()}),
      row("only", "plain", group, {"convert", "annotate", "fit"},
          "no half holes and no bends; what needs one becomes a gap",
          one_of<fingering::Allowed>({{"plain", fingering::Allowed::plain}}, {}, resolve,
                                     &Resolve::allowed)),
      row("explain", "", group, {"convert"},
          "print what each note could have been played with, and why one way won",
          becomes(fingering::Explain::every_tone, resolve, &Resolve::explain)),
  };
}

}  // namespace yubifu::cli
