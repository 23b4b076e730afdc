#include "model/invariants.h"

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"

namespace yubifu::model {
namespace {

class Check {
 public:
  explicit Check(const Score& score) : score_(score) {}

  std::vector<BrokenInvariant> run() {
    try {
      header();
      for (std::size_t i = 0; i < score_.measures.size(); ++i) measure(i);
      flutes();
      verses();
      notes();
      rests();
      directions();
    } catch (const TimeOverflow& overflow) {
      broken_.push_back({part_, index_, overflow.what()});
    }
    return std::move(broken_);
  }

 private:
  template <typename... Args>
  void require(bool holds, fmt::format_string<Args...> sentence, Args&&... args) {
    if (holds) return;
    broken_.push_back({part_, index_, base::message(sentence, std::forward<Args>(args)...)});
  }

  void about(ScorePart part, std::size_t index = 0, std::string name = {}) {
    part_ = part;
    index_ = index;
    name_ = std::move(name);
  }

  void header() {
    if (score_.measures.empty()) return;
    about(ScorePart::header);
    const Measure& first = score_.measures[0];
    require(score_.header.meter == first.meter, "the header's meter is not the first bar's");
    const bool usual = first.beat == default_beat(first.meter);
    const auto expected = usual ? std::nullopt : std::optional(first.beat);
    require(score_.header.beat == expected, "the header's beat does not say the first bar's");
  }

  void beat(const Meter& meter, Rational value) {
    require(value > Rational(0), "{}: the beat is not positive", name_);
    require(value <= Rational(0) || divides(value, meter), "{}: the beat does not divide the meter",
            name_);
  }

  void measure(std::size_t i) {
    about(ScorePart::measure, i, base::message("bar index {}", i));
    const Measure& here = score_.measures[i];
    beat(here.meter, here.beat);
    require(here.length > Rational(0) || (here.meter.is_free() && here.length == Rational(0)),
            "{}: its length is {}", name_, to_text(here.length));
    require(here.irregular == needs_irregular(score_, i),
            "{}: irregular is {} for a length of {} in {}", name_, here.irregular,
            to_text(here.length), to_text(here.meter));
    require(here.times >= 2 && (here.repeat_end || here.times == 2),
            "{}: {} times without such a repeat", name_, here.times);
    int last = 0;
    for (const int number : here.ending) {
      require(number > last, "{}: the numbers of its ending do not rise from 1", name_);
      last = number;
    }
  }

  void flutes() {
    std::optional<std::size_t> last;
    for (const FluteInUse& flute : score_.flutes) {
      about(ScorePart::flute, static_cast<std::size_t>(&flute - score_.flutes.data()));
      require(flute.measure < score_.measures.size(), "a flute's bar does not exist");
      require(!last || *last < flute.measure, "the flutes are not in order");
      last = flute.measure;
    }
  }

  void verses() {
    about(ScorePart::score);
    for (const std::string& verse : score_.verses) {
      require(verse_rank(verse) > 0, "the verse {} has no such name", verse);
    }
    require(score_.verses == verses_in_use(score_),
            "the verses are not those in use in their order");
  }

  // False when the place does not exist and nothing more can be said about it.
  bool place(std::size_t index, Rational onset, PlaceInMeasure where) {
    require(index < score_.measures.size(), "{}: its bar does not exist", name_);
    if (index >= score_.measures.size()) return false;
    const Rational length = score_.measures[index].length;
    const bool inside = onset >= Rational(0) && onset <= length;
    bool good = inside;
    if (where == PlaceInMeasure::start) good = onset == Rational(0);
    if (where == PlaceInMeasure::end) good = onset == length;
    if (where == PlaceInMeasure::inside) good = onset > Rational(0) && onset < length;
    require(good, "{}: it may not stand at {} of {}", name_, to_text(onset), to_text(length));
    return inside;
  }

  void tone(const std::string& name, const Tone& value) {
    require(value.fingering || value.pitch, "{}: neither fingered nor pitched", name);
    require(!value.holes || !value.holes->holes.empty(), "{}: a pattern without holes", name);
    if (!value.fingering) return;
    const Fingering& fingering = *value.fingering;
    require(!fingering.is_gap() || value.spelling, "{}: a gap without spelling", name);
    require(!fingering.is_gap() || fingering.half == HalfHole::none, "{}: a half-holed gap", name);
    require(fingering.is_gap() || !fingering.sign->printed().empty(), "{}: an empty sign", name);
    require(std::abs(fingering.bend_cents) <= kMostBendCents, "{}: bent by {} cents", name,
            fingering.bend_cents);
  }

  void marks(const std::vector<Mark>& list) {
    const auto repeated = std::adjacent_find(list.begin(), list.end(), std::greater_equal<>());
    require(repeated == list.end(), "{}: its marks are not in order, each once", name_);
  }

