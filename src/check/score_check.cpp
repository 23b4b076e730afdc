// What can be doubted about a score, whatever format it came from.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/findings.h"
#include "base/message.h"
#include "check/rules.h"
#include "fingering/tones.h"
#include "flute/flute.h"
#include "model/play_out.h"
#include "model/score.h"

namespace yubifu::check {
namespace {

using base::message;
using fingering::TimedTone;
using model::Measure;
using model::Note;
using model::Score;

// So wide a leap needs at least this time, as the breath has to change at once. Our choice.
struct LeapTime {
  double cents;
  double seconds;
};
constexpr std::array<LeapTime, 2> kLeapTimes{{{1900, 0.35}, {1200, 0.20}}};

// How long most players blow at an easy tempo without strain. Our choice.
constexpr double kLongBreathSeconds = 12;

// A quick breath takes about a third of a second. A note of this length can give it and still be
// heard to end; a shorter one cannot, unless a phrase ends with it. Our choice.
constexpr double kGivesBreathSeconds = 0.75;

base::Diagnostic at_note(const base::Rule& rule, const Score& score, const Note& note,
                         std::string text, std::string hint) {
  return base::report(rule, note.source, std::move(text), std::move(hint),
                      {score.measures[note.measure].number});
}

struct PlayingChecks {
  const fingering::Resolved& resolved;
  const Score& score = resolved.score;
  std::vector<TimedTone> tones = fingering::timed_tones(score);
  base::Diagnostics found = {};

  base::Diagnostics run(fingering::Origin origin) {
    third_register();
    fast_leaps();
    long_breath();
    if (origin == fingering::Origin::fingers) doubtful_numbers();
    return std::move(found);
  }

  const flute::Flute& flute_at(std::size_t measure) const {
    return *resolved.flutes[model::flute_index(score, measure)];
  }

  const model::Tone& tone(const TimedTone& timed) const {
    return fingering::tone_at(score, timed.place);
  }

  const Note& note_of(const TimedTone& timed) const { return score.notes[timed.place.note]; }

  void third_register() {
    base::Finding caution;
    for (const TimedTone& timed : tones) {
      const model::Tone& here = tone(timed);
      if (!here.fingering || here.fingering->is_gap()) continue;
      const Note& note = note_of(timed);
      const flute::Flute& flute = flute_at(note.measure);
      if (!flute::is_loud(flute, *here.fingering)) continue;
      caution.add(note.measure,
                  base::report(rule::third_register, note.source, {}, flute::hearing_caution()));
    }
    base::tell(found, std::move(caution), model::BarNumbers{score}, [](const base::Finding& f) {
      return f.count == 1 ? message("one note is loud next to the ear")
                          : message("{} notes are loud next to the ear", f.count);
    });
  }

  void fast_leaps() {
    for (std::size_t i = 1; i < tones.size(); ++i) {
      const model::Tone& from = tone(tones[i - 1]);
      const model::Tone& to = tone(tones[i]);
      if (!from.pitch || !to.pitch) continue;
      const double leap = std::abs(to.pitch->total_cents() - from.pitch->total_cents());
      const double seconds = tones[i].seconds_into;
      const bool hard = std::any_of(kLeapTimes.begin(), kLeapTimes.end(), [&](const LeapTime& row) {
        return std::round(leap) >= row.cents && seconds < row.seconds;
      });
      if (!hard) continue;
      found.push_back(at_note(
          rule::fast_leap, score, note_of(tones[i]),
          message("{} semitones from {} to {} in {:.2f} seconds are a leap that few can play",
                  std::lround(leap / 100), text_of(from), text_of(to), seconds),
          message(
              "slow the tempo or choose another octave; `# allow fast-leap: REASON` keeps it")));
    }
  }

  static std::string text_of(const model::Tone& tone) {
    if (tone.fingering && !tone.fingering->is_gap()) return printed(*tone.fingering);
    return tone.spelling ? to_text(*tone.spelling) : message("a gap");
  }

  // A phrase ends at a double bar, at a repeat sign and where an ending begins or a section opens.
  std::vector<bool> phrase_starts() const {
    std::vector<bool> starts(score.measures.size(), false);
    for (std::size_t i = 1; i < starts.size(); ++i) {
      const model::Measure& before = score.measures[i - 1];
      starts[i] = before.right != model::BarStyle::regular || before.repeat_end ||
                  score.measures[i].repeat_start || ending_starts(score, i) ||
                  score.measures[i].break_before == model::LineBreak::blank_line;
    }
    for (const model::Direction& direction : score.directions) {
      if (std::holds_alternative<model::SectionStart>(direction.value)) {
        starts[direction.measure] = true;
      }
    }
    return starts;
  }

