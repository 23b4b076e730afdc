// Options for what is written: staff, MIDI files to listen to and to practise with, printed page.
#include "cli/options/rows.h"
#include "model/words.h"

namespace yubifu::cli {
namespace {

using base::catalogued;

constexpr int kMostTimes = 1000;
constexpr int kMostCountIn = 16;
constexpr int kMostPercent = 1000;

// "60%" or "60".
std::optional<int> percent(std::string_view text) {
  if (text.ends_with('%')) text.remove_suffix(1);
  return whole_number(text, 1, kMostPercent);
}

Complaint set_count_in(Options& options, const std::string& text) {
  return keep(whole_number(text, 0, kMostCountIn), options.midi_write.practice.count_in_bars,
              base::message("a number of bars from 0 to {}", kMostCountIn));
}

Complaint set_scale(Options& options, const std::string& text) {
  const auto value = model::parse_decimal(text);
  const double scale = value ? value->as_double() : 0;
  const bool possible = scale >= page::kLeastScale && scale <= page::kMostScale;
  return keep(possible ? std::optional(scale) : std::nullopt, options.page.scale,
              base::message("a number from {} to {}", page::kLeastScale, page::kMostScale));
}

Complaint set_columns(Options& options, const std::string& text) {
  options.page.columns = whole_number(text, 1, page::kMostColumns);
  if (options.page.columns || text == "auto") return std::nullopt;
  return base::message("auto or a number from 1 to {}", page::kMostColumns);
}

// Of a staff and of a page; what takes neither says so.
Complaint set_holes(Options& options, const std::string&) {
  options.musicxml_write.holes = true;
  options.page.holes = page::HolesShown::all;
  return std::nullopt;
}

OptionRow sound(std::string_view name, std::string_view placeholder, std::string_view help,
                Taken taken) {
  return row(name, placeholder, OptionGroup::sound, {"convert"}, help, std::move(taken));
}

OptionRow page_row(std::string_view name, std::string_view placeholder, std::string_view help,
                   Taken taken) {
  return row(name, placeholder, OptionGroup::page, {"convert", "bind"}, help, std::move(taken));
}

}  // namespace

std::vector<OptionRow> staff_options() {
  using Staff = musicxml::MusicXmlWriteOptions;
  constexpr OptionGroup group = OptionGroup::staff;
  constexpr auto staff = &Options::musicxml_write;
  return {
      row("fingering", "KIND", group, {"convert"},
          "how the staff shows the fingering: lyric (the default), lyric-above, technical, words "
          "or none",
          read_by(musicxml::annotation_named,
                  catalogued("lyric, lyric-above, technical, words or none"),
                  {"lyric", "lyric-above", "technical", "words", "none"}, staff,
                  &Staff::annotation)),
      // That none would add nothing is said where it is asked for.
      row("fingering", "KIND", group, {"annotate"},
          "how the staff shows the fingering: lyric (the default), lyric-above, technical or words",
          read_by(musicxml::annotation_named, catalogued("lyric, lyric-above, technical or words"),
                  {"lyric", "lyric-above", "technical", "words"}, staff, &Staff::annotation)),
      row("strokes", "", group, {"convert", "annotate"},
          "held beats as strokes behind the fingering", becomes(true, staff, &Staff::strokes)),
      row("holes", "", group, {"convert", "annotate", "bind"},
          "the holes of each note as well, on a staff or a page", {set_holes}),
      row("remove", "", group, {"annotate"},
          "take the fingering out that annotate has added; the file is then, byte for byte, what "
          "it was before",
          becomes(AnnotateTask::remove, &Options::annotate_task)),
      row("staff", "KIND", group, {"convert"},
          "in-c: 一 is written C4 whatever the flute, the default for scores of numbers; sounding: "
          "as it sounds",
          read_by([](std::string_view word) { return model::kStaffModeWords.value_of(word); },
                  catalogued("in-c or sounding"), {"in-c", "sounding"}, staff, &Staff::staff)),
      row("clef", "CLEF", group, {"convert"},
          "of a sounding staff: treble or treble8; the one with fewer ledger lines by default",
          one_of<musicxml::Clef>(
              {{"treble", musicxml::Clef::treble}, {"treble8", musicxml::Clef::treble8}},
              catalogued("treble or treble8"), staff, &Staff::clef)),
      row("alter", "exact", group, {"convert"},
          "write cents off the tempered scale into the staff's alterations",
          one_of<musicxml::Alterations>({{"exact", musicxml::Alterations::exact}}, {}, staff,
                                        &Staff::alterations)),
  };
}

std::vector<OptionRow> sound_options() {
  using Midi = midi::MidiWriteOptions;
  constexpr auto midi = &Options::midi_write;
  constexpr auto practice = &Midi::practice;
  return {
      sound(
          "lyrics", "KIND", "texts in a MIDI file: fingering (the default), song, shoga or none",
          one_of<midi::Lyrics>({{"fingering", midi::Lyrics::fingering},
                                {"song", midi::Lyrics::song},
                                {"shoga", midi::Lyrics::shoga},
                                {"none", midi::Lyrics::none}},
                               catalogued("fingering, song, shoga or none"), midi, &Midi::lyrics)),
      sound("program", "N",
            "instrument, counted from 1 as in General MIDI; 74, the flute, by default",
            number(1, 128, midi, &Midi::program)),
      sound("velocity", "N", "of a note without accent, 1 to 127",
            number(1, 127, midi, &Midi::velocity)),
      sound("ppq", "N", "ticks a quarter note, 24 to 32767; found from the score by default",
            number(24, 32767, midi, &Midi::ppq)),
      sound("bars", "A-B",
            "only these bars, by their printed numbers; a pickup is bar 0. Of a page and a staff, "
            "too",
            read_by(midi::parse_bar_range, catalogued("bar numbers such as 5-8 or 5"), {}, midi,
                    practice, &midi::Practice::bars)),
      sound("tempo", "PERCENT", "of the written tempo, such as 60%",
            read_by(percent, catalogued("a percentage from 1% to 1000%"), {}, midi, practice,
                    &midi::Practice::tempo_percent)),
      sound("times", "N", "how often all of it is played",
            number(1, kMostTimes, midi, practice, &midi::Practice::times)),
      sound("count-in", "BARS", "bars of clicks before the first note", {set_count_in}),
      sound("click", "", "a click on every beat",
            becomes(midi::Click::on, midi, practice, &midi::Practice::click)),
  };
}

std::vector<OptionRow> page_options() {
  using Page = page::PageOptions;
  constexpr auto page = &Options::page;
  return {
      page_row("size", "PAPER", "a4 (the default) or letter",
               one_of<page::PaperSize>(
                   {{"a4", page::PaperSize::a4}, {"letter", page::PaperSize::letter}},
                   catalogued("a4 or letter"), page, &Page::paper)),
      page_row("landscape", "", "the paper lies on its long side",
               becomes(page::Orientation::landscape, page, &Page::orientation)),
      page_row("columns", "N",
               "columns a page: auto (the default, as many as fit) or a number; the signs shrink "
               "or grow to fit",
               {set_columns, {"auto"}}),
      page_row("scale", "N",
               "size of the signs: 1 is a digit of 6 mm, 3 the largest, 18 mm; without it as large "
               "as the pages have room for",
               {set_scale}),
      row("tall", "", OptionGroup::page, {"convert"},
          "all pages of an .svg in one tall file instead of a file for each",
          becomes(page::SvgDocuments::one_tall, page, &Page::documents)),
      page_row(
          "direction", "WAY",
          "down: columns from top to bottom and right to left (the default); across: rows from "
          "left to right",
          one_of<page::ReadingDirection>(
              {{"down", page::ReadingDirection::down}, {"across", page::ReadingDirection::across}},
              catalogued("down or across"), page, &Page::direction)),
      page_row("tied", "KIND", "held beats as strokes (the default) or dashes",
               one_of<page::HeldBeats>(
                   {{"strokes", page::HeldBeats::strokes}, {"dashes", page::HeldBeats::dashes}},
                   catalogued("strokes or dashes"), page, &Page::held)),
      page_row("no-text", "", "without song text and sung syllables",
               becomes(page::SongText::hidden, page, &Page::song_text)),
      row("with-chart", "", OptionGroup::page, {"convert"},
          "the fingerings that the score uses follow on a page of their own",
          becomes(page::ChartPages::used_fingerings, page, &Page::chart)),
      row("title", "TITLE", OptionGroup::page, {"bind"},
          "of the book; the name of the folder or list by default",
          text(&Options::book, &BookOptions::title)),
      row("follow-on", "", OptionGroup::page, {"bind"},
          "a tune begins on the sheet where the one before it ends, if there is room",
          becomes(page::TuneStart::following_on, &Options::book, &BookOptions::start)),
  };
}

}  // namespace yubifu::cli
