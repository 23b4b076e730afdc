#include "midi/midi_bytes.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "midi/smf/events.h"
#include "support/invariants.h"

namespace yubifu::midi {
namespace {

std::string big_endian(std::size_t value, int bytes) {
  std::string text;
  for (int i = bytes - 1; i >= 0; --i) text += static_cast<char>((value >> (8 * i)) & 0xFF);
  return text;
}

}  // namespace

std::string hex(std::string_view digits) {
  std::string bytes;
  int half = -1;
  for (const char c : digits) {
    const auto value = std::string_view("0123456789ABCDEF").find(c);
    if (value == std::string_view::npos) continue;
    if (half < 0) {
      half = static_cast<int>(value);
    } else {
      bytes += static_cast<char>(half * 16 + static_cast<int>(value));
      half = -1;
    }
  }
  return bytes;
}

std::string midi_file(int format, int division, const std::vector<std::string>& tracks) {
  std::string file = "MThd" + big_endian(6, 4) + big_endian(static_cast<std::size_t>(format), 2) +
                     big_endian(tracks.size(), 2) +
                     big_endian(static_cast<std::size_t>(division), 2);
  for (const std::string& track : tracks) file += "MTrk" + big_endian(track.size(), 4) + track;
  return file;
}

std::string one_track(std::string_view digits, int division) {
  return midi_file(0, division, {hex(digits)});
}

TrackBytes& TrackBytes::event(std::int64_t tick, const std::string& bytes) {
  const bool off = (static_cast<unsigned char>(bytes[0]) & 0xF0) == kNoteOff;
  const bool on = (static_cast<unsigned char>(bytes[0]) & 0xF0) == kNoteOn;
  events_.push_back({tick, off ? 0 : on ? 2 : 1, bytes});
  return *this;
}

TrackBytes& TrackBytes::note(std::int64_t begin, std::int64_t end, int key, int channel) {
  event(begin, message(kNoteOn, channel, key, 80));
  return event(end, message(kNoteOff, channel, key, 64));
}

std::string TrackBytes::bytes(std::int64_t end) const {
  std::vector<Entry> sorted = events_;
  std::stable_sort(sorted.begin(), sorted.end(), [](const Entry& a, const Entry& b) {
    return std::pair(a.tick, a.order) < std::pair(b.tick, b.order);
  });
  std::string bytes;
  std::int64_t now = 0;
  for (const Entry& entry : sorted) {
    append_variable_length(bytes, static_cast<std::uint32_t>(entry.tick - now));
    bytes += entry.bytes;
    now = entry.tick;
  }
  append_variable_length(bytes, static_cast<std::uint32_t>(std::max(end, now) - now));
  return bytes + hex("FF 2F 00");
}

std::vector<std::string> note_words(const model::Score& score) {
  std::vector<std::string> words;
  std::vector<model::Rational> starts{0};
  for (const model::Measure& measure : score.measures) {
    starts.push_back(starts.back() + measure.length);
  }
  for (const model::Note& note : score.notes) {
    const model::Pitch pitch = note.tone.pitch.value();
    const auto cents = std::lround(pitch.cents);
    words.push_back(fmt::format(
        "{}{} at {} for {}", pitch.key, cents == 0 ? "" : fmt::format("{:+}", cents),
        model::to_text(starts[note.measure] + note.onset), model::to_text(note.duration)));
  }
  return words;
}

std::vector<std::string> told(const base::Diagnostics& diagnostics) {
  constexpr std::string_view kAtByte = "at byte ";
  std::vector<std::string> words;
  for (const base::Diagnostic& diagnostic : diagnostics) {
    std::string word = fmt::format("{} {}", name(diagnostic.severity), diagnostic.rule->name);
    if (diagnostic.message.starts_with(kAtByte)) {
      word += " " + diagnostic.message.substr(0, diagnostic.message.find(':'));
    }
    if (!diagnostic.measures.empty()) {
      word += fmt::format(" in bar {}", fmt::join(diagnostic.measures, ", "));
    }
    words.push_back(std::move(word));
  }
  return words;
}

std::string message_of(const base::Diagnostics& diagnostics, const base::Rule& rule) {
  for (const base::Diagnostic& diagnostic : diagnostics) {
    if (diagnostic.rule == &rule) return diagnostic.message;
  }
  ADD_FAILURE() << "nothing is told by " << rule.name;
  return {};
}

model::Score read_sound(std::string_view bytes, const MidiReadOptions& options) {
  auto outcome = read_midi(bytes, options);
  if (!outcome.value) {
    for (const auto& diagnostic : outcome.diagnostics) ADD_FAILURE() << diagnostic.message;
    return {};
  }
  for (const std::string& broken : support::broken_invariants(*outcome.value)) {
    ADD_FAILURE() << broken;
  }
  return std::move(*outcome.value);
}

base::Diagnostics read_messages(std::string_view bytes, const MidiReadOptions& options) {
  auto outcome = read_midi(bytes, options);
  if (outcome.value) {
    for (const std::string& broken : support::broken_invariants(*outcome.value)) {
      ADD_FAILURE() << broken;
    }
  }
  return std::move(outcome.diagnostics);
}

}  // namespace yubifu::midi