  // Whether the player can breathe before a note: after a rest, a breath mark, a caesura; and
  // unless there is a slur, after a fermata, where a phrase ends, and after a note long enough.
  std::vector<bool> breaths_before() const {
    using model::Mark;
    constexpr double kShortestRest = 1e-6;  // in quarters; below it the sums are not exact
    const std::vector<double> starts = model::measure_starts(score);
    const std::vector<bool> phrases = phrase_starts();
    std::vector<double> seconds(score.notes.size(), 0);  // of each note without its grace notes
    for (const TimedTone& timed : tones) {
      if (timed.place.role == fingering::ToneRole::main) seconds[timed.place.note] = timed.seconds;
    }
    std::vector<bool> breaths(score.notes.size(), true);
    auto direction = score.directions.begin();
    double end = 0;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      const Note& note = score.notes[i];
      const double start = starts[note.measure] + note.onset.as_double();
      const bool rested = start - end > kShortestRest;
      bool paused = false;
      for (; direction != score.directions.end() &&
             starts[direction->measure] + direction->onset.as_double() <= start + kShortestRest;
           ++direction) {
        const auto* cue = std::get_if<model::Cue>(&direction->value);
        paused = paused || (cue != nullptr && *cue == model::Cue::caesura);
      }
      end = start + note.duration.as_double();
      if (i == 0) continue;
      const Note& before = score.notes[i - 1];
      const bool marked = before.has(Mark::breath) || before.has(Mark::optional_breath);
      const bool ends_phrase = note.onset == model::Rational(0) && phrases[note.measure];
      const bool gives =
          ends_phrase || before.has(Mark::fermata) || seconds[i - 1] >= kGivesBreathSeconds;
      breaths[i] = rested || paused || marked || (gives && !before.slur_to_next);
    }
    return breaths;
  }

  void long_breath() {
    const std::vector<bool> breaths = breaths_before();
    double begin = 0;
    double now = 0;
    std::size_t first = 0;
    std::size_t started = score.notes.size();  // the note whose first tone has come
    struct Stretch {
      std::size_t first = 0;
      std::size_t last = 0;
      double seconds = 0;
    } longest;
    for (const TimedTone& timed : tones) {
      now += timed.seconds_into;
      const std::size_t note = timed.place.note;
      if (note != started && breaths[note]) {
        first = note;
        begin = now;
      }
      started = note;
      const double seconds = now + timed.seconds - begin;
      if (seconds > longest.seconds) longest = {first, note, seconds};
    }
    if (longest.seconds <= kLongBreathSeconds) return;
    const std::string& from = score.measures[score.notes[longest.first].measure].number;
    const std::string& to = score.measures[score.notes[longest.last].measure].number;
    found.push_back(at_note(rule::long_breath, score, score.notes[longest.first],
                            message("{} seconds from bar {} to bar {} leave no moment to breathe",
                                    std::lround(longest.seconds), from, to),
                            message("mark where the player breathes: `六{{breath}}`")));
  }

  // The standard sign of a note, half-holed ones aside.
  std::optional<model::SignPlace> plain_place(std::size_t index) const {
    const auto& fingering = score.notes[index].tone.fingering;
    if (!fingering || !fingering->sign || fingering->half != model::HalfHole::none) {
      return std::nullopt;
    }
    return standard_place(*fingering->sign);
  }

  void doubtful_numbers() {
    constexpr model::SignPlace kEight{model::Register::third, 1};
    constexpr model::SignPlace kZero{model::Register::second, 0};
    bool other_high_notes = false;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      const auto place = plain_place(i);
      if (place && place->in == model::Register::third && *place != kEight) other_high_notes = true;
    }
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
      const auto place = plain_place(i);
      if (place == kEight && !other_high_notes) lone_eight(i);
      if (place == kZero) zero_or_tube(i);
    }
  }

  void lone_eight(std::size_t index) {
    if (index == 0 || index + 1 == score.notes.size()) return;
    constexpr model::SignPlace kSeven{model::Register::second, 7};
    constexpr model::SignPlace kTwo{model::Register::second, 2};
    const auto before = plain_place(index - 1);
    const auto after = plain_place(index + 1);
    const bool down = before == kSeven && after == kTwo;
    if (!down && (before != kTwo || after != kSeven)) return;
    found.push_back(
        at_note(rule::lone_eight, score, score.notes[index],
                down ? message("8 leads from 7 down to 2, and nothing else lies so high")
                     : message("8 leads from 2 up and to 7, and nothing else lies so high"),
                down ? message("did you mean `七 1 2`, or 2̇ instead of 2?")
                     : message("did you mean `2 1 七`, or 2̇ instead of 2?")));
  }

  void zero_or_tube(std::size_t index) {
    const Note& note = score.notes[index];
    const flute::Flute& flute = flute_at(note.measure);
    const auto tube = flute.total_cents(
        model::Fingering{model::Sign::standard(model::Register::tube, 0), {}, {}});
    if (!tube || !note.tone.pitch) return;
    const auto fits_tube = [&](std::size_t neighbour) {
      const auto& pitch = score.notes[neighbour].tone.pitch;
      if (!pitch) return false;
      const double there = pitch->total_cents();
      return std::abs(there - *tube) < std::abs(there - note.tone.pitch->total_cents());
    };
    const bool has_after = index + 1 < score.notes.size();
    if (index == 0 && !has_after) return;
    if (index > 0 && !fits_tube(index - 1)) return;
    if (has_after && !fits_tube(index + 1)) return;
    found.push_back(at_note(
        rule::zero_or_tube, score, note,
        message("0 is the cross-fingering under 1, far above the notes around it"),
        message("did you mean 筒? Where all 0 are the tube tone, put `zero: tube` in the header")));
  }
};

