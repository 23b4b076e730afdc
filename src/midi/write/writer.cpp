#include "midi/write/writer.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/message.h"
#include "base/numbers.h"
#include "midi/own_text.h"
#include "midi/smf/events.h"
#include "midi/smf/smf_bridge.h"
#include "midi/write/performance.h"
#include "midi/write/practice.h"
#include "midi/write/rules.h"
#include "midi/write/tick_grid.h"
#include "model/words.h"

namespace yubifu::midi {
namespace {

constexpr int kFluteChannel = 0;
constexpr int kBendRangeSemitones = 2;
constexpr int kNoParameter = 127;  // the null parameter, which closes the one chosen before
constexpr int kOffVelocity = 64;   // MIDI 1.0: for keyboards that do not measure it

// Wood blocks of the General MIDI drum map, high for the bar and low for the beat.
constexpr int kBarClickKey = 76;
constexpr int kBeatClickKey = 77;
constexpr int kBarClickVelocity = 110;
constexpr int kBeatClickVelocity = 80;
constexpr int kClicksPerQuarter = 8;  // how short one is

int bend_value(double cents) {
  const double range = 100.0 * kBendRangeSemitones;
  return kBendCentre + static_cast<int>(std::lround(cents / range * kBendCentre));
}

void check_range(int value, int least, int most, std::string_view what,
                 base::Diagnostics& diagnostics) {
  if (value >= least && value <= most) return;
  diagnostics.push_back(
      base::report(rule::midi_option, {},
                   base::message("the {} is {}, and must be {} to {}", what, value, least, most)));
}

base::Diagnostics check_options(const MidiWriteOptions& options) {
  base::Diagnostics found;
  check_range(options.program, 1, 128, base::message("program"), found);
  check_range(options.velocity, 1, 127, base::message("velocity"), found);
  if (options.ppq) {
    check_range(*options.ppq, 24, kMostTicksPerQuarter, base::message("number of ticks"), found);
  }
  check_range(options.practice.tempo_percent, 1, 1000,
              base::message("part of the tempo in percent"), found);
  check_range(options.practice.times, 1, 1000, base::message("number of times"), found);
  check_range(options.practice.count_in_bars, 0, 16, base::message("number of bars to count in"),
              found);
  return found;
}

std::string own_message(std::string_view key, std::string_view value) {
  return meta_message(kText, fmt::format("{}{}: {}", kOwnPrefix, key, value));
}

std::string own_message(const OwnText& text) {
  return own_message(text.key, text.value);
}

// Header fields that have no event of their own, in the words of the fingering text.
std::vector<std::string> header_texts(const model::Header& header) {
  std::vector<std::string> texts;
  for (const model::HeaderKey key : kKeptFields) {
    if (const auto text = model::field_text(header, key)) {
      texts.push_back(own_message(word_of(key), *text));
    }
  }
  for (const model::HeaderField& field : header.unknown) {
    texts.push_back(own_message(field.key, field.value));
  }
  return texts;
}

// Collects the events of one track in order of time, and at one tick in the order of adding.
class TrackBuilder {
 public:
  explicit TrackBuilder(std::size_t events = 0) { events_.reserve(events); }

  void add(std::int64_t tick, std::string bytes) { events_.push_back({tick, std::move(bytes)}); }

  Track finish(std::int64_t end) {
    sort_by_tick(events_);
    return {std::move(events_), end};
  }

