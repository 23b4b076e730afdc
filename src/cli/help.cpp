#include "cli/help.h"

#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "base/message.h"
#include "base/utf8.h"
#include "cli/formats.h"
#include "cli/options/option_table.h"
#include "cli/settings.h"
#include "fingering/rank.h"
#include "model/pitch.h"

namespace yubifu::cli {
namespace {

using base::catalogued;
using base::message;
using base::translated;

constexpr int kLineWidth = 88;
constexpr int kOptionColumn = 30;

// `text` in lines as wide as help is; all but the first begin `indent` columns from the left.
std::string wrapped(std::string_view text, int indent = 0) {
  std::string out;
  for (const std::string& line : base::wrapped(text, kLineWidth - indent)) {
    if (!out.empty()) out += std::string(static_cast<std::size_t>(indent), ' ');
    out += line + '\n';
  }
  return out;
}

std::string option_line(const OptionRow& row) {
  std::string left = row.letter == 0 ? "      " : fmt::format("  -{}, ", row.letter);
  left += fmt::format("--{}", row.name);
  if (!row.placeholder.empty()) left += fmt::format(" {}", row.placeholder);
  const int width = base::display_width(left);
  if (width + 1 >= kOptionColumn) {
    left += '\n' + std::string(kOptionColumn, ' ');
  } else {
    left = base::padded(left, kOptionColumn);
  }
  return left + wrapped(translated(row.help), kOptionColumn);
}

std::string format_lines() {
  std::string text;
  for (const Format& format : formats()) {
    std::string extensions = fmt::format(".{}", format.extension);
    if (!format.other_extension.empty()) extensions += fmt::format(" .{}", format.other_extension);
    text += "  " + base::padded(format.name, 12) + base::padded(extensions, 22) +
            wrapped(translated(format.sentence), 36);
  }
  return text;
}

constexpr int kSpellingColumn = 32;

#ifdef __EMSCRIPTEN__
constexpr bool kIsWebAssembly = true;
#else
constexpr bool kIsWebAssembly = false;
#endif

std::string help_line(const HelpLine& line) {
  return "  " + base::padded(line.spelling, kSpellingColumn - 2) +
         wrapped(translated(line.meaning), kSpellingColumn);
}

std::string section_text(const HelpSection& section) {
  std::string text = translated(section.heading) + '\n';
  for (const HelpLine& line : section.lines) text += help_line(line);
  return text;
}

std::string notation_help() {
  std::string text = message("A whole tune: the header, the music, the song under it") + "\n\n";
  text += message(
      "title: River Lights\n"
      "flute: 6\n"
      "meter: 4/4\n"
      "tempo: 80\n\n"
      "三 三 五 六 | 七 (六 五) 六 - |=\n"
      "> Lan- terns on the | wa- ter drift- ing\n");
  text += '\n';
  for (const HelpSection& section : notation_sections()) text += section_text(section) + '\n';
  return text + wrapped(message("'yubifu new TITLE' writes a text to begin with, 'yubifu check "
                                "FILE' finds what is wrong in one."));
}

// "6  Bb4": each size with the note of its 一.
std::string size_lines() {
  constexpr int kColumns = 7;
  constexpr int kWidth = 10;
  std::string text;
  int column = 0;
  for (const flute::Flute& flute : fingering::whole_sizes(model::kConcertPitchHz)) {
    const int key = flute.ichi().key;
    const std::string ichi = to_text(model::spell_in_key(key, model::moved_key({}, key % 12)));
    const bool last = ++column % kColumns == 0;
    const std::string cell = fmt::format("{:>4}  {}", flute.title(), ichi);
    text += last ? cell + '\n' : base::padded(cell, kWidth);
  }
  while (text.ends_with(' ')) text.pop_back();
  return text + '\n';
}

std::string flute_help() {
  std::string text =
      message("Sizes of the seven-hole flute, each with the note of 一, its do") + '\n';
  text += size_lines();
  text += wrapped(
      message("A size may also be a half (7.5) or lie some cents beside it (6+15c, 8-10c); 六, 6本 "
              "and 六本調子 are read too. Where none is named, size 8 is taken and told."));
  text += '\n' + wrapped(message("A flute that follows no such scale is described by a file: "
                                 "examples/flutes has some, 'yubifu schema flute' says what they "
                                 "hold. Whatever ends in .json or holds a / names a file:"));
  for (const HelpLine& line :
       {HelpLine{"flute: flutes/lantern.json",
                 catalogued("in the header of a tune; counted from its file")},
        HelpLine{"{flute flutes/lantern.json}", catalogued("in the music; the same")},
        HelpLine{"--flute flutes/lantern.json",
                 catalogued("on the command line; counted from where you are")}}) {
    text += help_line(line);
  }
  return text + '\n' +
         wrapped(message("'yubifu chart --flute 6' shows the fingerings of a flute, 'yubifu fit "
                         "FILE' which flute suits a melody. The flutes that you own can stand in "
                         "the settings: 'yubifu help settings'."));
}

std::string settings_help() {
  const std::string path = settings_path();
  std::string text =
      message("The settings stand in {}", path.empty() ? "yubifu/settings.json" : path) + "\n\n";
  text += example_settings();
  text +=
      '\n' +
      wrapped(message(
          "flutes: those that you own, sizes or paths of flute files (counted from the settings); "
          "tuning: A4 in hertz; language: of messages, en or ja. Each may be left out."));
  text +=
      wrapped(message("They serve fit (your flutes come first), new, and the fingering of a staff "
                      "or MIDI file that has none, for the best of your flutes. What a tune of "
                      "numbers sounds never depends on them, nor what check and compare find."));
  return text + wrapped(message("--no-settings passes over them, and so does CI in the "
                                "environment. A file with a fault in it is told and passed over as "
                                "a whole. 'yubifu schema settings' prints what it may hold."));
}

// The page as it was installed with this program, or made beside it; empty where it is not.
std::filesystem::path page_path() {
  std::error_code failure;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", failure);
  for (const char* folder : {"../share/yubifu/web", "../web"}) {
    auto page = (program.parent_path() / folder / "yubifu.html").lexically_normal();
    if (std::filesystem::is_regular_file(page, failure)) return page;
  }
  return {};
}

std::string page_help() {
  std::string text =
      wrapped(message("The page for browsers is this program without a terminal: an editor with "
                      "signs to tap, the sheet, the staff, the fingers and the sound of a tune. It "
                      "needs no network, and nothing that you put on it leaves your computer.")) +
      '\n';
  if constexpr (kIsWebAssembly) {
    return text +
           wrapped(message(
               "The package for Node.js does not hold it. 'sh src/web/build.sh', which makes the "
               "package in the source of yubifu, makes the page too: build/web/yubifu.html, one "
               "file to be opened in a browser. The Debian package brings it along."));
  }
  const std::filesystem::path page = page_path();
  if (page.empty()) {
    return text +
           wrapped(message(
               "It is not beside this program. 'sh src/web/build.sh' in the source of yubifu makes "
               "it: build/web/yubifu.html, one file to be opened in a browser."));
  }
  text += message("Open it in a browser:") + "\n\n  " + page.string() + "\n\n";
  return text +
         wrapped(message(
             "It is one file, to be copied or mailed. The folder that it stands in is the same "
             "page for a web server, with the licences of what is in it in notices.txt."));
}

}  // namespace

std::string general_help() {
  std::string text = message(
      "yubifu moves music between the fingering numbers of the Japanese bamboo flute\n"
      "and staff notation or MIDI, for the very flute in your hand.\n\n"
      "Use: yubifu VERB INPUTS [OPTIONS]\n\n"
      "Verbs\n");
  for (const Verb& verb : verbs()) {
    text += "  " + base::padded(verb.name, 12) + wrapped(translated(verb.sentence), 14);
  }
  text += message(
      "\n'yubifu help VERB' shows the options of a verb and an example, 'yubifu --version' the "
      "version.\n\nHelp on more than verbs: yubifu help TOPIC\n");
  for (const HelpTopic& topic : help_topics()) {
    text += "  " + base::padded(topic.name, 12) + translated(topic.sentence) + '\n';
  }
  text += message("\nFormats\n");
  text += format_lines();
  text += message(
      "\nExit status: 0 done; 1 findings, or something was lost and --strict was given;\n"
      "2 wrong usage, unreadable input or unwritable output.\n");
  return text;
}

std::string verb_help(const Verb& verb) {
  std::string inputs(verb.inputs);
  if (!inputs.empty()) inputs += ' ';
  std::string text = message("Use: yubifu {} {}[OPTIONS]\n\n", verb.name, inputs);
  text += wrapped(translated(verb.sentence));
  const auto rows = options_of(verb.name);
  for (const auto& [group, heading] : kHeadings) {
    std::string lines;
    for (const OptionRow* row : rows) {
      if (row->group == group) lines += option_line(*row);
    }
    if (!lines.empty()) text += fmt::format("\n{}\n{}", translated(heading), lines);
  }
  return text + message("\nExample\n  {}\n", verb.example);
}

const std::vector<HelpSection>& notation_sections() {
  static const std::vector<HelpSection> list{
      {"header",
       catalogued("Header, before the music"),
       {{"title: Harvest Song", catalogued("also subtitle, composer, lyricist, source and rights")},
        {"flute: 6", catalogued("size 1 to 13 or a flute file: 'yubifu help flute'")},
        {"meter: 4/4  meter: free", catalogued("where it is free, nothing is counted")},
        {"beat: 3/8", catalogued("what a word lasts; else 1/4 in 4/4, 1/8 in 6/8")},
        {"tempo: 80", catalogued("words a minute; in 6/8, 9/8, 12/8 dotted quarters")},
        {"tempo: 1/8=180", catalogued("the same with its unit: here eighths a minute")},
        {"key: Eb  key: F# minor", catalogued("for the staff; found from the notes by default")},
        {"staff: sounding", catalogued("the staff as it sounds; in-c, the default, has 一 as C")},
        {"tuning: 442", catalogued("A4 in hertz, 440 by default")},
        {"zero: tube", catalogued("0 is the tone with all holes closed (some groups)")}}},
      {"signs",
       catalogued("Signs"),
       {{"筒  rt", catalogued("tube tone, all holes closed")},
        {"一…七  r1…r7", catalogued("low register")},
        {"0…7", catalogued("second register; 0 is a note, not a rest")},
        {"8  2̇…5̇  d2…d5", catalogued("third register")},
        {"三メ  r3m  ×三  ♭三", catalogued("half-holed, a semitone under the sign")},
        {"二カ  r2k  ♯二", catalogued("a semitone over the sign")},
        {"三↓20  三↑15  r3v20  r3^15", catalogued("bent, in cents")},
        {"?C5", catalogued("a pitch without fingers")}}},
      {"time",
       catalogued("Time"),
       {{"三 五", catalogued("each word lasts one beat")},
        {"三 -  三 ー  三 －", catalogued("holds the note for another beat")},
        {"三 ・  三 .  三 休", catalogued("a rest")},
        {"(五 六)  (五 六 七)", catalogued("words that share one beat")},
        {"(五 六 七):2", catalogued("the same over two beats")},
        {"三 | 五 六 七 -", catalogued("a pickup: the first bar may be short")},
        {"(三):1/2 | 五 六 七 -", catalogued("a pickup of half a beat")},
        {"{irregular} 三 五 |", catalogued("another bar that is short or long, and meant so")},
        {"{beat 1/8} 三 五", catalogued("from here on a word lasts an eighth")},
        {"三 | 五 || 六 |=", catalogued("| ends a bar, || a section, |= the tune")},
        {"|: 三 五 :|  |: 三 五 :|x3", catalogued("repeats")},
        {"三 五 | % |", catalogued("a bar like the one before")}}},
      {"marks",
       catalogued("Marks, on a sign"),
       {{"三{uchi}  三{打}  三{指打ち}", catalogued("finger strike")},
        {"三{age}  三{上}  三{指上げ}", catalogued("lifted finger")},
        {"三{suri} 五  三{スリ} 五", catalogued("slide to the next note")},
        {"三{yuri}  三{ユリ}", catalogued("vibrato")},
        {"三{breath}  三{息}", catalogued("a breath after the note; {breath?} where one likes")},
        {"三{fermata}  三{延}", catalogued("held without a count")},
        {"三{trill}  三{accent}", catalogued("as on a staff; also staccato and tenuto")},
        {"三{pre 六}  三{post 六 五}", catalogued("grace notes before and after it")},
        {"三~ 五", catalogued("a slur to the next note")}}},
      {"directions",
       catalogued("Between the signs"),
       {{"{tempo 96}  {meter 3/4}", catalogued("changes from here on; also beat, key and flute")},
        {"{section \"A\"}  {text \"wait\"}", catalogued("names and words at this place")},
        {"{ending 1}  {segno}  {fine}",
         catalogued("the form; also coda, dc, ds, to-coda and until-cue")},
        {"{rit}  {accel}  {dyn mf}",
         catalogued("slower, faster, how loud; also a-tempo, caesura")}}},
      {"song",
       catalogued("Song text, under its line"),
       {{"> か り が", catalogued("one word for each note that is struck")},
        {"> か ~ り", catalogued("~ carries a syllable on to another note")},
        {"> か / り", catalogued("/ skips a note")},
        {"> か- り が", catalogued("- joins the syllables of one word")},
        {">2 か り が  >shoga ト ヒ ヤ",
         catalogued("the second verse; the sung syllables of the flute")},
        {"# about this place", catalogued("a comment")}}},
  };
  return list;
}

std::string_view example_settings() {
  return "{\n"
         "  \"flutes\": [6, 7, 8],\n"
         "  \"tuning\": 442,\n"
         "  \"language\": \"ja\"\n"
         "}\n";
}

const std::vector<HelpTopic>& help_topics() {
  static const std::vector<HelpTopic> list = [] {
    std::vector<HelpTopic> all{{"notation", catalogued("How tunes are written"), notation_help}};
    for (const HelpSection& section : notation_sections()) {
      all.push_back({section.topic, section.heading, [&] { return section_text(section); }});
    }
    all.push_back(
        {"flute", catalogued("Sizes of flutes, and how a flute file is named"), flute_help});
    all.push_back(
        {"settings", catalogued("Your own flutes, their tuning, your language"), settings_help});
    all.push_back({"page", catalogued("Where the page for browsers is"), page_help});
    return all;
  }();
  return list;
}

std::optional<std::string> topic_help(std::string_view name) {
  for (const HelpTopic& topic : help_topics()) {
    if (topic.name == name) return topic.text();
  }
  return std::nullopt;
}

}  // namespace yubifu::cli
