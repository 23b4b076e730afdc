#include "midi/smf/events.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>

namespace yubifu::midi {
namespace {

char byte(std::uint32_t value) {
  return static_cast<char>(static_cast<unsigned char>(value & 0xFF));
}

// MIDI clocks in a quarter note, and thirty-seconds in one, as a time signature states them.
constexpr int kClocksPerQuarter = 24;
constexpr std::uint32_t kThirtySecondsPerQuarter = 8;

}  // namespace

std::uint32_t from_big_endian(std::string_view bytes) {
  std::uint32_t value = 0;
  for (const char byte : bytes) value = value << 8 | static_cast<std::uint8_t>(byte);
  return value;
}

std::string to_big_endian(std::uint32_t value, std::size_t bytes) {
  std::string text(bytes, '\0');
  for (auto at = text.rbegin(); at != text.rend(); ++at, value >>= 8) *at = byte(value);
  return text;
}

void append_variable_length(std::string& out, std::uint32_t value) {
  std::array<char, 5> groups{};
  std::size_t count = 0;
  do {
    groups[count] = byte((value & 0x7F) | (count == 0 ? 0 : 0x80));
    ++count;
    value >>= 7;
  } while (value != 0);
  while (count != 0) out += groups[--count];
}

void append_wait(std::string& out, std::int64_t& now, std::int64_t tick) {
  for (; tick - now > kMostDelta; now += kMostDelta) {
    append_variable_length(out, static_cast<std::uint32_t>(kMostDelta));
    out += meta_message(kText, "");
  }
  append_variable_length(out, static_cast<std::uint32_t>(tick - now));
  now = tick;
}

std::string message(std::uint8_t status, int channel, int first) {
  return {byte(static_cast<std::uint32_t>(status | channel)),
          byte(static_cast<std::uint32_t>(first))};
}

std::string message(std::uint8_t status, int channel, int first, int second) {
  return message(status, channel, first) + byte(static_cast<std::uint32_t>(second));
}

std::string bend_message(int channel, int value) {
  return message(kPitchBend, channel, value & 0x7F, value >> 7);
}

std::string meta_message(MetaType type, std::string_view data) {
  std::string bytes{byte(kMeta), byte(type)};
  append_variable_length(bytes, static_cast<std::uint32_t>(data.size()));
  bytes += data;
  return bytes;
}

std::string tempo_message(std::uint32_t microseconds) {
  return meta_message(kTempo, to_big_endian(microseconds, 3));
}

std::string meter_message(const model::Meter& meter) {
  const model::Rational felt = felt_beat(meter, default_beat(meter));
  const auto clocks = std::max<std::int64_t>(1, (felt * kClocksPerQuarter).floor());
  const std::array<char, 4> data{
      byte(static_cast<std::uint32_t>(meter.beats)),
      byte(static_cast<std::uint32_t>(std::countr_zero(static_cast<unsigned>(meter.unit)))),
      byte(static_cast<std::uint32_t>(clocks)), byte(kThirtySecondsPerQuarter)};
  return meta_message(kMeter, {data.data(), data.size()});
}

std::string key_message(const model::Key& key) {
  // A key of more than seven accidentals is written as the one that sounds the same.
  const int around = key.fifths > 7 ? -12 : key.fifths < -7 ? 12 : 0;
  const std::array<char, 2> data{byte(static_cast<std::uint32_t>(key.fifths + around)),
                                 byte(key.mode == model::Mode::minor ? 1 : 0)};
  return meta_message(kKey, {data.data(), data.size()});
}

}  // namespace yubifu::midi
