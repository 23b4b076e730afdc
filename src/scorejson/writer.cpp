#include "scorejson/writer.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/json_writer.h"
#include "base/message.h"
#include "model/header.h"
#include "model/words.h"
#include "scorejson/rules.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using model::HeaderKey;

// What counts time stands before what needs it.
constexpr std::array kHeaderOrder{HeaderKey::title,    HeaderKey::subtitle, HeaderKey::composer,
                                  HeaderKey::lyricist, HeaderKey::source,   HeaderKey::rights,
                                  HeaderKey::meter,    HeaderKey::beat,     HeaderKey::flute,
                                  HeaderKey::tuning,   HeaderKey::tempo,    HeaderKey::key,
                                  HeaderKey::staff,    HeaderKey::zero};

using base::JsonLayout;
using model::Rational;

class Writer {
 public:
  Writer(const model::Score& score, const ScoreJsonWriteOptions& options)
      : score_(score), options_(options) {}

  base::Outcome<std::string> run() {
    try {
      find_starts();
      json_.begin_object();
      json_.key(kVersionKey).number(kVersion);
      header();
      texts("comments", score_.header.comments);
      flutes();
      measures();
      if (score_.song_bars == model::SongBars::written) json_.key("song-bars").boolean(true);
      notes();
      rests();
      json_.end_object();
    } catch (const model::TimeOverflow& overflow) {
      diagnostics_.push_back(base::report(rule::onset_overflow, std::nullopt,
                                          base::message("bar {}: {}", bar_name(), overflow.what()),
                                          {}, {bar_name()}));
      return {std::nullopt, std::move(diagnostics_)};
    }
    return {json_.take(), std::move(diagnostics_)};
  }

 private:
  void find_starts() {
    starts_.reserve(score_.measures.size());
    Rational now;
    for (bar_ = 0; bar_ < score_.measures.size(); ++bar_) {
      starts_.push_back(now);
      now += score_.measures[bar_].length;
    }
  }

  const std::string& bar_name() const { return score_.measures[bar_].number; }

  Rational onset(std::size_t measure, Rational in_measure) {
    bar_ = measure;
    return starts_[measure] + in_measure;
  }

  void text(std::string_view key, std::string_view value) { json_.key(key).text(value); }
  void time(std::string_view key, Rational value) { text(key, model::to_text(value)); }
  void index(std::string_view key, std::size_t value) {
    json_.key(key).number(static_cast<std::int64_t>(value));
  }

  void texts(std::string_view key, const std::vector<std::string>& list) {
    if (list.empty()) return;
    json_.key(key).begin_array();
    for (const std::string& one : list) json_.text(one);
    json_.end_array();
  }

  void header() {
    json_.key("header").begin_object();
    const model::Header& header = score_.header;
    for (const HeaderKey key : kHeaderOrder) {
      const auto value = key == HeaderKey::tempo && header.tempo ? model::exact_text(*header.tempo)
                                                                 : model::field_text(header, key);
      if (value) text(word_of(key), *value);
    }
    std::set<std::string_view> used;
    for (const model::HeaderField& field : score_.header.unknown) {
      if (!model::header_key(field.key) && used.insert(field.key).second) {
        text(field.key, field.value);
        continue;
      }
      diagnostics_.push_back(base::report(
          rule::field_left_out, std::nullopt,
          base::message("the header has a second field \"{}\", which is left out", field.key),
          base::message("give it another name")));
    }
    json_.end_object();
  }

  void flutes() {
    if (score_.flutes.empty()) return;
    json_.key("flutes").begin_array();
    for (const model::FluteInUse& flute : score_.flutes) {
      json_.begin_object(JsonLayout::one_line);
      index("measure", flute.measure);
      time("onset", starts_[flute.measure]);
      text("name", model::to_text(flute.name));
      text("title", flute.title);
      pitch(flute.ichi);
      json_.key("tuning").number(flute.tuning_hz);
      json_.end_object();
    }
    json_.end_array();
  }

  void pitch(const model::Pitch& value) {
    json_.key("midi").number(std::int64_t{value.key});
    json_.key("cents").number(value.cents);
  }

