#include "check/playing_checks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/message.h"
#include "check/rules.h"
#include "fingering/tones.h"
#include "flute/hearing.h"
#include "model/score.h"

namespace yubifu::check {
namespace {

using base::message;
using fingering::TimedTone;
using model::Note;
using model::Score;

// A leap of at least so many cents needs at least so many seconds from note to note: the breath
// has to change at once. Our choice.
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
  base::Diagnostic found = base::report(rule, note.source, std::move(text), std::move(hint));
  found.measures.push_back(score.measures[note.measure].number);
  return found;
}

class PlayingChecks {
 public:
  explicit PlayingChecks(const fingering::Resolved& resolved)
      : resolved_(resolved),
        score_(resolved.score),
        tones_(fingering::timed_tones(resolved.score)) {}

  base::Diagnostics run(fingering::Origin origin) {
    third_register();
    fast_leaps();
    long_breath();
    if (origin == fingering::Origin::fingers) doubtful_numbers();
    return std::move(found_);
  }

 private:
  const flute::Flute& flute_at(std::size_t measure) const {
    return *resolved_.flutes[model::flute_index(score_, measure)];
  }

  const model::Tone& tone(const TimedTone& timed) const {
    return fingering::tone_at(score_, timed.place);
  }

  const Note& note_of(const TimedTone& timed) const { return score_.notes[timed.place.note]; }

  void third_register() {
    std::optional<base::Diagnostic> caution;
    std::size_t count = 0;
    for (const TimedTone& timed : tones_) {
      const model::Tone& here = tone(timed);
      if (!here.fingering || here.fingering->is_gap()) continue;
      const Note& note = note_of(timed);
      const flute::Flute& flute = flute_at(note.measure);
      if (!flute::is_loud(flute, *here.fingering)) continue;
      ++count;
      const std::string& number = score_.measures[note.measure].number;
      if (!caution) {
        caution = at_note(rule::third_register, score_, note, {}, flute::hearing_caution());
      } else if (caution->measures.back() != number) {
        caution->measures.push_back(number);
      }
    }
    if (!caution) return;
    caution->message = count == 1 ? message("one note is loud next to the ear")
                                  : message("{} notes are loud next to the ear", count);
    found_.push_back(*std::move(caution));
  }