  void syllables(const Note& note) {
    auto next = score_.verses.begin();
    for (const Syllable& syllable : note.syllables) {
      const auto found = std::find(next, score_.verses.end(), syllable.verse);
      require(found != score_.verses.end(), "{}: verse {} is unknown, repeated or out of order",
              name_, syllable.verse);
      if (found != score_.verses.end()) next = found + 1;
      require(syllable.extends == syllable.text.empty(),
              "{}: a syllable has text unless it carries on an earlier one", name_);
      require(!syllable.extends || syllable.kind == SyllableKind::single,
              "{}: a carried syllable is of no other kind than single", name_);
    }
  }

  void notes() {
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      about(ScorePart::note, i, base::message("note {}", i));
      const Note& note = score_.notes[i];
      tone(name_, note.tone);
      for (const Tone& grace : note.grace_before) tone(name_ + ", grace note", grace);
      for (const Tone& grace : note.grace_after) tone(name_ + ", grace note", grace);
      require(!note.asked_holes || !note.asked_holes->holes.empty(), "{}: asks for no holes",
              name_);
      marks(note.marks);
      syllables(note);
      const bool last = i + 1 == score_.notes.size();
      require(!last || !note.slur_to_next, "{}: a slur without a next note", name_);
      require(!last || !note.has(Mark::suri), "{}: a slide without a next note", name_);
      require(note.duration > Rational(0), "{}: its duration is not positive", name_);
      if (!place(note.measure, note.onset, PlaceInMeasure::anywhere)) continue;
      require(note.onset < score_.measures[note.measure].length, "{}: starts at the bar's end",
              name_);
      require(fits(i), "{}: it reaches into the next note or past the end, or is out of order",
              name_);
    }
  }

  // Where a note ends, counted from a later measure; before the start of that at most once. Times
  // are summed from the note's measure on, so that nothing overflows in a long score.
  Rational end_from(const Note& note, std::size_t measure) const {
    Rational left = note.onset + note.duration;
    for (std::size_t m = note.measure; m < measure && left > Rational(0); ++m) {
      left -= score_.measures[m].length;
    }
    return left;
  }

  // True when the next note, or the end of the score, comes no sooner than the end of this one.
  bool fits(std::size_t i) const {
    const bool last = i + 1 == score_.notes.size();
    const std::size_t until = last ? score_.measures.size() : score_.notes[i + 1].measure;
    if (until < score_.notes[i].measure || until > score_.measures.size()) return false;
    const Rational left = end_from(score_.notes[i], until);
    return left <= Rational(0) || (!last && left <= score_.notes[i + 1].onset);
  }

  void rests() {
    for (std::size_t i = 0; i < score_.rests.size(); ++i) {
      about(ScorePart::rest, i, base::message("rest {}", i));
      const Rest& rest = score_.rests[i];
      require(!rest.marks.empty(), "{}: no marks", name_);
      require(std::all_of(rest.marks.begin(), rest.marks.end(), is_rest_mark),
              "{}: a mark that only notes have", name_);
      marks(rest.marks);
      if (!place(rest.measure, rest.onset, PlaceInMeasure::anywhere)) continue;
      require(rest.onset < score_.measures[rest.measure].length, "{}: starts at the bar's end",
              name_);
      require(!sounds_at(rest.measure, rest.onset), "{}: a note sounds there", name_);
      require(i == 0 || when(score_.rests[i - 1]) < when(rest), "{}: not in order", name_);
    }
  }

  template <typename T>
  static std::pair<std::size_t, Rational> when(const T& entry) {
    return {entry.measure, entry.onset};
  }

  bool sounds_at(std::size_t measure, Rational onset) const {
    const auto after =
        std::upper_bound(score_.notes.begin(), score_.notes.end(), std::pair(measure, onset),
                         [](const auto& at, const Note& note) { return at < when(note); });
    return after != score_.notes.begin() && end_from(*(after - 1), measure) > onset;
  }

  void directions() {
    for (std::size_t i = 0; i < score_.directions.size(); ++i) {
      about(ScorePart::direction, i, base::message("direction {}", i));
      const Direction& direction = score_.directions[i];
      const bool exists = place(direction.measure, direction.onset, kind_of(direction.value).place);
      const bool at_start = direction.measure == 0 && direction.onset == Rational(0);
      require(!at_start || !holds_on(direction.value), "{}: belongs to the header", name_);
      if (const auto* change = std::get_if<BeatChange>(&direction.value); change && exists) {
        beat(score_.measures[direction.measure].meter, change->beat);
      }
      require(i == 0 || when(score_.directions[i - 1]) <= when(direction), "{}: not in order",
              name_);
    }
  }

  const Score& score_;
  std::vector<BrokenInvariant> broken_;
  ScorePart part_ = ScorePart::score;
  std::size_t index_ = 0;
  std::string name_;  // how sentences call it
};

}  // namespace

std::vector<BrokenInvariant> broken_invariants(const Score& score) {
  return Check(score).run();
}

}  // namespace yubifu::model