 private:
  std::vector<Event> events_;
};

// What the file says its lyrics are.
std::optional<OwnText> lyrics_text(const Performance& music, Lyrics lyrics) {
  if (lyrics == Lyrics::fingering) return kLyricsAreFingering;
  const bool sung = std::any_of(music.notes.begin(), music.notes.end(),
                                [](const SoundingNote& note) { return !note.lyric.empty(); });
  if (!sung) return std::nullopt;
  return lyrics == Lyrics::shoga ? kLyricsAreShoga : kLyricsAreSong;
}

Track tempo_track(const Performance& music, const model::Header& header, Lyrics lyrics,
                  base::Diagnostics& diagnostics) {
  TrackBuilder track;
  if (!header.title.empty()) track.add(0, meta_message(kTrackName, header.title));
  if (!header.rights.empty()) track.add(0, meta_message(kCopyright, header.rights));
  for (std::string& text : header_texts(header)) track.add(0, std::move(text));
  if (music.exact) track.add(0, own_message(kTicksText, fmt::format("{}", music.ppq)));
  if (const auto own = lyrics_text(music, lyrics)) track.add(0, own_message(*own));
  for (const auto& flute : music.flutes)
    track.add(flute.tick, own_message(kFluteText, flute.value));
  for (const auto& meter : music.meters) {
    track.add(meter.tick,
              meter.value.is_free() ? own_message(kFreeTime) : meter_message(meter.value));
  }
  for (const auto& key : music.keys) track.add(key.tick, key_message(key.value));
  bool limited = false;
  for (const auto& tempo : music.tempos) {
    const double wanted = std::round(kMicrosecondsPerMinute / tempo.value);
    const double possible = std::clamp(wanted, 1.0, static_cast<double>(kSlowestTempo));
    limited = limited || possible != wanted;
    track.add(tempo.tick, tempo_message(static_cast<std::uint32_t>(possible)));
  }
  if (limited) {
    diagnostics.push_back(base::report(
        rule::tempo_range, {},
        base::message("a MIDI file holds no tempo under {:.2f} quarter notes a minute: it goes no "
                      "slower",
                      kMicrosecondsPerMinute / kSlowestTempo)));
  }
  for (const auto& section : music.sections) {
    track.add(section.tick, meta_message(kMarker, section.value));
  }
  for (const auto& text : music.texts) track.add(text.tick, meta_message(kText, text.value));
  return track.finish(music.end);
}

void choose_bend_range(TrackBuilder& track) {
  const auto control = [&](int controller, int value) {
    track.add(0, message(kController, kFluteChannel, controller, value));
  };
  control(kRpnCoarse, 0);
  control(kRpnFine, 0);
  control(kDataEntry, kBendRangeSemitones);
  control(kDataEntryFine, 0);
  control(kRpnCoarse, kNoParameter);
  control(kRpnFine, kNoParameter);
}

Track flute_track(const Performance& music, const std::string& name, int program) {
  constexpr std::size_t kEventsOfNote = 3;  // on, off, lyric; bends are few
  TrackBuilder track(kEventsOfNote * music.notes.size());
  track.add(0, meta_message(kTrackName, name));
  track.add(0, message(kProgram, kFluteChannel, program - 1));
  const bool bent = std::any_of(music.notes.begin(), music.notes.end(), [](const auto& note) {
    return bend_value(note.cents) != kBendCentre;
  });
  if (bent) {
    choose_bend_range(track);
    track.add(0, bend_message(kFluteChannel, kBendCentre));
  }
  int wheel = kBendCentre;
  const auto bend_to = [&](std::int64_t tick, int value) {
    if (value == wheel) return;
    wheel = value;
    track.add(tick, bend_message(kFluteChannel, value));
  };
  for (const SoundingNote& note : music.notes) {
    bend_to(note.begin, bend_value(note.cents));
    if (!note.lyric.empty()) track.add(note.begin, meta_message(kLyric, note.lyric));
    track.add(note.begin, message(kNoteOn, kFluteChannel, note.key, note.velocity));
    track.add(note.end, message(kNoteOff, kFluteChannel, note.key, kOffVelocity));
  }
  bend_to(music.notes.empty() ? 0 : music.notes.back().end, kBendCentre);
  return track.finish(music.end);
}

Track click_track(const PractisedPerformance& practised) {
  const Performance& music = practised.performance;
  TrackBuilder track;
  track.add(0, meta_message(kTrackName, "Click"));
  const std::int64_t length = std::max(1, music.ppq / kClicksPerQuarter);
  for (const auto& click : practised.clicks) {
    const bool bar = click.value == Stroke::bar;
    const int key = bar ? kBarClickKey : kBeatClickKey;
    const int velocity = bar ? kBarClickVelocity : kBeatClickVelocity;
    const std::int64_t end = std::min(click.tick + length, std::max(music.end, click.tick + 1));
    track.add(click.tick, message(kNoteOn, kDrumChannel, key, velocity));
    track.add(end, message(kNoteOff, kDrumChannel, key, kOffVelocity));
  }
  return track.finish(std::max(music.end, practised.clicks.back().tick + length));
}

bool is_heard(model::Mark mark) {
  return mark == model::Mark::fermata || mark == model::Mark::accent;
}

// What is left out, and the bars where.
class LeftOut {
 public:
  explicit LeftOut(const model::Score& score) : score_(score) {}

  void add(std::string_view what, std::size_t measure) { measures_[what].insert(measure); }

  void marks(const std::vector<model::Mark>& list, std::size_t measure) {
    for (const model::Mark mark : list) {
      if (!is_heard(mark)) add(word_of(mark), measure);
    }
  }

