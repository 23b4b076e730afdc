#include "cli/notation_help.h"

#include <string_view>
#include <vector>

#include "base/translation.h"
#include "base/utf8.h"

namespace yubifu::cli {
namespace {

using base::catalogued;

constexpr int kSpellingColumn = 34;

struct Line {
  std::string_view spelling;  ///< as it is typed; the same in every language
  std::string_view meaning;
};

struct Section {
  std::string_view heading;
  std::vector<Line> lines;
};

const std::vector<Section>& sections() {
  static const std::vector<Section> list{
      {catalogued("Signs"),
       {{"筒  rt", catalogued("tube tone, all holes closed")},
        {"一…七  r1…r7", catalogued("low register")},
        {"0…7", catalogued("second register; 0 is a note, not a rest")},
        {"8 2̇…5̇  8 d2…d5", catalogued("third register")},
        {"三メ  r3m  ×三 ♭三", catalogued("half-holed, a semitone under the sign")},
        {"二カ  r2k  ♯二", catalogued("a semitone over the sign")},
        {"三↓20 三↑15  r3v20 r3^15", catalogued("bent, in cents")},
        {"?C5", catalogued("a pitch without fingers")}}},
      {catalogued("Time"),
       {{"三 五", catalogued("each word lasts one beat")},
        {"-  ー －", catalogued("holds the note for another beat")},
        {"・  .  休", catalogued("a rest")},
        {"(五 六) (五 六 七)", catalogued("words that share one beat")},
        {"(五 六 七):2", catalogued("the same over two beats")},
        {"|  ||  |=", catalogued("bar, section, end")},
        {"|:  :|  :|x3", catalogued("repeats")},
        {"%", catalogued("a bar like the one before")}}},
      {catalogued("Marks, on a sign"),
       {{"{uchi}  {打} {打ち} {指打ち}", catalogued("finger strike")},
        {"{age}  {上} {指上げ}", catalogued("lifted finger")},
        {"{suri}  {スリ}", catalogued("slide to the next note")},
        {"{yuri}  {ユリ}", catalogued("vibrato")},
        {"{breath}  {息}", catalogued("a breath after the note; {breath?} where one likes")},
        {"{fermata}  {延}", catalogued("held without a count")},
        {"{trill} {accent} {staccato}", catalogued("as on a staff")},
        {"{pre 六} {post 六}", catalogued("grace notes before and after it")},
        {"三~ 五", catalogued("a slur to the next note")}}},
      {catalogued("Between the signs"),
       {{"{tempo 96} {meter 3/4}", catalogued("changes from here on; also beat, key and flute")},
        {"{section \"A\"} {text \"…\"}", catalogued("names and words at this place")},
        {"{ending 1} {segno} {coda} {fine}",
         catalogued("the form; also dc, ds, to-coda and until-cue")}}},
      {catalogued("Song text, under its line"),
       {{"> か り が", catalogued("one word for each note that is struck")},
        {"~  /  か-", catalogued("carries a syllable on; skips a note; joins to the next")},
        {">2 …  >shoga …", catalogued("the second verse; the sung syllables of the flute")},
        {"# …", catalogued("a comment")}}},
  };
  return list;
}

}  // namespace

std::string notation_help() {
  std::string text;
  for (const Section& section : sections()) {
    if (!text.empty()) text += '\n';
    text += base::translated(section.heading) + '\n';
    for (const Line& line : section.lines) {
      text += "  " + base::padded(line.spelling, kSpellingColumn) + base::translated(line.meaning) +
              '\n';
    }
  }
  return text;
}

}  // namespace yubifu::cli
