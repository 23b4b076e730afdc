#include "scorejson/writer.h"

#include <algorithm>
#include <array>
#include <set>
#include <span>
#include <utility>

#include "base/json_writer.h"
#include "base/message.h"
#include "model/header.h"
#include "model/words.h"
#include "scorejson/rules.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using base::JsonLayout;
using model::HeaderKey;
using model::Rational;

// What counts time stands before what needs it.
constexpr std::array kHeaderOrder{HeaderKey::title,    HeaderKey::subtitle, HeaderKey::composer,
                                  HeaderKey::lyricist, HeaderKey::source,   HeaderKey::rights,
                                  HeaderKey::meter,    HeaderKey::beat,     HeaderKey::flute,
                                  HeaderKey::tuning,   HeaderKey::tempo,    HeaderKey::key,
                                  HeaderKey::staff,    HeaderKey::zero};

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
      if_any("comments", score_.header.comments,
             [&](const std::string& comment) { json_.text(comment); });
      if_any("flutes", score_.flutes, [&](const model::FluteInUse& one) { flute(one); });
      measures();
      if (score_.song_bars == model::SongBars::written) json_.key("song-bars").boolean(true);
      array("notes", score_.notes, [&](const model::Note& one) { note(one); });
      if_any("rests", score_.rests, [&](const model::Rest& one) { rest(one); });
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

  template <typename Items, typename Write>
  void array(std::string_view key, const Items& items, const Write& write) {
    json_.key(key).begin_array();
    for (const auto& item : items) write(item);
    json_.end_array();
  }

  template <typename Items, typename Write>
  void if_any(std::string_view key, const Items& items, const Write& write) {
    if (!items.empty()) array(key, items, write);
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

  void flute(const model::FluteInUse& flute) {
    json_.begin_object(JsonLayout::one_line);
    index("measure", flute.measure);
    time("onset", starts_[flute.measure]);
    text("name", model::to_text(flute.name));
    text("title", flute.title);
    pitch(flute.ichi);
    json_.key("tuning").number(flute.tuning_hz);
    json_.end_object();
  }

  void pitch(const model::Pitch& value) {
    json_.key("midi").number(std::int64_t{value.key});
    json_.key("cents").number(value.cents);
  }

  void measures() {
    json_.key("measures").begin_array();
    const model::Direction* first = score_.directions.data();
    const model::Direction* const last = first + score_.directions.size();
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const auto end =
          std::find_if(first, last, [&](const model::Direction& d) { return d.measure != i; });
      measure(i, {first, end});
      first = end;
    }
    json_.end_array();
  }

  void measure(std::size_t i, std::span<const model::Direction> directions) {
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
    if_any("ending", here.ending, [&](int number) { json_.number(std::int64_t{number}); });
    if (here.break_before != model::LineBreak::none) {
      text("break", kLineBreaks.word_of(here.break_before));
    }
    if_any("directions", directions, [&](const model::Direction& one) { direction(one); });
    if_any("comments", here.comments, [&](const model::Comment& one) { comment(one); });
    json_.end_object();
  }

  void direction(const model::Direction& direction) {
    json_.begin_object();
    time("onset", onset(direction.measure, direction.onset));
    text("kind", model::word_of(direction.value));
    const bool is_cue = std::holds_alternative<model::Cue>(direction.value);
    if (!is_cue) text("value", model::value_text(direction.value));
    json_.end_object();
  }

  void comment(const model::Comment& comment) {
    json_.begin_object();
    text("text", comment.text);
    json_.key("own-line").boolean(comment.own_line);
    if (comment.blank_before) json_.key("blank-before").boolean(true);
    json_.end_object();
  }

  void note(const model::Note& note) {
    const auto i = static_cast<std::size_t>(&note - score_.notes.data());
    json_.begin_object(JsonLayout::one_line);
    index("measure", note.measure);
    time("onset", onset(note.measure, note.onset));
    time("duration", note.duration);
    tone(note.tone);
    marks(note);
    if (note.slur_to_next) json_.key("slur").boolean(true);
    if_any("verses", note.syllables, [&](const model::Syllable& one) { syllable(one); });
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
    for (const model::Mark one : note.marks) mark(one);
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

  void mark(model::Mark mark) {
    json_.begin_object();
    text("name", model::word_of(mark));
    json_.end_object();
  }

  void grace_notes(std::string_view name, const std::vector<model::Tone>& tones) {
    if (tones.empty()) return;
    json_.begin_object();
    text("name", name);
    const bool fingered = std::all_of(tones.begin(), tones.end(), [](const model::Tone& tone) {
      return tone.fingering.has_value();
    });
    if (fingered) text("value", tones_text(tones));
    array("tones", tones, [&](const model::Tone& one) {
      json_.begin_object();
      tone(one);
      json_.end_object();
    });
    json_.end_object();
  }

  void syllable(const model::Syllable& syllable) {
    json_.begin_object();
    text("verse", syllable.verse);
    text("text", syllable.text);
    text("kind", word_of(syllable.kind));
    if (syllable.extends) json_.key("extend").boolean(true);
    json_.end_object();
  }

  void rest(const model::Rest& rest) {
    json_.begin_object(JsonLayout::one_line);
    index("measure", rest.measure);
    time("onset", onset(rest.measure, rest.onset));
    array("marks", rest.marks, [&](model::Mark one) { mark(one); });
    json_.end_object();
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
