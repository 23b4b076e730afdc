#include "support/score_generator.h"

#include <algorithm>
#include <array>
#include <utility>

#include "model/words.h"
#include "support/dice.h"
#include "support/generated_form.h"
#include "support/generated_rhythm.h"
#include "support/generated_texts.h"

namespace yubifu::support {

using model::Fingering;
using model::HalfHole;
using model::Mark;
using model::Note;
using model::Rational;
using model::Register;
using model::Score;
using model::Tone;

namespace {

// Which numbers of the low and the second register may be half-holed (the built-in table).
const std::vector<int> kUnder{2, 3, 5, 6, 7};
const std::vector<int> kOver{1, 2, 4, 5, 6};

class Generator {
 public:
  Generator(std::mt19937_64& random, const GeneratorOptions& options)
      : dice_(random), options_(options) {}

  Score run() {
    add_form(score_, dice_, options_);
    add_header(score_, dice_, options_);
    add_starts();
    for (std::size_t i = 0; i < score_.measures.size(); ++i) fill(i);
    for (Note& note : score_.notes) decorate(note);
    if (options_.song_text && !score_.notes.empty()) add_song_text(score_, dice_);
    if (options_.comments) add_layout(score_, dice_);
    std::stable_sort(score_.directions.begin(), score_.directions.end(),
                     [](const model::Direction& a, const model::Direction& b) {
                       return std::pair(a.measure, a.onset) < std::pair(b.measure, b.onset);
                     });
    model::number_measures(score_);
    return std::move(score_);
  }

 private:
  void add(std::size_t measure, Rational onset, model::DirectionValue value) {
    score_.directions.push_back({measure, onset, std::move(value), {}});
  }

  // What stands only at the start of a measure.
  void add_starts() {
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      if (options_.flute_changes && i > 0 && dice_.percent(4)) {
        add(i, 0, model::FluteChange{random_flute(dice_, options_)});
        flute_changes_.push_back(i);
      }
      if (options_.directions && dice_.percent(5)) {
        add(i, 0, model::SectionStart{random_line(dice_)});
      }
    }
  }

  // Notes, holds, rests and directions of one measure.
  void fill(std::size_t measure) {
    const std::vector<Rational> onsets = random_onsets(score_, measure, dice_, options_);
    const Rational length = score_.measures[measure].length;
    for (std::size_t i = 0; i < onsets.size(); ++i) {
      const Rational end = i + 1 < onsets.size() ? onsets[i + 1] : length;
      word(measure, onsets[i], end - onsets[i]);
      random_direction(measure, onsets[i]);
    }
    if (dice_.percent(15)) random_direction(measure, length);
  }

  void word(std::size_t measure, Rational onset, Rational duration) {
    if (sounding_ && dice_.percent(22) && may_hold(measure, onset)) {
      score_.notes.back().duration += duration;
      return;
    }
    sounding_ = !options_.rests || !dice_.percent(12);
    if (sounding_) {
      Note note;
      note.measure = measure;
      note.onset = onset;
      note.duration = duration;
      score_.notes.push_back(std::move(note));
    } else if (options_.marks && dice_.percent(15)) {
      static const std::vector<Mark> kMarks{Mark::fermata, Mark::breath, Mark::optional_breath};
      score_.rests.push_back({measure, onset, {dice_.pick(kMarks)}, {}});
      if (score_.rests.back().marks[0] == Mark::fermata && dice_.percent(20)) {
        score_.rests.back().marks.push_back(Mark::breath);
      }
    }
  }

  bool may_hold(std::size_t measure, Rational onset) {
    if (onset != Rational(0)) return true;
    const auto& changes = flute_changes_;
    if (std::find(changes.begin(), changes.end(), measure) != changes.end()) return false;
    if (!options_.ties_over_bars) return false;
    return !follows_a_seam(score_, measure) || (options_.ties_over_repeats && dice_.percent(40));
  }

  void random_direction(std::size_t measure, Rational onset) {
    const bool very_start = measure == 0 && onset == Rational(0);
    if (options_.tempos && !very_start && dice_.percent(2)) {
      add(measure, onset, model::TempoChange{random_tempo(dice_, felt_beat(measure, onset))});
    }
    if (options_.key_changes && !very_start && dice_.percent(1)) {
      add(measure, onset, model::KeyChange{random_key(dice_)});
    }
    if (!options_.directions) return;
    if (dice_.percent(2)) {
      static const std::vector<std::string> kLevels{"pp", "p", "mp", "mf", "f", "ff", "sfz"};
      add(measure, onset, model::Dynamic{dice_.pick(kLevels)});
    }
    if (dice_.percent(2)) add(measure, onset, model::TextDirection{random_line(dice_)});
    if (dice_.percent(3)) {
      using model::Cue;
      add(measure, onset,
          dice_.pick(std::vector<Cue>{Cue::rit, Cue::accel, Cue::a_tempo, Cue::caesura}));
    }
  }

