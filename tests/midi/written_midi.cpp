#include "midi/written_midi.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "fingering/resolve.h"
#include "midi/midi_bytes.h"
#include "notation/read/reader.h"
#include "support/invariants.h"

namespace yubifu::midi {
namespace {

// Reads bytes one after the other; a fault ends the reading and fails the test.
class StrictReader {
 public:
  explicit StrictReader(std::string_view bytes) : bytes_(bytes) {}

  bool at_end() const { return at_ >= bytes_.size(); }

  int byte() {
    if (at_end()) {
      ADD_FAILURE() << "the bytes end too early";
      return 0;
    }
    return static_cast<unsigned char>(bytes_[at_++]);
  }

  int number(int bytes) {
    int value = 0;
    for (int i = 0; i < bytes; ++i) value = value << 8 | byte();
    return value;
  }

  std::int64_t variable_length() {
    std::int64_t value = 0;
    for (int i = 0; i < 4; ++i) {
      const int next = byte();
      value = value << 7 | (next & 0x7F);
      if (next < 0x80) return value;
    }
    ADD_FAILURE() << "a number of more than four bytes";
    return value;
  }

  int data() {
    const int value = byte();
    EXPECT_LT(value, 0x80) << "a data byte at " << at_ - 1;
    return value;
  }

  std::string_view text(std::size_t length) {
    const std::string_view found = bytes_.substr(at_, length);
    EXPECT_EQ(found.size(), length);
    at_ += length;
    return found;
  }

 private:
  std::string_view bytes_;
  std::size_t at_ = 0;
};

std::string meta_words(int type, std::string_view data) {
  static const std::map<int, std::string> kTexts{
      {1, "text"}, {2, "copyright"}, {3, "name"}, {5, "lyric"}, {6, "marker"}};
  if (const auto text = kTexts.find(type); text != kTexts.end()) {
    return fmt::format("{} {}", text->second, data);
  }
  StrictReader bytes(data);
  switch (type) {
    case 0x2F:
      EXPECT_TRUE(data.empty());
      return "end";
    case 0x51:
      EXPECT_EQ(data.size(), 3U);
      return fmt::format("tempo {}", bytes.number(3));
    case 0x58: {
      EXPECT_EQ(data.size(), 4U);
      const int beats = bytes.byte();
      const int unit = 1 << bytes.byte();
      const int clocks = bytes.byte();
      return fmt::format("meter {} {} {} {}", beats, unit, clocks, bytes.byte());
    }
    case 0x59: {
      EXPECT_EQ(data.size(), 2U);
      const int fifths = static_cast<signed char>(bytes.byte());
      return fmt::format("key {} {}", fifths, bytes.byte() == 0 ? "major" : "minor");
    }
    default:
      ADD_FAILURE() << "a meta event of type " << type;
      return "?";
  }
}

std::string channel_words(int status, StrictReader& bytes) {
  const int channel = status & 0x0F;
  const int first = bytes.data();
  switch (status & 0xF0) {
    case 0x80:
      return fmt::format("off {} {} {}", channel, first, bytes.data());
    case 0x90:
      return fmt::format("on {} {} {}", channel, first, bytes.data());
    case 0xB0:
      return fmt::format("control {} {} {}", channel, first, bytes.data());
    case 0xC0:
      return fmt::format("program {} {}", channel, first);
    case 0xE0:
      return fmt::format("bend {} {}", channel, first | bytes.data() << 7);
    default:
      ADD_FAILURE() << "an event without its status byte, or of an unknown kind: " << status;
      return "?";
  }
}

std::vector<std::string> track_words(std::string_view track) {
  std::vector<std::string> words;
  StrictReader bytes(track);
  std::int64_t tick = 0;
  while (!bytes.at_end() && !testing::Test::HasFailure()) {
    tick += bytes.variable_length();
    const int status = bytes.byte();
    if (status == 0xFF) {
      const int type = bytes.byte();
      const auto length = static_cast<std::size_t>(bytes.variable_length());
      words.push_back(fmt::format("{} {}", tick, meta_words(type, bytes.text(length))));
    } else {
      words.push_back(fmt::format("{} {}", tick, channel_words(status, bytes)));
    }
  }
  EXPECT_FALSE(words.empty() || !words.back().ends_with(" end")) << "no End of Track";
  return words;
}

std::string kind_of(const std::string& event) {
  const std::size_t space = event.find(' ');
  return event.substr(space + 1, event.find(' ', space + 1) - space - 1);
}

}  // namespace

std::vector<std::string> WrittenMidi::events(std::size_t track,
                                             const std::vector<std::string>& kinds) const {
  std::vector<std::string> found;
  if (track >= tracks.size()) return found;
  for (const std::string& event : tracks[track]) {
    if (std::find(kinds.begin(), kinds.end(), kind_of(event)) != kinds.end()) {
      found.push_back(event);
    }
  }
  return found;
}

std::vector<std::string> WrittenMidi::notes() const {
  std::vector<std::string> found;
  for (const std::string& event : events(1, {"on", "off"})) {
    const std::string tick = event.substr(0, event.find(' '));
    const std::size_t key = event.find(" 0 ") + 3;
    if (kind_of(event) == "on") {
      found.push_back(fmt::format("{}-? {}", tick, event.substr(key, event.find(' ', key) - key)));
    } else if (found.empty() || found.back().find('?') == std::string::npos) {
      ADD_FAILURE() << "a note ends that did not begin: " << event;
    } else {
      found.back().replace(found.back().find('?'), 1, tick);
    }
  }
  return found;
}

WrittenMidi decoded(std::string_view file) {
  WrittenMidi found;
  StrictReader bytes(file);
  EXPECT_EQ(bytes.text(4), "MThd");
  EXPECT_EQ(bytes.number(4), 6);
  found.format = bytes.number(2);
  const int count = bytes.number(2);
  found.ppq = bytes.number(2);
  for (int i = 0; i < count && !testing::Test::HasFailure(); ++i) {
    EXPECT_EQ(bytes.text(4), "MTrk");
    const auto length = static_cast<std::size_t>(bytes.number(4));
    found.tracks.push_back(track_words(bytes.text(length)));
  }
  EXPECT_TRUE(bytes.at_end());
  return found;
}

model::Score score_of(std::string_view text) {
  const bool headed = text.find("\n\n") != std::string_view::npos;
  const std::string whole = headed ? std::string(text) : fmt::format("flute: 6\n\n{}\n", text);
  auto read = notation::read_notation(base::SourceText("test", whole));
  for (const auto& diagnostic : read.diagnostics) {
    if (diagnostic.severity == base::Severity::error) ADD_FAILURE() << diagnostic.message;
  }
  if (!read.value) return {};
  for (const std::string& broken : support::broken_invariants(*read.value)) ADD_FAILURE() << broken;
  auto resolved = fingering::resolve(std::move(*read.value), {});
  if (resolved.value) return std::move(resolved.value->score);
  ADD_FAILURE() << "not resolved";
  return {};
}

WrittenMidi written(std::string_view text, const MidiWriteOptions& options) {
  return written(score_of(text), options);
}

WrittenMidi written(const model::Score& score, const MidiWriteOptions& options) {
  const auto outcome = write_midi(score, options);
  WrittenMidi found;
  if (outcome.value) found = decoded(*outcome.value);
  found.said = told(outcome.diagnostics);
  return found;
}

}  // namespace yubifu::midi