  void measures() {
    json_.key("measures").begin_array();
    auto direction = score_.directions.begin();
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const auto end = std::find_if(direction, score_.directions.end(),
                                    [&](const model::Direction& d) { return d.measure != i; });
      measure(i, direction, end);
      direction = end;
    }
    json_.end_array();
  }

  template <typename Iterator>
  void measure(std::size_t i, Iterator first_direction, Iterator end_of_directions) {
    const model::Measure& here = score_.measures[i];
    json_.begin_object(JsonLayout::one_line);
    index("index", i);
    text("number", here.number);
    time("onset", starts_[i]);
    time("length", here.length);
    text("meter", model::to_text(here.meter));
    time("beat", here.beat);
    if (here.irregular) json_.key("irregular").boolean(true);
    if (here.repeat_start) text("left", kLeftSides.word_of(true));
    const RightSide right{here.right, here.repeat_end};
    if (right != RightSide{}) text("right", kRightSides.word_of(right));
    if (here.repeat_end) json_.key("times").number(std::int64_t{here.times});
    if (!here.ending.empty()) {
      json_.key("ending").begin_array();
      for (const int number : here.ending) json_.number(std::int64_t{number});
      json_.end_array();
    }
    if (here.break_before != model::LineBreak::none)
      text("break", kLineBreaks.word_of(here.break_before));
    if (first_direction != end_of_directions) {
      json_.key("directions").begin_array();
      for (auto one = first_direction; one != end_of_directions; ++one) direction(*one);
      json_.end_array();
    }
    comments(here);
    json_.end_object();
  }

  void direction(const model::Direction& direction) {
    json_.begin_object();
    time("onset", onset(direction.measure, direction.onset));
    text("kind", model::word_of(direction.value));
    const bool has_value = !std::holds_alternative<model::Cue>(direction.value);
    if (has_value) text("value", model::value_text(direction.value));
    json_.end_object();
  }

  void comments(const model::Measure& measure) {
    if (measure.comments.empty()) return;
    json_.key("comments").begin_array();
    for (const model::Comment& comment : measure.comments) {
      json_.begin_object();
      text("text", comment.text);
      json_.key("own-line").boolean(comment.own_line);
      if (comment.blank_before) json_.key("blank-before").boolean(true);
      json_.end_object();
    }
    json_.end_array();
  }

  void notes() {
    json_.key("notes").begin_array();
    for (std::size_t i = 0; i < score_.notes.size(); ++i) note(i);
    json_.end_array();
  }

  void note(std::size_t i) {
    const model::Note& note = score_.notes[i];
    json_.begin_object(JsonLayout::one_line);
    index("measure", note.measure);
    time("onset", onset(note.measure, note.onset));
    time("duration", note.duration);
    tone(note.tone);
    marks(note);
    if (note.slur_to_next) json_.key("slur").boolean(true);
    syllables(note);
    if (i < options_.source.size()) index("source", options_.source[i]);
    json_.end_object();
  }

  void tone(const model::Tone& tone) {
    if (tone.pitch) pitch(*tone.pitch);
    if (tone.spelling) {
      text("step", std::string(1, model::letter(tone.spelling->step)));
      json_.key("alter").number(std::int64_t{tone.spelling->alter});
      json_.key("octave").number(std::int64_t{tone.spelling->octave});
    }
    if (tone.fingering) {
      json_.key("sign");
      if (tone.fingering->is_gap()) {
        json_.null();
      } else {
        json_.text(tone.fingering->sign->printed());
      }
      text("half", kHalfHoles.word_of(tone.fingering->half));
      json_.key("bend").number(std::int64_t{tone.fingering->bend_cents});
    }
    if (tone.holes) text("holes", model::printed(*tone.holes));
  }

  void marks(const model::Note& note) {
    if (note.marks.empty() && note.grace_count() == 0 && !note.asked_holes) return;
    json_.key("marks").begin_array();
    plain_marks(note.marks);
    grace_notes(kGraceBefore, note.grace_before);
    grace_notes(kGraceAfter, note.grace_after);
    if (note.asked_holes) {
      json_.begin_object();
      text("name", kAskedHoles);
      text("value", model::printed(*note.asked_holes));
      json_.end_object();
    }
    json_.end_array();
  }

  void plain_marks(const std::vector<model::Mark>& list) {
    for (const model::Mark mark : list) {
      json_.begin_object();
      text("name", model::word_of(mark));
      json_.end_object();
    }
  }

  void grace_notes(std::string_view name, const std::vector<model::Tone>& tones) {
    if (tones.empty()) return;
    json_.begin_object();
    text("name", name);
    const bool fingered = std::all_of(tones.begin(), tones.end(), [](const model::Tone& tone) {
      return tone.fingering.has_value();
    });
    if (fingered) text("value", tones_text(tones));
    json_.key("tones").begin_array();
    for (const model::Tone& one : tones) {
      json_.begin_object();
      tone(one);
      json_.end_object();
    }
    json_.end_array();
    json_.end_object();
  }

  void syllables(const model::Note& note) {
    if (note.syllables.empty()) return;
    json_.key("verses").begin_array();
    for (const model::Syllable& syllable : note.syllables) {
      json_.begin_object();
      text("verse", syllable.verse);
      text("text", syllable.text);
      text("kind", word_of(syllable.kind));
      if (syllable.extends) json_.key("extend").boolean(true);
      json_.end_object();
    }
    json_.end_array();
  }

  void rests() {
    if (score_.rests.empty()) return;
    json_.key("rests").begin_array();
    for (const model::Rest& rest : score_.rests) {
      json_.begin_object(JsonLayout::one_line);
      index("measure", rest.measure);
      time("onset", onset(rest.measure, rest.onset));
      json_.key("marks").begin_array();
      plain_marks(rest.marks);
      json_.end_array();
      json_.end_object();
    }
    json_.end_array();
  }

  const model::Score& score_;
  const ScoreJsonWriteOptions& options_;
  base::JsonWriter json_;
  base::Diagnostics diagnostics_;
  std::vector<Rational> starts_;  // of the measures, from the start of the score
  std::size_t bar_ = 0;           // the measure being written, for the report of an overflow
};

}  // namespace

base::Outcome<std::string> write_score_json(const model::Score& score,
                                            const ScoreJsonWriteOptions& options) {
  return Writer(score, options).run();
}

}  // namespace yubifu::scorejson