  void report(base::Diagnostics& diagnostics) const {
    for (const auto& [what, measures] : measures_) {
      std::vector<std::string> bars;
      for (const std::size_t measure : measures) {
        const std::string& number = score_.measures[measure].number;
        if (bars.empty() || bars.back() != number) bars.push_back(number);
      }
      diagnostics.push_back(
          base::report(rule::mark_left_out, {},
                       base::message("a MIDI file has no {}: left out in {}",
                                     base::translated(what), base::bar_list(bars))));
      diagnostics.back().measures = bars;
    }
  }

 private:
  const model::Score& score_;
  std::map<std::string_view, std::set<std::size_t>> measures_;
};

std::size_t comment_count(const model::Score& score) {
  std::size_t count = score.header.comments.size();
  for (const model::Measure& measure : score.measures) count += measure.comments.size();
  return count;
}

// The verses that the file says nothing of.
std::vector<std::string> silent_verses(const model::Score& score, Lyrics lyrics) {
  std::vector<std::string> silent;
  for (const std::string& verse : score.verses) {
    const bool sung =
        verse == model::kShogaVerse ? lyrics == Lyrics::shoga : lyrics == Lyrics::song;
    if (!sung) silent.push_back(verse);
  }
  return silent;
}

// What a MIDI file cannot hold: marks that are not heard, slurs, asked hole patterns, caesuras,
// dynamics without a meaning, verses other than `lyrics` and comments. Each kind is told once, with
// its bars.
void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics) {
  LeftOut left_out(score);
  for (const model::Note& note : score.notes) {
    left_out.marks(note.marks, note.measure);
    if (note.slur_to_next) left_out.add(base::catalogued("slur"), note.measure);
    if (note.asked_holes) left_out.add(base::catalogued("hole pattern"), note.measure);
  }
  for (const model::Rest& rest : score.rests) left_out.marks(rest.marks, rest.measure);
  for (const model::Direction& direction : score.directions) {
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    if (cue != nullptr && *cue == model::Cue::caesura)
      left_out.add(word_of(*cue), direction.measure);
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    if (dynamic != nullptr && !model::dynamic_meaning(dynamic->level)) {
      left_out.add(dynamic->level, direction.measure);
    }
  }
  left_out.report(diagnostics);
  if (const auto silent = silent_verses(score, lyrics); !silent.empty()) {
    std::string names;
    for (const std::string& verse : silent)
      names += (names.empty() ? "" : ", ") + base::message("verse {}", verse);
    diagnostics.push_back(base::report(
        rule::verse_left_out, {},
        base::message("a MIDI file holds one text under its notes; left out: {}", names),
        base::message("--lyrics fingering, song or shoga chooses the text")));
  }
  if (const std::size_t count = comment_count(score); count != 0) {
    diagnostics.push_back(
        base::report(rule::comment_left_out, {},
                     base::message("a MIDI file has no comments: {} left out", count)));
  }
}

std::string flute_name(const model::Score& score) {
  const std::string title = score.flutes.empty() ? std::string() : score.flutes.front().title;
  return title.empty() ? "Shinobue" : fmt::format("Shinobue {}", title);
}

}  // namespace

int bar_number(const model::Measure& measure) {
  int number = -1;
  std::from_chars(measure.number.data(), measure.number.data() + measure.number.size(), number);
  return number;
}

std::optional<BarRange> parse_bar_range(std::string_view text) {
  const std::size_t dash = text.find('-');
  const auto first = base::whole_number(text.substr(0, dash));
  const auto last =
      dash == std::string_view::npos ? first : base::whole_number(text.substr(dash + 1));
  if (!first || !last || *last < *first) return std::nullopt;
  return BarRange{*first, *last};
}

base::Outcome<std::string> write_midi(const model::Score& score, const MidiWriteOptions& options) {
  base::Outcome<std::string> result{std::nullopt, check_options(options)};
  if (!result.diagnostics.empty()) return result;
  auto performed = perform(score, options);
  base::append(result.diagnostics, std::move(performed.diagnostics));
  if (!performed.value) return result;
  report_left_out(score, options.lyrics, result.diagnostics);
  auto practised = practise(std::move(*performed.value), options.practice);
  base::append(result.diagnostics, std::move(practised.diagnostics));
  if (!practised.value) return result;
  const Performance& music = practised.value->performance;
  std::vector<Track> tracks;
  tracks.push_back(tempo_track(music, score.header, options.lyrics, result.diagnostics));
  tracks.push_back(flute_track(music, flute_name(score), options.program));
  if (!practised.value->clicks.empty()) tracks.push_back(click_track(*practised.value));
  result.value = to_bytes(tracks, music.ppq);
  return result;
}

}  // namespace yubifu::midi
