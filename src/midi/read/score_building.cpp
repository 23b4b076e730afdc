#include "midi/read/score_building.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "base/message.h"
#include "midi/own_text.h"
#include "midi/read/rules.h"
#include "midi/read/tempos.h"
#include "midi/read/texts.h"
#include "model/pitch.h"

namespace yubifu::midi {
namespace {

constexpr int kSimplePlaceParts = 4;  // of a quarter note: where a direction may stand

bool set_beat(const std::string& text, model::Score& score) {
  const auto beat = model::parse_beat(text);
  const model::Meter meter = score.measures.front().meter;
  if (!beat || !divides(*beat, meter)) return false;
  for (model::Measure& measure : score.measures) {
    if (measure.meter != meter) break;
    measure.beat = *beat;
  }
  return true;
}

bool set_field(const model::HeaderField& field, model::Score& score) {
  const auto key = model::header_key(field.key, kKeptFields);
  if (!key) return false;
  if (*key == model::HeaderKey::beat) return set_beat(field.value, score);
  return model::set_field(score.header, *key, field.value);
}

// Sets title, rights and the fields that this program kept. A field that cannot be read is kept as
// an unknown one. `beat` goes to the measures up to the first change of meter.
void set_header_fields(const Surroundings& surroundings, model::Score& score) {
  score.header.title = surroundings.title;
  score.header.rights = surroundings.rights;
  for (const auto& field : surroundings.own_fields) {
    const std::string& key = field.value.key;
    const bool of_the_file = key == kTicksText || key == kLyricsText || key == kMeterText;
    if (of_the_file || field.tick > 0) continue;
    if (!set_field(field.value, score)) score.header.unknown.push_back({key, field.value.value});
  }
}

class ScoreBuilder {
 public:
  ScoreBuilder(const ScoreParts& parts, const BarLayout& layout, base::Findings& findings)
      : parts_(parts),
        times_(*parts.times),
        layout_(layout),
        findings_(findings),
        quarters_(times_.fine_ppq) {}

  model::Score build() {
    score_.measures = layout_.measures(quarters_);
    set_header_fields(parts_.surroundings, score_);
    notes();
    if (parts_.lyric_kind == LyricKind::fingering) {
      fingerings();
    } else {
      syllables();
    }
    tempos();
    for (const auto& key : parts_.surroundings.keys) {
      add(times_.place(key.tick), model::KeyChange{key.value});
    }
    flutes();
    texts();
    place_directions();
    mark_irregular(score_);
    number_measures(score_);
    gather_start_into_header(score_);
    return std::move(score_);
  }

 private:
  void notes() {
    score_.notes.resize(times_.notes.size());
    const std::vector<Bar>& bars = layout_.bars();
    const auto& keys = parts_.surroundings.keys;
    const double tuning = tuning_cents(score_.header);
    std::size_t measure = 0;
    std::size_t key = 0;
    for (std::size_t i = 0; i < times_.notes.size(); ++i) {
      const TickSpan& time = times_.notes[i];
      while (measure + 1 < bars.size() && bars[measure + 1].begin <= time.begin) ++measure;
      while (key < keys.size() && times_.place(keys[key].tick) <= time.begin) ++key;
      model::Note& note = score_.notes[i];
      note.measure = measure;
      note.onset = quarters_(time.begin - bars[measure].begin);
      note.duration = quarters_(time.end - time.begin);
      note.tone.pitch = model::pitch_at(parts_.pitches[i].total_cents - tuning);
      if (!keys.empty()) {
        const model::Key in_force = key == 0 ? keys.front().value : keys[key - 1].value;
        note.tone.spelling = spell_in_key(note.tone.pitch->key, in_force);
      }
      if (parts_.pitches[i].leaving == Leaving::slides_to_next && i + 1 < times_.notes.size()) {
        note.marks.push_back(model::Mark::suri);
      }
    }
  }

  void fingerings() {
    for (std::size_t i = 0; i < score_.notes.size(); ++i) {
      const std::string& lyric = parts_.lyrics[i];
      if (lyric.empty()) continue;
      score_.notes[i].tone.fingering = model::parse_printed_of_any_flute(one_line_of(lyric));
      if (!score_.notes[i].tone.fingering) {
        findings_.add(
            base::report(rule::lyric_no_sign, {},
                         base::message("a lyric is no sign of any flute: only the pitch is read")),
            times_.place.file_tick(times_.notes[i].begin));
      }
    }
  }

  void syllables() {
    const bool any_file = parts_.lyric_kind == LyricKind::words;
    auto sung = any_file ? to_syllables(parts_.lyrics) : from_lyrics(parts_.lyrics);
    for (std::size_t i = 0; i < sung.size(); ++i) {
      if (!sung[i]) continue;
      if (parts_.lyric_kind == LyricKind::shoga) sung[i]->verse = model::kShogaVerse;
      score_.notes[i].syllables.push_back(*sung[i]);
      if (score_.verses.empty()) score_.verses.emplace_back(sung[i]->verse);
    }
  }

  void add(std::int64_t tick, model::DirectionValue value) {
    directions_.push_back({tick, std::move(value)});
  }

