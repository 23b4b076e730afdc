#include "midi/write/writer.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/diagnostic.h"
#include "base/findings.h"
#include "base/message.h"
#include "base/numbers.h"
#include "midi/own_text.h"
#include "midi/smf/events.h"
#include "midi/smf/scan.h"
#include "midi/smf/smf_bridge.h"
#include "midi/write/performance.h"
#include "midi/write/rules.h"
#include "midi/write/tick_grid.h"
#include "model/words.h"

namespace yubifu::midi {
namespace {

constexpr double kSlowestTempo = 0xFFFFFF;  // microseconds a quarter note: three bytes (SMF 1.1)
constexpr int kFluteChannel = 0;
constexpr int kBendRangeSemitones = 2;
constexpr int kNoParameter = 127;  // the null parameter, which closes the one chosen before
constexpr int kOffVelocity = 64;   // MIDI 1.0: for keyboards that do not measure it

// Wood blocks of the General MIDI drum map, high for the bar and low for the beat.
constexpr std::pair kBarClick{76, 110};  // key and velocity
constexpr std::pair kBeatClick{77, 80};
constexpr int kClicksPerQuarter = 8;  // how short one is

int bend_value(double cents) {
  const double range = 100.0 * kBendRangeSemitones;
  return kBendCentre + static_cast<int>(std::lround(cents / range * kBendCentre));
}

base::Diagnostics check_options(const MidiWriteOptions& options) {
  base::Diagnostics found;
  const auto check = [&](int value, int least, int most, std::string_view what) {
    if (value >= least && value <= most) return;
    found.push_back(base::report(
        rule::midi_option, {},
        base::message("the {} is {}, and must be {} to {}", what, value, least, most)));
  };
  check(options.program, 1, 128, base::message("program"));
  check(options.velocity, 1, 127, base::message("velocity"));
  if (options.ppq) {
    check(*options.ppq, 24, kMostTicksPerQuarter, base::message("number of ticks"));
  }
  const Practice& practice = options.practice;
  check(practice.tempo_percent, 1, 1000, base::message("part of the tempo in percent"));
  check(practice.times, 1, 1000, base::message("number of times"));
  check(practice.count_in_bars, 0, 16, base::message("number of bars to count in"));
  return found;
}

std::string own_message(const OwnText& text) {
  return meta_message(kText, fmt::format("{}{}: {}", kOwnPrefix, text.key, text.value));
}

// What the file says its lyrics are.
std::optional<OwnText> lyrics_text(const Performance& music, Lyrics lyrics) {
  const bool sung = std::any_of(music.notes.begin(), music.notes.end(),
                                [](const SoundingNote& note) { return !note.lyric.empty(); });
  if (lyrics != Lyrics::fingering && !sung) return std::nullopt;
  return OwnText{kLyricsText, kLyricWords.word_of(lyrics)};
}

Track tempo_track(const Performance& music, const model::Header& header, Lyrics lyrics,
                  base::Diagnostics& diagnostics) {
  Track track;
  if (!header.title.empty()) track.add(0, meta_message(kTrackName, header.title));
  if (!header.rights.empty()) track.add(0, meta_message(kCopyright, header.rights));
  for (const model::HeaderKey key : kKeptFields) {
    if (const auto text = model::field_text(header, key)) {
      track.add(0, own_message({word_of(key), *text}));
    }
  }
  for (const model::HeaderField& field : header.unknown) {
    track.add(0, own_message({field.key, field.value}));
  }
  if (music.exact) track.add(0, own_message({kTicksText, std::to_string(music.ppq)}));
  if (const auto own = lyrics_text(music, lyrics)) track.add(0, own_message(*own));
  for (const auto& flute : music.flutes)
    track.add(flute.tick, own_message({kFluteText, flute.value}));
  for (const auto& meter : music.meters) {
    track.add(meter.tick,
              meter.value.is_free() ? own_message(kFreeTime) : meter_message(meter.value));
  }
  for (const auto& key : music.keys) track.add(key.tick, key_message(key.value));
  bool limited = false;
  for (const auto& tempo : music.tempos) {
    const double wanted = std::round(kMicrosecondsPerMinute / tempo.value);
    const double possible = std::clamp(wanted, 1.0, kSlowestTempo);
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
  track.end = music.end;
  return track;
}

// The events that choose the range of bends, and then no parameter.
constexpr std::array<std::pair<Controller, int>, 6> kBendRange{{{kRpnCoarse, 0},
                                                                {kRpnFine, 0},
                                                                {kDataEntry, kBendRangeSemitones},
                                                                {kDataEntryFine, 0},
                                                                {kRpnCoarse, kNoParameter},
                                                                {kRpnFine, kNoParameter}}};

Track flute_track(const Performance& music, const std::string& name, int program) {
  constexpr std::size_t kEventsOfNote = 3;  // on, off, lyric; bends are few
  Track track;
  track.events.reserve(kEventsOfNote * music.notes.size());
  track.add(0, meta_message(kTrackName, name));
  track.add(0, message(kProgram, kFluteChannel, program - 1));
  const bool bent = std::any_of(music.notes.begin(), music.notes.end(), [](const auto& note) {
    return bend_value(note.cents) != kBendCentre;
  });
  if (bent) {
    for (const auto& [controller, value] : kBendRange) {
      track.add(0, message(kController, kFluteChannel, controller, value));
    }
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
  track.end = music.end;
  return track;
}

Track click_track(const Performance& music) {
  Track track;
  track.add(0, meta_message(kTrackName, "Click"));
  const std::int64_t length = std::max(1, music.ppq / kClicksPerQuarter);
  for (const auto& click : music.clicks) {
    const auto [key, velocity] = click.value == Stroke::bar ? kBarClick : kBeatClick;
    const std::int64_t end = std::min(click.tick + length, std::max(music.end, click.tick + 1));
    track.add(click.tick, message(kNoteOn, kDrumChannel, key, velocity));
    track.add(end, message(kNoteOff, kDrumChannel, key, kOffVelocity));
  }
  track.end = std::max(music.end, music.clicks.back().tick + length);
  return track;
}

// What a MIDI file cannot hold: marks that are not heard, slurs, asked hole patterns, caesuras,
// dynamics without a meaning, verses other than `lyrics`, comments. Each kind is told once.
void report_left_out(const model::Score& score, Lyrics lyrics, base::Diagnostics& diagnostics) {
  std::set<std::pair<std::string_view, std::size_t>> left_out;  // what, and in which measure
  const auto marks = [&](const std::vector<model::Mark>& list, std::size_t measure) {
    for (const model::Mark mark : list) {
      const bool heard = mark == model::Mark::fermata || mark == model::Mark::accent;
      if (!heard) left_out.emplace(word_of(mark), measure);
    }
  };
  for (const model::Note& note : score.notes) {
    marks(note.marks, note.measure);
    if (note.slur_to_next) left_out.emplace(base::catalogued("slur"), note.measure);
    if (note.asked_holes) left_out.emplace(base::catalogued("hole pattern"), note.measure);
  }
  for (const model::Rest& rest : score.rests) marks(rest.marks, rest.measure);
  for (const model::Direction& direction : score.directions) {
    const auto* cue = std::get_if<model::Cue>(&direction.value);
    if (cue != nullptr && *cue == model::Cue::caesura) {
      left_out.emplace(word_of(*cue), direction.measure);
    }
    const auto* dynamic = std::get_if<model::Dynamic>(&direction.value);
    if (dynamic != nullptr && !model::dynamic_meaning(dynamic->level)) {
      left_out.emplace(dynamic->level, direction.measure);
    }
  }
  base::Findings findings;
  for (const auto& [what, measure] : left_out) {
    findings.add(base::report(rule::mark_left_out, {}, base::translated(what)), measure);
  }
  base::append(diagnostics,
               findings.diagnostics(model::BarNumbers{score}, [](const base::Finding& finding) {
                 return base::message("a MIDI file has no {}: left out in {}", finding.told.message,
                                      base::bar_list(finding.told.measures));
               }));
  std::string silent;
  for (const std::string& verse : score.verses) {
    const Lyrics said_by = verse == model::kShogaVerse ? Lyrics::shoga : Lyrics::song;
    if (lyrics != said_by)
      silent += (silent.empty() ? "" : ", ") + base::message("verse {}", verse);
  }
  if (!silent.empty()) {
    diagnostics.push_back(base::report(
        rule::verse_left_out, {},
        base::message("a MIDI file holds one text under its notes; left out: {}", silent),
        base::message("--lyrics fingering, song or shoga chooses the text")));
  }
  std::size_t count = score.header.comments.size();
  for (const model::Measure& measure : score.measures) count += measure.comments.size();
  if (count != 0) {
    diagnostics.push_back(
        base::report(rule::comment_left_out, {},
                     base::message("a MIDI file has no comments: {} left out", count)));
  }
}

}  // namespace

int bar_number(const model::Measure& measure) {
  std::string_view number = measure.number;
  return base::take_number(number).value_or(-1);
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
  const Performance& music = *practised.value;
  std::vector<Track> tracks;
  tracks.push_back(tempo_track(music, score.header, options.lyrics, result.diagnostics));
  const std::string flute = score.flutes.empty() ? std::string() : score.flutes.front().title;
  tracks.push_back(
      flute_track(music, flute.empty() ? "Shinobue" : "Shinobue " + flute, options.program));
  if (!music.clicks.empty()) tracks.push_back(click_track(music));
  for (Track& track : tracks) sort_by_tick(track.events);
  result.value = to_bytes(tracks, music.ppq);
  return result;
}

}  // namespace yubifu::midi