bool adds_up(const Measure& a, const Measure& b) {
  try {
    return a.length + b.length == a.meter.length();
  } catch (const model::TimeOverflow&) {
    return false;
  }
}

// The rest of a bar that ends a passage stands behind the sign, at the start of the passage or at
// that of the score; another ending is no rest of this one.
void check_short_bar(const Score& score, std::size_t end, std::size_t passage,
                     base::Diagnostics& found) {
  const Measure& here = score.measures[end];
  const Measure* partner = nullptr;
  for (const std::size_t candidate : {end + 1, passage, std::size_t{0}}) {
    if (candidate == end || candidate >= score.measures.size()) continue;
    if (candidate > end && ending_starts(score, candidate)) continue;
    const Measure& other = score.measures[candidate];
    if (!is_short(other)) continue;
    if (adds_up(here, other)) return;
    if (partner == nullptr) partner = &other;
  }
  if (partner == nullptr) return;
  found.push_back(model::report_measure(
      rule::short_bars, here,
      message("bar {} lasts {} of a whole note and bar {} {}: together not a bar of {}",
              partner->number, beat_text(partner->length), here.number, beat_text(here.length),
              to_text(here.meter)),
      message("lengthen or shorten one of them, if they are meant to make one bar")));
}

base::Diagnostics short_bars(const Score& score) {
  base::Diagnostics found;
  std::size_t passage = 0;
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    const Measure& here = score.measures[i];
    if (here.repeat_start) passage = i;
    const bool ends_passage = here.repeat_end || here.right != model::BarStyle::regular ||
                              i + 1 == score.measures.size() || ending_stops(score, i);
    if (!ends_passage) continue;
    if (is_short(here)) check_short_bar(score, i, passage, found);
    // Endings of one repeat lead back to the same start.
    if (here.ending.empty()) passage = i + 1;
  }
  return found;
}

std::string called(const std::string& verse) {
  return verse == model::kShogaVerse ? message("the shoga") : message("verse {}", verse);
}

void unfinished_syllables(const Score& score, const std::string& verse, base::Diagnostics& found) {
  const Note* open = nullptr;
  const auto report_open = [&] {
    if (open == nullptr) return;
    found.push_back(at_note(rule::syllable_unfinished, score, *open,
                            message("\"{}-\" in {} has no next syllable",
                                    open->syllable_of(verse)->text, called(verse)),
                            message("add the rest of the word, or take the hyphen out")));
  };
  for (const Note& note : score.notes) {
    const model::Syllable* syllable = note.syllable_of(verse);
    if (syllable == nullptr || syllable->extends) continue;
    if (!continues_word(syllable->kind)) report_open();
    open = word_goes_on(syllable->kind) ? &note : nullptr;
  }
  report_open();
}

void song_gaps(const Score& score, const std::string& verse, base::Diagnostics& found) {
  base::Finding gap;
  std::vector<const Note*> waiting;  // since the last syllable
  bool begun = false;
  bool slurred = false;
  for (const Note& note : score.notes) {
    const bool carried = std::exchange(slurred, note.slur_to_next);
    if (note.syllable_of(verse) == nullptr) {
      if (begun && !carried) waiting.push_back(&note);
      continue;
    }
    begun = true;
    for (const Note* empty : waiting) {
      gap.add(empty->measure, base::report(rule::song_gap, empty->source, {},
                                           message("extend the syllable before them, or slur the "
                                                   "notes it is sung to")));
    }
    waiting.clear();
  }
  base::tell(found, std::move(gap), model::BarNumbers{score}, [&](const base::Finding& f) {
    return f.count == 1 ? message("{} leaves a note without text", called(verse))
                        : message("{} leaves {} notes without text", called(verse), f.count);
  });
}

}  // namespace

base::Diagnostics check_score(const fingering::Resolved& resolved, fingering::Origin origin) {
  const Score& score = resolved.score;
  base::Diagnostics found = short_bars(score);
  base::append(found, model::played_order(score).diagnostics);
  base::append(found, PlayingChecks{resolved}.run(origin));
  for (const std::string& verse : score.verses) {
    unfinished_syllables(score, verse, found);
    if (origin == fingering::Origin::staff) song_gaps(score, verse, found);
  }
  return found;
}

}  // namespace yubifu::check