  void tempos() {
    const auto unit_at = [&](std::int64_t tick) {
      const model::Measure& measure = score_.measures[layout_.place(tick).measure];
      return felt_beat(measure.meter, measure.beat);
    };
    ReadTempos read = read_tempos(times_.tempos, times_.notes, times_.fine_ppq, unit_at);
    for (auto& [tick, value] : read.directions) add(tick, std::move(value));
    for (const std::size_t note : read.fermatas) {
      std::vector<model::Mark>& marks = score_.notes[note].marks;
      marks.insert(marks.begin(), model::Mark::fermata);
    }
  }

  // Those at the start are the header's.
  void flutes() {
    for (const auto& field : parts_.surroundings.own_fields) {
      const auto flute = field.value.key == kFluteText && field.tick > 0
                             ? model::parse_flute_name(field.value.value)
                             : std::nullopt;
      if (!flute) continue;
      const BarPlace place = layout_.place(times_.place(field.tick));
      add(layout_.bars()[place.measure].begin, model::FluteChange{*flute});
    }
  }

  void texts() {
    for (const auto& text : parts_.surroundings.texts) {
      const std::int64_t tick = times_.place(text.tick);
      const bool marker = text.value.use == TextUse::marker;
      if (tick >= layout_.end()) {
        findings_.add(base::report(rule::text_after_music, {},
                                   base::message("a text after the last note is left out")),
                      text.tick);
      } else if (!marker && tick == 0) {
        score_.header.comments.push_back(text.value.text);
      } else if (marker && layout_.place(tick).offset == 0) {
        add(tick, model::SectionStart{text.value.text});
      } else {
        add(tick, model::TextDirection{text.value.text});
      }
    }
  }

  bool is_simple_place(std::int64_t tick, const BarPlace& place) const {
    if (parts_.places == DirectionPlaces::as_written) return true;
    if (place.offset * kSimplePlaceParts % times_.fine_ppq == 0) return true;
    const auto note =
        std::lower_bound(times_.notes.begin(), times_.notes.end(), tick,
                         [](const TickSpan& span, std::int64_t t) { return span.begin < t; });
    return note != times_.notes.end() && note->begin == tick;
  }

  std::int64_t simple_place(std::int64_t tick) {
    const BarPlace place = layout_.place(tick);
    if (is_simple_place(tick, place)) return tick;
    findings_.add(
        base::report(rule::direction_moved, {},
                     base::message("a tempo, key or text goes to the nearest quarter note")),
        times_.place.file_tick(tick));
    const Bar& bar = layout_.bars()[place.measure];
    const std::int64_t ppq = times_.fine_ppq;
    return bar.begin + std::min((place.offset + ppq / 2) / ppq * ppq, bar.length);
  }

  // Of tempos and keys at one place the last counts; one that says what is so already is left out.
  void place_directions() {
    std::erase_if(directions_, [&](const auto& d) { return d.tick >= layout_.end(); });
    for (auto& direction : directions_) direction.tick = simple_place(direction.tick);
    std::erase_if(directions_, [&](const auto& d) { return d.tick >= layout_.end(); });
    sort_by_tick(directions_);
    drop_superseded<model::TempoChange>();
    drop_superseded<model::KeyChange>();
    drop_superseded<model::FluteChange>();
    for (auto& direction : directions_) {
      const BarPlace place = layout_.place(direction.tick);
      score_.directions.push_back(
          {place.measure, quarters_(place.offset), std::move(direction.value), {}});
    }
  }

  template <typename T>
  void drop_superseded() {
    // From the back, so that the last of each place is met first.
    std::vector<bool> superseded(directions_.size(), false);
    std::int64_t place = -1;
    for (std::size_t i = directions_.size(); i-- > 0;) {
      if (!std::holds_alternative<T>(directions_[i].value)) continue;
      superseded[i] = directions_[i].tick == place;
      place = directions_[i].tick;
    }
    std::vector<Timed<model::DirectionValue>> kept;
    constexpr std::size_t kNothing = SIZE_MAX;
    std::size_t said = kNothing;  // where in `kept` the value in force stands
    for (std::size_t i = 0; i < directions_.size(); ++i) {
      if (superseded[i]) continue;
      if (const T* value = std::get_if<T>(&directions_[i].value)) {
        if (said != kNothing && std::get<T>(kept[said].value) == *value) continue;
        said = kept.size();
      }
      // After a ramp, the tempo from before it must be said again.
      if (std::holds_alternative<model::Cue>(directions_[i].value)) said = kNothing;
      kept.push_back(std::move(directions_[i]));
    }
    directions_ = std::move(kept);
  }

  const ScoreParts& parts_;
  const NoteTimes& times_;
  const BarLayout& layout_;
  base::Findings& findings_;
  Quarters quarters_;
  model::Score score_;
  std::vector<Timed<model::DirectionValue>> directions_;
};

}  // namespace

model::Score build_score(const ScoreParts& parts, const BarLayout& layout,
                         base::Findings& findings) {
  return ScoreBuilder(parts, layout, findings).build();
}

}  // namespace yubifu::midi