  void fast_leaps() {
    for (std::size_t i = 1; i < tones_.size(); ++i) {
      const model::Tone& from = tone(tones_[i - 1]);
      const model::Tone& to = tone(tones_[i]);
      if (!from.pitch || !to.pitch) continue;
      const double leap = std::abs(to.pitch->total_cents() - from.pitch->total_cents());
      const double seconds = tones_[i].seconds_into;
      const bool hard = std::any_of(kLeapTimes.begin(), kLeapTimes.end(), [&](const LeapTime& row) {
        return std::round(leap) >= row.cents && seconds < row.seconds;
      });
      if (!hard) continue;
      found_.push_back(at_note(
          rule::fast_leap, score_, note_of(tones_[i]),
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

  // Onsets of caesuras, in quarters from the start, in order.
  std::vector<double> caesuras(const std::vector<double>& starts) const {
    std::vector<double> places;
    for (const model::Direction& direction : score_.directions) {
      const auto* cue = std::get_if<model::Cue>(&direction.value);
      if (cue != nullptr && *cue == model::Cue::caesura) {
        places.push_back(starts[direction.measure] + direction.onset.as_double());
      }
    }
    return places;
  }

  // A phrase ends at a double bar, at a repeat sign and where an ending begins or a section opens.
  std::vector<bool> phrase_starts() const {
    std::vector<bool> starts(score_.measures.size(), false);
    for (std::size_t i = 1; i < starts.size(); ++i) {
      const model::Measure& before = score_.measures[i - 1];
      starts[i] = before.right != model::BarStyle::regular || before.repeat_end ||
                  score_.measures[i].repeat_start || ending_starts(score_, i) ||
                  score_.measures[i].break_before == model::LineBreak::blank_line;
    }
    for (const model::Direction& direction : score_.directions) {
      if (std::holds_alternative<model::SectionStart>(direction.value)) {
        starts[direction.measure] = true;
      }
    }
    return starts;
  }

  // Seconds that each note itself sounds, without its grace notes.
  std::vector<double> note_seconds() const {
    std::vector<double> seconds(score_.notes.size(), 0);
    for (const TimedTone& timed : tones_) {
      if (timed.place.role == fingering::ToneRole::main) seconds[timed.place.note] = timed.seconds;
    }
    return seconds;
  }

  // Whether the player can breathe before a note: after a rest, a breath mark, a caesura or a held
  // fermata; where a phrase ends; and after any note long enough to give the breath, if it is not
  // slurred to the next.
  std::vector<bool> breaths_before() const {
    using model::Mark;
    constexpr double kShortestRest = 1e-6;  // in quarters; below it the sums are not exact
    const std::vector<double> starts = model::measure_starts(score_);
    const std::vector<double> pauses = caesuras(starts);
    const std::vector<bool> phrases = phrase_starts();
    const std::vector<double> seconds = note_seconds();
    std::vector<bool> breaths(score_.notes.size(), true);
    std::size_t pause = 0;
    double end = 0;
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      const Note& note = score_.notes[i];
      const double start = starts[note.measure] + note.onset.as_double();
      const bool rested = start - end > kShortestRest;
      bool paused = false;
      for (; pause < pauses.size() && pauses[pause] <= start + kShortestRest; ++pause) {
        paused = true;
      }
      end = start + note.duration.as_double();
      if (i == 0) continue;
      const Note& before = score_.notes[i - 1];
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
    std::size_t started = score_.notes.size();  // the note whose first tone has come
    struct Stretch {
      std::size_t first = 0;
      std::size_t last = 0;
      double seconds = 0;
    } longest;
    for (const TimedTone& timed : tones_) {
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
    const std::string& from = score_.measures[score_.notes[longest.first].measure].number;
    const std::string& to = score_.measures[score_.notes[longest.last].measure].number;
    found_.push_back(at_note(rule::long_breath, score_, score_.notes[longest.first],
                             message("{} seconds from bar {} to bar {} leave no moment to breathe",
                                     std::lround(longest.seconds), from, to),
                             message("mark where the player breathes: `六{{breath}}`")));
  }

  // The standard sign of a note, half-holed ones aside.
  std::optional<model::SignPlace> plain_place(std::size_t index) const {
    const auto& fingering = score_.notes[index].tone.fingering;
    if (!fingering || !fingering->sign || fingering->half != model::HalfHole::none) {
      return std::nullopt;
    }
    return standard_place(*fingering->sign);
  }

  void doubtful_numbers() {
    constexpr model::SignPlace kEight{model::Register::third, 1};
    constexpr model::SignPlace kZero{model::Register::second, 0};
    bool other_high_notes = false;
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      const auto place = plain_place(i);
      if (place && place->in == model::Register::third && *place != kEight) other_high_notes = true;
    }
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      const auto place = plain_place(i);
      if (place == kEight && !other_high_notes) lone_eight(i);
      if (place == kZero) zero_or_tube(i);
    }
  }

  void lone_eight(std::size_t index) {
    if (index == 0 || index + 1 == score_.notes.size()) return;
    constexpr model::SignPlace kSeven{model::Register::second, 7};
    constexpr model::SignPlace kTwo{model::Register::second, 2};
    const auto before = plain_place(index - 1);
    const auto after = plain_place(index + 1);
    if (before == kSeven && after == kTwo) {
      found_.push_back(at_note(rule::lone_eight, score_, score_.notes[index],
                               message("8 leads from 7 down to 2, and nothing else lies so high"),
                               message("did you mean `七 1 2`, or 2̇ instead of 2?")));
    } else if (before == kTwo && after == kSeven) {
      found_.push_back(at_note(rule::lone_eight, score_, score_.notes[index],
                               message("8 leads from 2 up and to 7, and nothing else lies so high"),
                               message("did you mean `2 1 七`, or 2̇ instead of 2?")));
    }
  }

  void zero_or_tube(std::size_t index) {
    const Note& note = score_.notes[index];
    const flute::Flute& flute = flute_at(note.measure);
    const auto tube = flute.total_cents(
        model::Fingering{model::Sign::standard(model::Register::tube, 0), {}, {}});
    if (!tube || !note.tone.pitch) return;
    const auto fits_tube = [&](std::size_t neighbour) {
      const auto& pitch = score_.notes[neighbour].tone.pitch;
      if (!pitch) return false;
      const double there = pitch->total_cents();
      return std::abs(there - *tube) < std::abs(there - note.tone.pitch->total_cents());
    };
    const bool has_before = index > 0;
    const bool has_after = index + 1 < score_.notes.size();
    if (!has_before && !has_after) return;
    if (has_before && !fits_tube(index - 1)) return;
    if (has_after && !fits_tube(index + 1)) return;
    found_.push_back(at_note(
        rule::zero_or_tube, score_, note,
        message("0 is the cross-fingering under 1, far above the notes around it"),
        message("did you mean 筒? Where all 0 are the tube tone, put `zero: tube` in the header")));
  }

  const fingering::Resolved& resolved_;
  const Score& score_;
  std::vector<TimedTone> tones_;
  base::Diagnostics found_;
};

}  // namespace

base::Diagnostics check_playing(const fingering::Resolved& resolved, fingering::Origin origin) {
  return PlayingChecks(resolved).run(origin);
}

}  // namespace yubifu::check
