#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "base/json_writer.h"
#include "base/message.h"
#include "base/numbers.h"
#include "midi/write/performance.h"
#include "midi/write/rules.h"
#include "midi/write/tick_grid.h"
#include "midi/write/writer.h"
#include "model/pitch.h"
#include "model/words.h"

namespace yubifu::midi {
namespace {

using base::JsonLayout;
using model::Rational;

constexpr double kSecondsPerMinute = 60;

// Mathematical libraries differ in the last place, and what is written must be the same on every
// system: seconds to a thousandth of a microsecond, hertz to a hundred-thousandth of a cent.
constexpr double kStepsOfSecond = 1e9;
constexpr double kStepsOfHertz = 1e6;

// In the order of Attack.
constexpr std::array<std::string_view, 3> kAttacks{"tongued", "struck", "slurred"};

class Writer {
 public:
  Writer(const model::Score& score, const Performance& music) : score_(score), music_(music) {
    for (const auto& [tick, tempo] : music.tempos) {
      tempos_.push_back({tick, {tempos_.empty() ? 0 : seconds_at(tick), tempo}});
    }
  }

  base::Outcome<std::string> run() {
    try {
      find_starts();
      json_.begin_object();
      json_.key("yubifu-sound").number(std::int64_t{1});
      json_.key("tuning").number(score_.header.tuning_hz.value_or(model::kConcertPitchHz));
      time("length", starts_.back());
      seconds("seconds", seconds_at(music_.end));
      written();
      bars();
      clicks();
      played();
      json_.end_object();
    } catch (const model::TimeOverflow& overflow) {
      const std::string& bar = score_.measures[measure_].number;
      return {std::nullopt,
              {base::report(rule::tick_overflow, {},
                            base::message("bar {}: {}", bar, overflow.what()), {}, {bar})}};
    }
    return {json_.take(), {}};
  }

 private:
  // Of the measures as they are played, and the end.
  void find_starts() {
    starts_.reserve(music_.order.size() + 1);
    Rational now;
    for (const std::size_t measure : music_.order) {
      measure_ = measure;
      starts_.push_back(now);
      now += score_.measures[measure].length;
    }
    starts_.push_back(now);
  }

  // Under the tempos that are heard.
  double seconds_at(std::int64_t tick) const {
    const auto& [begin, tempo] = in_force(tempos_, tick);
    return tempo.starts +
           static_cast<double>(tick - begin) / music_.ppq * kSecondsPerMinute / tempo.per_minute;
  }

  void time(std::string_view key, Rational value) { json_.key(key).text(model::to_text(value)); }
  void index(std::string_view key, std::size_t value) {
    json_.key(key).number(static_cast<std::int64_t>(value));
  }
  void seconds(std::string_view key, double value) {
    json_.key(key).number(base::rounded(value, kStepsOfSecond));
  }
  void span(std::int64_t begin, std::int64_t end) {
    const double at = seconds_at(begin);
    seconds("at", at);
    seconds("seconds", seconds_at(end) - at);
  }

  void written() {
    json_.key("written").begin_array();
    for (const model::Note& note : score_.notes) {
      for (const model::Tone& grace : note.grace_before) tone(note, grace, "before");
      tone(note, note.tone, {});
      for (const model::Tone& grace : note.grace_after) tone(note, grace, "after");
    }
    json_.end_array();
  }

  void tone(const model::Note& note, const model::Tone& tone, std::string_view grace) {
    json_.begin_object(JsonLayout::one_line);
    json_.key("bar").text(score_.measures[note.measure].number);
    index("measure", note.measure);
    if (note.source != base::SourceRange{}) {
      index("from", note.source.begin);
      index("to", note.source.end);
    }
    json_.key("sign");
    if (tone.fingering && !tone.fingering->is_gap()) {
      json_.text(printed(*tone.fingering));
    } else {
      json_.null();
    }
    const auto& holes = note.asked_holes && grace.empty() ? note.asked_holes : tone.holes;
    if (holes) json_.key("holes").text(printed(*holes));
    if (tone.spelling) json_.key("pitch").text(model::to_text(*tone.spelling));
    if (!grace.empty()) json_.key("grace").text(grace);
    json_.end_object();
  }

