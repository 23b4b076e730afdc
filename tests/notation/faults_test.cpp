// Bad inputs: the exact place, the rule, and what the message says and proposes.
#include <ostream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "notation/reading.h"

namespace yubifu::notation {
namespace {

using testing::ElementsAre;
using testing::ElementsAreArray;
using testing::HasSubstr;

struct Case {
  std::string text;
  std::vector<std::string> findings;  // all of them
  std::string says;                   // a part of message and hint of the first
};

void PrintTo(const Case& c, std::ostream* out) {
  *out << c.text;
}

class FaultOfText : public testing::TestWithParam<Case> {};

TEST_P(FaultOfText, IsToldWithItsPlace) {
  const Case& expected = GetParam();
  const Reading reading = read(expected.text);
  EXPECT_THAT(reading.findings(), ElementsAreArray(expected.findings));
  EXPECT_THAT(reading.first_message(), HasSubstr(expected.says));
}

INSTANTIATE_TEST_SUITE_P(
    Words, FaultOfText,
    testing::Values(
        Case{"五 六 @ 七 |\n", {"1:5 error unknown-sign"}, "`@` is no sign"},
        Case{"五 六 12 七 |\n", {"1:5 error two-signs"}, "`1 2`, each of one beat, or `(1 2)`"},
        Case{"五 123 |\n", {"1:3 error two-signs"}, "is 3 words in one"},
        Case{"五 -- 六 |\n", {"1:3 error two-signs"}, "`- -`"},
        Case{"五- 六 |\n", {"1:1 error two-signs"}, "`五 -`"},
        Case{"・五 |\n", {"1:1 error two-signs"}, "`・ 五`"},
        Case{"三メ二カ |\n", {"1:1 error two-signs"}, "`三メ 二カ`"},
        Case{"5. |\n", {"1:1 error dot-on-digit"}, "write `5̇` for the third register (or `d5`)"},
        Case{"1・ |\n", {"1:1 error dot-on-digit"}, "write `8` for the third register"},
        Case{"五・ |\n", {"1:1 error two-signs"}, "`五 ・`"},
        Case{"三カ20 |\n", {"1:1 error half-hole-number"}, "`三カ↑20`"},
        Case{"r3m20 |\n", {"1:1 error half-hole-number"}, "`r3mv20` for the half-holed note"},
        Case{"×三20 |\n", {"1:1 error half-hole-number"}, "`三メ↓20`"},
        Case{"三メカ |\n", {"1:1 error suffix-twice"}, "two half holes"},
        Case{"×三メ |\n", {"1:1 error suffix-twice"}, "two half holes"},
        Case{"三↓20↑10 |\n", {"1:1 error suffix-twice"}, "two bends"},
        Case{"三↓20メ |\n", {"1:1 error suffix-order"}, "write the half hole first"},
        Case{"三↓ |\n", {"1:1 error bend-number"}, "from 1 to 200"},
        Case{"三v0 |\n", {"1:1 error bend-number"}, "`v0` is no bend"},
        Case{"三↑12.5 |\n", {"1:1 error bend-number"}, "whole cents"},
        Case{"三↓99999999999 |\n", {"1:1 error bend-number"}, "from 1 to 200"},
        Case{"メ |\n", {"1:1 error unknown-sign"}, "directly after a sign"},
        Case{"三 メ |\n", {"1:3 error unknown-sign"}, "directly after a sign"},
        Case{"R3 |\n", {"1:1 error unknown-sign"}, "small letters: `r3`"},
        Case{"RT |\n", {"1:1 error unknown-sign"}, "small letters: `rt`"},
        Case{"ーメ |\n", {"1:1 error unknown-sign"}, "the kanji 一"},
        Case{"r8 |\n", {"1:1 error unknown-sign"}, "一 `r1`"},
        Case{"d9 |\n", {"1:1 error unknown-sign"}, "2̇ `d2`"},
        Case{"0̇ |\n", {"1:1 error unknown-sign"}, "no sign"},
        Case{"五 / |\n", {"1:3 error unknown-sign"}, "a hold is written `-`"},
        Case{"五／／ |\n", {"1:1 error unknown-sign"}, "a word of its own: `五 - -`"},
        Case{"3b |\n", {"1:1 error unknown-sign"}, "a semitone under 3 is `3メ`"},
        Case{"b七 |\n", {"1:1 error unknown-sign"}, "a semitone under 七 is `七メ`"},
        Case{"四b |\n", {"1:1 error unknown-sign"}, "a semitone under 四 is `三`"},
        Case{"b1 |\n", {"1:1 error unknown-sign"}, "a semitone under 1 is `七`"},
        Case{"8b |\n", {"1:1 error unknown-sign"}, "a semitone under 8 is `7`"},
        Case{"[3 4] 五 |\n", {"1:1 error unknown-sign"}, "round brackets: `(3 4)`"},
        Case{"［3 4］:2 五 |\n", {"1:1 error unknown-sign"}, "`(3 4)`"},
        Case{"[3 4 |\n", {"1:1 error unknown-sign"}, "round brackets"},
        Case{"3 4] |\n", {"1:4 error unknown-sign"}, "`]` closes no group"},
        Case{"五 六 七 五 | 1. 二 三 |\n", {"1:11 error dot-on-digit"}, "`{ending 1}`"},
        Case{"五 六 七 五 | 二 1. 三 |\n", {"1:13 error dot-on-digit"}, "write `8`"},
        Case{"二# |\n", {"1:1 error unknown-sign"}, "needs a space before its `#`"},
        Case{"○ |\n", {"1:1 error unknown-sign"}, "`筒` for the tube tone"},
        Case{"(五 六) :2 |\n", {"1:7 error unknown-sign"}, "directly after `)`"},
        Case{"?c5 |\n", {"1:1 error bad-gap"}, "as a capital"},
        Case{"?H5 |\n", {"1:1 error bad-gap"}, "letter, accidental and octave"},
        Case{"?C |\n", {"1:1 error bad-gap"}, "octave"},
        Case{"?C26 |\n", {"1:1 error bad-gap"}, "octave"},
        Case{"?C5メ |\n", {"1:1 error bad-gap"}, "no half hole"},
        Case{"? |\n", {"1:1 error bad-gap"}, "no sounding note"},
        Case{"〇 |\n", {"1:1 error unclear-zero"}, "zero: tube"},
        Case{"五~六 |\n", {"1:3 error missing-space"}, "no space before `六`"},
        Case{"五{accent}六 |\n", {"1:10 error missing-space"}, "no space before `六`"},
        Case{std::string("五 \0 |\n", 8), {"1:3 error unknown-sign"}, "`U+0000`"}));

INSTANTIATE_TEST_SUITE_P(
    Marks, FaultOfText,
    testing::Values(
        Case{"五{acent} |\n", {"1:2 error unknown-mark"}, "did you mean `{accent}`?"},
        Case{"五{uchii} |\n", {"1:2 error unknown-mark"}, "did you mean `{uchi}`?"},
        Case{"五 {uchii} |\n", {"1:3 error unknown-direction"}, "the mark `{uchi}`"},
        Case{"五{rot} 六 |\n", {"1:2 error unknown-mark"}, "the direction `{rit}`"},
        Case{"五{accent} - {fermata} |\n", {"1:13 error free-mark"}, "write `五{accent}{fermata}`"},
        Case{"五 ・ {fermata} |\n", {"1:5 error free-mark"}, "directly after its sign"},
        Case{"五 - -{fermata} |\n", {"1:6 error mark-on-hold"}, "is held: `五{fermata}`"},
        Case{"五{zzz} |\n", {"1:2 error unknown-mark"}, "marks are {fermata}"},
        Case{"五{} |\n", {"1:2 error unknown-mark"}, "`{}` is no mark"},
        Case{"五{accent 3} |\n", {"1:2 error bad-mark-value"}, "takes no value"},
        Case{"五{pre} |\n", {"1:2 error bad-mark-value"}, "needs a value"},
        Case{"五{pre -} |\n", {"1:2 error bad-mark-value"}, "`-` is no grace note"},
        Case{"五{post 六六} |\n", {"1:2 error two-signs"}, "`六 六`"},
        Case{"五{holes 7} |\n", {"1:2 error bad-mark-value"}, "{holes ○●●●●●○}"},
        Case{"五{accent}{accent} |\n", {"1:10 error suffix-twice"}, "`{accent}` stands twice"},
        Case{"五{打}{uchi} |\n", {"1:5 error suffix-twice"}, "`{uchi}` stands twice"},
        Case{"五{pre 六}{pre 七} |\n", {"1:9 error suffix-twice"}, "`{pre}` stands twice"},
        Case{"五{holes o}{holes x} |\n", {"1:11 error suffix-twice"}, "`{holes}` stands twice"},
        Case{"五~~ 六 |\n", {"1:3 error suffix-twice"}, "`~` stands twice"},
        Case{"五 -{fermata} |\n", {"1:4 error mark-on-hold"}, "on the sign that is held"},
        Case{"・{accent} |\n", {"1:2 error mark-on-rest"}, "{fermata}, {breath} and {breath?}"},
        Case{"・{pre 六} |\n", {"1:2 error mark-on-rest"}, "a rest takes no `{pre}`"},
        Case{"五 {accent} |\n", {"1:3 error free-mark"}, "write `五{accent}`"},
        Case{"{accent}五 |\n", {"1:1 error free-mark"}, "write `五{accent}`"},
        Case{"(五 六){accent} |\n", {"1:6 error free-mark"}, "stands free"},
        Case{"五 六 七 - | %{accent} |\n", {"1:12 error same-bar-place"}, "write the bar out"},
        Case{"五 -~ 六 |\n", {"1:4 error slur-place"}, "before its holds"},
        Case{"・~ 六 |\n", {"1:2 error slur-place"}, "no sign"},
        Case{"五 ~ 六 |\n", {"1:3 error slur-place"}, "directly after the sign"},
        Case{"(五 六)~ 七 |\n", {"1:6 error slur-place"}, "directly after the sign"},
        Case{"五 六~ - |\n", {"1:3 error no-next-note"}, "no note follows to slur to"},
        Case{"五 六{suri} |\n", {"1:3 error no-next-note"}, "no note follows to slide to"}));

INSTANTIATE_TEST_SUITE_P(
    Directions, FaultOfText,
    testing::Values(
        Case{"五{rit} 六 |\n", {"1:2 error glued-direction"}, "put a space before it"},
        Case{"五 {rit}六 |\n", {"1:3 error glued-direction"}, "put a space after it"},
        Case{"五 {rot} 六 |\n", {"1:3 error unknown-direction"}, "did you mean `{rit}`?"},
        Case{"五 {} 六 |\n", {"1:3 error unknown-direction"}, "empty"},
        Case{"{1} 五 - - - :|\n", {"1:1 error unknown-direction"}, "an ending is `{ending 1}`"},
        Case{
            "五 {remember this} |\n", {"1:3 error unknown-direction"}, "a comment begins with `#`"},
        Case{"五 {rit 六 |\n", {"1:3 error unclosed-brace"}, "add `}`"},
        Case{"五 {text \"slow} 六 |\n", {"1:3 error unclosed-brace"}, "quote"},
        Case{"五 {rit\n} 六 |\n", {"1:3 error unclosed-brace", "2:1 error unopened-brace"}, "add"},
        Case{"五 {segno} 六 |\n", {"1:3 error direction-place"}, "at the start of a bar only"},
        Case{"五 {meter 3/4} 六 |\n", {"1:3 error direction-place"}, "behind a bar sign"},
        Case{"五 {section \"A\"} |\n", {"1:3 error direction-place"}, "at the start"},
        Case{"{fine} 五 |\n", {"1:1 error direction-place"}, "at the end of a bar only"},
        Case{"五 {fine} 六 |\n", {"1:3 error direction-place"}, "before the bar sign"},
        Case{"({segno} 五 六) |\n", {"1:2 error direction-place"}, "at the start"},
        Case{"五 |= {segno}\n", {"1:6 error direction-place"}, "nothing after it"},
        Case{"五 {beat 1/8} |\n", {"1:3 error direction-place"}, "nothing after it"},
        Case{"五 {tempo 60} {tempo 90} 六 |\n", {"1:14 error direction-twice"}, "keep one"},
        Case{"{beat 1/8} {beat 1/2} 五 |\n", {"1:12 error direction-twice"}, "`{beat}`"},
        Case{"五 - - - {beat 1/8} | {beat 1/2} 六 - - - - - - - |\n",
             {"1:22 error direction-twice"},
             "`{beat}`"},
        Case{"五 {tempo fast} |\n", {"1:3 error bad-direction-value"}, "`{tempo 96}`"},
        Case{"五 {tempo 1/4.=92} |\n", {"1:3 error bad-direction-value"}, "`{tempo 3/8=92}`"},
        Case{"五 {tempo ♩=92} |\n", {"1:3 error bad-direction-value"}, "`{tempo 1/4=92}`"},
        Case{"五 {tempo 1/4.=x} |\n", {"1:3 error bad-direction-value"}, "`{tempo 96}`"},
        Case{"五 {tempo} |\n", {"1:3 error bad-direction-value"}, "needs a value"},
        Case{"五 {rit 3} |\n", {"1:3 error bad-direction-value"}, "takes no value"},
        Case{"{irregular 3} 五 |\n", {"1:1 error bad-direction-value"}, "takes no value"},
        Case{"{meter 4/5} 五 |\n", {"1:1 error bad-direction-value"}, "{meter 3/4}"},
        Case{"{beat 0} 五 |\n", {"1:1 error bad-direction-value"}, "part of a whole note"},
        Case{"{beat 3/8} 五 |\n", {"1:1 error beat-meter"}, "does not divide"},
        Case{"{key H} 五 |\n", {"1:1 error bad-direction-value"}, "{key F# minor}"},
        Case{"{section A} 五 |\n", {"1:1 error bad-direction-value"}, "in quotes"},
        Case{"{text \"a\" b} 五 |\n", {"1:1 error bad-direction-value"}, "in quotes"},
        Case{"{ending 0} 五 :|\n", {"1:1 error bad-direction-value"}, "{ending end}"},
        Case{"{ending 3,1} 五 :|\n", {"1:1 error bad-direction-value"}, "{ending 1,3}"},
        Case{"{flute 14} 五 |\n", {"1:1 error unknown-flute"}, "no flute `14`"},
        Case{"{flute A} 五 |\n", {"1:1 error unknown-flute"}, "一 is A on size 5"},
        Case{"{dyn fm} 五 |\n", {"1:1 warning unknown-dynamic"}, "kept as text"},
        Case{"tempo: 90\n{tempo 60} 五 |\n", {"2:1 warning start-conflict"}, "header's `tempo:`"},
        Case{"meter: 3/4\n{meter 4/4} 五 |\n", {"2:1 warning start-conflict"}, "`meter:`"},
        Case{"beat: 1/8\n{meter 4/4} 五 |\n", {"2:1 warning start-conflict"}, "`beat:`"},
        Case{"key: C\n{key D} 五 |\n", {"2:1 warning start-conflict"}, "`key:`"},
        Case{"flute: 6\n{flute 7} 五 |\n", {"2:1 warning start-conflict"}, "`flute:`"}));

INSTANTIATE_TEST_SUITE_P(
    Time, FaultOfText,
    testing::Values(
        Case{"- 五 |\n", {"1:1 error hold-without-note"}, "the score begins here"},
        Case{"五 ・ - - |\n", {"1:5 error hold-without-note"}, "write `・` for each beat"},
        Case{"五 - - - | {flute 7} - 五 - - |\n", {"1:21 error hold-without-note"}, "new flute"},
        Case{"五 - - - | {flute 7} (- 六) 五 - - |\n", {"1:22 error hold-without-note"}, "flute"},
        Case{"五 ・ | ・ - - - | - - - -|\n",
             {"1:9 error hold-without-note"},
             "stands after a rest"},
        Case{"() 五 |\n", {"1:1 error group-size"}, "no word"},
        Case{"(五) 六 |\n", {"1:1 error group-size"}, "without brackets"},
        Case{"(五):2 六 |\n", {"1:1 error group-size"}, "hold it with `-`"},
        Case{"({rit} 五) 六 |\n", {"1:1 error group-size"}, "one word only"},
        Case{"(五 六 | 七 - - - |\n", {"1:1 error unclosed-group"}, "add `)`"},
        Case{"(五 (六 七\n", {"1:1 error unclosed-group"}, "not closed in its bar"},
        Case{"五 六) |\n", {"1:4 error unopened-group"}, "open the group"},
        Case{"(五 六):1 |\n", {"1:5 error bad-group-length"}, "`:1` is no length"},
        Case{"(五 六):0 |\n", {"1:5 error bad-group-length"}, "from 2 to"},
        Case{"(五 六):3/2 |\n", {"1:5 error bad-group-length"}, "a fraction such as `:1/2`"},
        Case{"(五 六):1/ |\n", {"1:5 error bad-group-length"}, "`:1/` is no length"},
        Case{"(五 六):99999999999999 |\n", {"1:5 error bad-group-length"}, "no length"},
        Case{"五 六 七 六 | 五 六 七 | 五 - - - |\n",
             {"1:11 error bar-length"},
             "bar 2 has 3 words of 1/4; 4/4 has 4"},
        Case{"五 六 七 六 5 |\n", {"1:1 error bar-length"}, "bar 1 has 5 words"},
        Case{"五 六 七 六 | 五 六 七 (六):1/2 | 五 - - - |\n",
             {"1:11 error bar-length"},
             "bar 2 has 3 1/2 words"},
        Case{"1 (5):1/2 | 1 2 3 4 |\n", {"1:3 error fraction-place"}, "its first word"},
        Case{
            "1 2 3 4 | {irregular} (5):1/2 1 ||\n", {"1:23 error fraction-place"}, "its last word"},
        Case{"(1 (5):1/2) 2 |\n", {"1:4 error fraction-place"}, "inside a group"},
        Case{"(5):1/2 1 (5):1/2 |\n", {"1:11 error fraction-place"}, "a second"},
        Case{"{irregular} 五 六 七 六 |\n", {"1:1 note needless-irregular"}, "take it out"},
        Case{"% | 五 - - - |\n", {"1:1 error same-bar-place"}, "no bar before it"},
        Case{"五 六 七 六 | 五 % 六 七 |\n", {"1:13 error same-bar-place"}, "alone"},
        Case{"五 六 七 六 | (% 五) 六 七 |\n", {"1:12 error same-bar-place"}, "alone"},
        Case{"五 @ 七 六 5 | % | 五 六 七 六 |\n", {"1:3 error unknown-sign"}, "`@` is no sign"},
        Case{":| 五 |\n", {"1:1 error bar-sign-place"}, "no bar before it"},
        Case{"|= 五 |\n", {"1:1 error bar-sign-place"}, "`|=` at the start"},
        Case{"|: 五 :|x1\n", {"1:6 error bad-repeat-count"}, "`:|x3`"},
        Case{"|: 五 :|x100\n", {"1:6 error bad-repeat-count"}, "from 2 to 99"},
        Case{"|: 五 - - |: 六 :|\n", {"1:10 error nested-repeat"}, "from line 1 is still open"},
        Case{"五 || {ending end} 六 |=\n", {"1:6 error ending-place"}, "no ending is open"},
        Case{"{ending 1} 五 - - - | {ending 1} 六 - - - |=\n",
             {"1:22 error ending-place"},
             "open already"}));

INSTANTIATE_TEST_SUITE_P(
    Headers, FaultOfText,
    testing::Values(
        Case{"titel: Rain\n五 |\n", {"1:1 warning unknown-header"}, "did you mean `title`?"},
        Case{"Title: Rain\n五 |\n", {"1:1 warning unknown-header"}, "did you mean `title`?"},
        Case{"title: A\n\ntitle: B\n五 |\n", {"3:1 error duplicate-header"}, "first in line 1"},
        Case{"x-y: A\nx-y: B\n五 |\n",
             {"1:1 warning unknown-header", "2:1 error duplicate-header"},
             "is not known"},
        Case{"五 |\ntempo: 90\n", {"2:1 error late-header"}, "write `{tempo 90}`"},
        Case{"五 |\ntitle: X\n", {"2:1 error late-header"}, "move it above the music"},
        Case{"title:Rain\n五 |\n", {"1:1 error header-space"}, "write `title: Rain`"},
        Case{"meter: 4/5\n五 六 七 1 2 |\n", {"1:8 error bad-header-value"}, "`4/5` is no value"},
        Case{"meter:\n五 |\n", {"1:1 error bad-header-value"}, "needs a value"},
        Case{"beat: 1/0\n五 |\n", {"1:7 error bad-header-value"}, "`1/8` or `3/8`"},
        Case{"meter: 4/4\nbeat: 3/8\n五 |\n", {"2:7 error beat-meter"}, "does not divide"},
        Case{"beat: 1/9223372036854775807\n五 |\n", {"1:7 error bad-header-value"}, "`1/8`"},
        Case{"beat: 9223372036854775807/9223372036854775806\n五 |\n",
             {"1:7 error bad-header-value"},
             "`1/8`"},
        Case{"tempo: 9223372036854775807/9223372036854775806=60\n五 |\n",
             {"1:8 error bad-header-value"},
             "`1/8=180`"},
        Case{"tempo: 9223372036854775807/9223372036854775806.=60\n五 |\n",
             {"1:8 error bad-header-value"},
             "`1/8=180`"},
        Case{"tempo: fast\n五 |\n", {"1:8 error bad-header-value"}, "`1/8=180`"},
        Case{"tempo: 0\n五 |\n", {"1:8 error bad-header-value"}, "up to 1000"},
        Case{"tuning: 442Hz\n五 |\n", {"1:9 error bad-header-value"}, "such as `442`"},
        Case{"tuning: nan\n五 |\n", {"1:9 error bad-header-value"}, "such as `442`"},
        Case{"tuning: 44\n五 |\n", {"1:9 error bad-header-value"}, "from 300 to 600"},
        Case{"key: H\n五 |\n", {"1:6 error bad-header-value"}, "`F# minor`"},
        Case{"staff: up\n五 |\n", {"1:8 error bad-header-value"}, "`in-c` or `sounding`"},
        Case{"zero: 0\n五 |\n", {"1:7 error bad-header-value"}, "`cross` or `tube`"},
        Case{"flute: 14\n五 |\n", {"1:8 error unknown-flute"}, "sizes are 1 to 13"},
        Case{"flute: 7.3\n五 |\n", {"1:8 error unknown-flute"}, "the halves between them"},
        Case{"flute: silver\n五 |\n", {"1:8 error unknown-flute"}, ".json"}));

INSTANTIATE_TEST_SUITE_P(
    Songs, FaultOfText,
    testing::Values(
        Case{"> ka\n五 |\n", {"1:1 error song-without-music"}, "under its music"},
        Case{"五 六 |\n>ka ze\n", {"2:1 error unknown-verse"}, "`>` and a space"},
        Case{"五 六 |\n>0 ka ze\n", {"2:1 error unknown-verse"}, "`>0` is no verse"},
        Case{"五 六 |\n>100 ka ze\n", {"2:1 error unknown-verse"}, "`>99`"},
        Case{"五 六 |\n> ka ze\n> a me\n", {"3:1 error verse-twice"}, "such as `>2`"},
        Case{"五 六 |\n> ka ze ga\n", {"2:9 error verse-too-long"}, "more words than"},
        Case{"五 六 七 - | 1 - - - |\n> ka ze ga ya | ma\n",
             {"2:12 error verse-too-long"},
             "than this bar has"},
        Case{"五 - - - | 1 - - - |\n> ka ze ga | ma mi mu\n",
             {"2:6 error verse-too-long", "2:17 error verse-too-long"},
             "than this bar has"},
        Case{"五 六 七 |\n> ka ze\n", {"2:1 warning verse-too-short"}, "1 note without a word"},
        Case{"五 六 七 - | 1 - - - |\n> ka | ma\n",
             {"2:6 warning verse-too-short"},
             "2 notes without a word"},
        Case{"五 六 七 - | 1 2 - - |\n> ka ze ga | ma\n",
             {"2:12 warning verse-too-short"},
             "1 note without a word"},
        Case{"五 六 七 - |\n> やまちゃ\n",
             {"2:1 warning verse-too-short"},
             "a space parts the syllables: `や ま ちゃ`"},
        Case{"五 六 七 - |\n> やま\n", {"2:1 warning verse-too-short"}, "`/` skips a note"},
        Case{"五 六 |\n> ka ze\n> 2 a me\n", {"3:1 error verse-twice"}, "`>2` without a space"},
        Case{"五 六 |\n> ka -\n", {"2:6 error bad-syllable"}, "`~`"},
        Case{"五 六 |\n> ~ ka\n", {"2:3 error bad-syllable"}, "`/` to skip"},
        Case{"五 六 |\n> ka ze\\\n", {"2:8 error bad-syllable"}, "backslash"}));

TEST(Recovery, FaultsInSixBarsAreSixErrors) {
  const Reading reading = read(
      "五五 六 七 - | 五 六 七 | (五 六 七 - - | ・ - - - | 五{acent} 六 七 -\n"
      "| 三メ20 - - - |=\n"
      "> ka ze\n");
  EXPECT_THAT(reading.findings(),
              ElementsAre("1:1 error two-signs", "1:12 error bar-length",
                          "1:20 error unclosed-group", "1:35 error hold-without-note",
                          "1:44 error unknown-mark", "2:3 error half-hole-number"));
}

TEST(Recovery, ABadMeterMakesNoNoiseInTheBarsBehind) {
  EXPECT_THAT(read("meter: 4/5\n五 六 七 1 2 | 3 |\n> a b\n").findings(),
              ElementsAre("1:8 error bad-header-value", "3:1 warning verse-too-short"));
  EXPECT_THAT(read("五 六 七 1 | {meter x} 2 | 3 | {meter 2/4} 1 2 3 |\n").findings(),
              ElementsAre("1:11 error bad-direction-value", "1:29 error bar-length"));
}

TEST(Recovery, FindingsNameTheirMeasure) {
  const Reading reading = read("五 六 | 五 六 七 1 | 五 @ 七 1 |\n");
  ASSERT_EQ(reading.outcome.diagnostics.size(), 1u);
  EXPECT_THAT(reading.outcome.diagnostics[0].measures, ElementsAre("2"));
}

TEST(Recovery, TheScoreIsGivenBesideTheErrors) {
  const Reading reading = read("五 @ 七 - | 1 2 3 4 |\n");
  EXPECT_FALSE(reading.outcome.ok());
  EXPECT_THAT(notes(reading),
              ElementsAre("0 0+1 五", "0 2+2 七", "1 0+1 1", "1 1+1 2", "1 2+1 3", "1 3+1 4"));
}

}  // namespace
}  // namespace yubifu::notation
