#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/findings.h"
#include "base/message.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/rules.h"
#include "notation/write/text.h"
#include "notation/write/writable.h"

namespace yubifu::notation {
namespace {

bool has_fingers(const model::Tone& tone) {
  return tone.fingering && (!tone.fingering->is_gap() || tone.spelling);
}

class Check {
 public:
  Check(const model::Score& score, Alphabet alphabet) : score_(score), alphabet_(alphabet) {}

  base::Diagnostics run() {
    words();
    fingers();
    signs();
    sizes();
    marks();
    directions();
    return std::move(found_);
  }

 private:
  using Measures = std::vector<std::size_t>;

  // Nothing where no measure is concerned.
  void add(const base::Rule& rule, std::string message, std::string hint,
           const Measures& measures) {
    base::tell(
        found_,
        {base::report(rule, {}, std::move(message), std::move(hint)), measures.size(), measures},
        model::BarNumbers{score_});
  }

  // Calls `visit` with each tone and the note it belongs to, grace notes included.
  template <typename Visit>
  void for_each_tone(const Visit& visit) const {
    for (const model::Note& note : score_.notes) {
      model::for_each_tone(note, [&](const model::Tone& tone) { visit(tone, note); });
    }
  }

  void words() {
    const bool any = std::any_of(
        score_.measures.begin(), score_.measures.end(),
        [](const model::Measure& measure) { return measure.length > model::Rational(0); });
    if (any) return;
    found_.push_back(
        base::report(rule::no_words, std::nullopt,
                     base::message("the score has nothing to write: no bar of any length"),
                     base::message("write at least one bar of rest")));
  }

  void fingers() {
    Measures measures;
    for_each_tone([&](const model::Tone& tone, const model::Note& note) {
      if (!has_fingers(tone)) measures.push_back(note.measure);
    });
    add(rule::unfingered_note, base::message("{} notes have no fingering", measures.size()),
        base::message("name the flute that shall play them"), measures);
  }

  void signs() {
    Measures measures;
    std::string first;
    for_each_tone([&](const model::Tone& tone, const model::Note& note) {
      if (!has_fingers(tone) || tone.fingering->is_gap()) return;
      const model::Sign& sign = *tone.fingering->sign;
      if (is_writable(sign) && tone_text(tone, alphabet_).size() <= kLongestToken) return;
      if (measures.empty()) first = sign.printed();
      measures.push_back(note.measure);
    });
    add(rule::unwritable_sign, base::message("the sign {} cannot be written", shown(first)),
        base::message("rename it in the flute file, to one letter or digit of its own"), measures);
  }

  void sizes() {
    if (score_.measures.size() > kMostBars) {
      found_.push_back(
          base::report(rule::size_limit, std::nullopt,
                       base::message("{} bars; a text holds {}", score_.measures.size(), kMostBars),
                       base::message("cut the score into several files")));
    }
    std::size_t notes = score_.rests.size();
    for_each_tone([&](const model::Tone&, const model::Note&) { ++notes; });
    if (notes <= kMostNotes) return;
    found_.push_back(base::report(rule::size_limit, std::nullopt,
                                  base::message("{} notes; a text holds {}", notes, kMostNotes),
                                  base::message("cut the score into several files")));
  }

  void marks() {
    const auto is_long = [&](ValuedMark mark, const std::vector<model::Tone>& tones) {
      return !tones.empty() && grace_text(mark, tones, alphabet_).size() > kLongestToken;
    };
    Measures graces;
    Measures patterns;
    std::size_t holes = 0;
    for (const model::Note& note : score_.notes) {
      if (is_long(ValuedMark::pre, note.grace_before) ||
          is_long(ValuedMark::post, note.grace_after)) {
        graces.push_back(note.measure);
      }
      if (!note.asked_holes || note.asked_holes->holes.size() <= kMostHoles) continue;
      if (patterns.empty()) holes = note.asked_holes->holes.size();
      patterns.push_back(note.measure);
    }
    add(rule::size_limit,
        base::message("the grace notes of one note take more than {} bytes", kLongestToken),
        base::message("leave some of them out"), graces);
    add(rule::bad_mark_value, base::message("a pattern of {} holes", holes),
        base::message("a pattern has at most {}", kMostHoles), patterns);
  }

  // What the reader would say of a direction, or of a tempo or beat.
  void directions() {
    Measures too_long;
    Measures refused;
    std::optional<Fault> first;
    const auto check = [&](std::size_t measure, const model::DirectionValue& value) {
      const model::Measure& here = score_.measures[measure];
      const model::Rational unit = model::felt_beat(here.meter, here.beat);
      const std::string text = on_one_line(direction_text(value, unit));
      if (text.size() > kLongestToken) return too_long.push_back(measure);
      auto meaning = read_direction(take_apart(text), unit);
      auto* fault = std::get_if<Fault>(&meaning);
      if (fault == nullptr) return;
      if (!first) first = std::move(*fault);
      refused.push_back(measure);
    };
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const bool known = i > 0 && score_.measures[i].beat == score_.measures[i - 1].beat;
      if (!known) check(i, model::BeatChange{score_.measures[i].beat});
      if (i == 0 && score_.header.tempo) check(i, model::TempoChange{*score_.header.tempo});
    }
    for (const model::Direction& direction : score_.directions) {
      check(direction.measure, direction.value);
    }
    add(rule::size_limit, base::message("a direction is longer than {} bytes", kLongestToken),
        base::message("shorten it"), too_long);
    if (first) add(*first->rule, std::move(first->message), std::move(first->hint), refused);
  }

  const model::Score& score_;
  Alphabet alphabet_;
  base::Diagnostics found_;
};

}  // namespace

base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet) {
  return Check(score, alphabet).run();
}

}  // namespace yubifu::notation