  void bars() {
    json_.key("bars").begin_array();
    std::size_t measure = 0;
    for (const SoundingBar& bar : music_.bars) {
      const Rational start = starts_[measure];
      while (measure + 1 < starts_.size() && starts_[measure] < start + bar.length) ++measure;
      json_.begin_object(JsonLayout::one_line);
      json_.key("number").text(score_.measures[bar.written].number);
      index("measure", bar.written);
      time("start", start);
      time("length", bar.length);
      span(bar.begin, bar.end);
      json_.key("meter").text(model::to_text(bar.meter));
      if (!bar.meter.is_free()) count(bar);
      json_.end_object();
    }
    json_.end_array();
  }

  // What a player counts before this bar: as before a file that is made for practice.
  void count(const SoundingBar& bar) {
    const double tick = kSecondsPerMinute / in_force(music_.counted, bar.begin).value / music_.ppq;
    const std::int64_t full = to_ticks(bar.meter.length(), music_.ppq);
    const std::int64_t lacking = std::max<std::int64_t>(0, full - (bar.end - bar.begin));
    json_.key("count").begin_object();
    seconds("beat", tick * static_cast<double>(beat_ticks(bar.meter, music_.ppq)));
    seconds("bar", tick * static_cast<double>(full));
    seconds("lacking", tick * static_cast<double>(lacking));
    json_.end_object();
  }

  void clicks() {
    json_.key("clicks").begin_array();
    for (const Timed<Stroke>& click : bar_clicks(music_)) {
      json_.begin_object(JsonLayout::one_line);
      seconds("at", seconds_at(click.tick));
      json_.key("first").boolean(click.value == Stroke::bar);
      json_.end_object();
    }
    json_.end_array();
  }

  void played() {
    json_.key("played").begin_array();
    std::size_t bar = 0;
    for (const SoundingNote& note : music_.notes) {
      while (bar + 1 < music_.bars.size() && music_.bars[bar + 1].begin <= note.begin) ++bar;
      measure_ = music_.order[note.measure];
      json_.begin_object(JsonLayout::one_line);
      index("note", note.tone);
      index("bar", bar);
      time("start", starts_[note.measure] + note.onset);
      time("length", note.length);
      span(note.begin, note.end);
      const double hertz = model::frequency_hz({note.key, note.cents}, model::kConcertPitchHz);
      json_.key("hz").number(base::rounded(hertz, kStepsOfHertz));
      json_.key("attack").text(kAttacks[static_cast<std::size_t>(note.attack)]);
      json_.key("loudness").number(std::int64_t{note.velocity});
      if (!note.marks.empty()) {
        json_.key("marks").begin_array();
        for (const model::Mark mark : note.marks) json_.text(model::word_of(mark));
        json_.end_array();
      }
      json_.end_object();
    }
    json_.end_array();
  }

  const model::Score& score_;
  const Performance& music_;
  struct Tempo {
    double starts = 0;  ///< in seconds
    double per_minute = 0;
  };
  std::vector<Timed<Tempo>> tempos_;
  base::JsonWriter json_;
  std::vector<Rational> starts_;
  std::size_t measure_ = 0;  ///< the written one being looked at, for the report of an overflow
};

}  // namespace

base::Outcome<std::string> write_listing(const model::Score& score) {
  const auto music = perform(score, {});
  base::Outcome<std::string> result{std::nullopt, music.diagnostics};
  // Ticks are inside here; what is written of a time is exact.
  std::erase_if(result.diagnostics, [](const base::Diagnostic& one) {
    return one.rule->name == rule::tick_rounding.name;
  });
  if (!music.value) return result;
  auto written = Writer(score, *music.value).run();
  base::append(result.diagnostics, std::move(written.diagnostics));
  result.value = std::move(written.value);
  return result;
}

}  // namespace yubifu::midi