  Rational felt_beat(std::size_t measure, Rational onset) const {
    Rational beat = score_.measures[measure].beat;
    for (const model::Direction& direction : score_.directions) {
      const auto* change = std::get_if<model::BeatChange>(&direction.value);
      const bool in_force = direction.measure == measure && direction.onset <= onset;
      if (change != nullptr && in_force) beat = change->beat;
    }
    return model::felt_beat(score_.measures[measure].meter, beat);
  }

  void decorate(Note& note) {
    const bool last = &note == &score_.notes.back();
    note.tone = tone();
    if (options_.asked_holes && dice_.percent(3)) note.asked_holes = holes();
    if (options_.marks) marks(note, last);
    if (options_.grace_notes && dice_.percent(4)) note.grace_before = grace();
    if (options_.grace_notes && dice_.percent(4)) note.grace_after = grace();
    note.slur_to_next = options_.slurs && !last && dice_.percent(8);
  }

  void marks(Note& note, bool last) {
    for (int i = 0; !model::word_of(static_cast<Mark>(i)).empty(); ++i) {
      const auto mark = static_cast<Mark>(i);
      if (mark == Mark::suri && last) continue;
      if (mark == Mark::optional_breath && note.has(Mark::breath)) continue;
      if (dice_.percent(2)) note.marks.push_back(mark);
    }
  }

  std::vector<Tone> grace() {
    std::vector<Tone> tones(1 + dice_.below(3));
    for (Tone& one : tones) one = tone();
    return tones;
  }

  model::HolePattern holes() {
    model::HolePattern pattern;
    for (int i = 0; i < 7; ++i) {
      pattern.holes.push_back(static_cast<model::Hole>(dice_.between(0, 3)));
    }
    return pattern;
  }

  Tone tone() {
    Tone result;
    result.fingering = Fingering{};
    if (options_.gaps && dice_.percent(3)) {
      const int key = dice_.between(options_.lowest_gap_key, options_.highest_gap_key);
      result.spelling = model::spell_in_key(key, {dice_.between(-3, 3), model::Mode::major});
    } else if (options_.own_signs && dice_.percent(5)) {
      result.fingering->sign =
          model::Sign(dice_.pick(std::vector<std::string>{"甲", "乙", "ハ", "z", "9"}));
    } else {
      *result.fingering = standard();
    }
    if (options_.bends && dice_.percent(6)) {
      const int cents = dice_.between(
          1, dice_.percent(80) ? std::min(30, options_.most_bend_cents) : options_.most_bend_cents);
      result.fingering->bend_cents = dice_.percent(50) ? cents : -cents;
    }
    return result;
  }

  Fingering standard() {
    Fingering result;
    const Register in = dice_.pick(options_.registers);
    const bool no_zero = score_.header.zero == model::ZeroSign::tube;
    int number = 0;
    if (in == Register::low) number = dice_.between(1, 7);
    if (in == Register::second) number = dice_.between(no_zero ? 1 : 0, 7);
    if (in == Register::third) number = dice_.between(1, options_.only_built_in_signs ? 5 : 7);
    const bool halves = in == Register::low || in == Register::second;
    if (halves && options_.half_holes && dice_.percent(15)) {
      const bool over = options_.over_half_holes && dice_.percent(30);
      number = dice_.pick(over ? kOver : kUnder);
      result.half = over ? HalfHole::over : HalfHole::under;
    }
    result.sign = model::Sign::standard(in, number);
    return result;
  }

  Dice dice_;
  const GeneratorOptions& options_;
  Score score_;
  std::vector<std::size_t> flute_changes_;
  bool sounding_ = false;  // a note lasts up to here
};

}  // namespace

Score random_score(std::mt19937_64& random, const GeneratorOptions& options) {
  return Generator(random, options).run();
}

Score random_score(std::uint64_t seed, const GeneratorOptions& options) {
  std::mt19937_64 random(seed);
  return random_score(random, options);
}

}  // namespace yubifu::support
