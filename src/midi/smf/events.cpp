#include "midi/smf/events.h"

#include <algorithm>
#include <bit>
#include <cstddef>

namespace yubifu::midi {
namespace {

char byte(std::int64_t value) {
  return static_cast<char>(static_cast<unsigned char>(value & 0xFF));
}

// MIDI clocks in a quarter note, and thirty-seconds in one, as a time signature states them.
constexpr int kClocksPerQuarter = 24;
constexpr int kThirtySecondsPerQuarter = 8;

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
  for (int shift = 28; shift > 0; shift -= 7) {
    if (value >> shift != 0) out += byte(0x80 | (value >> shift & 0x7F));
  }
  out += byte(value & 0x7F);
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
  return {byte(status | channel), byte(first)};
}

std::string message(std::uint8_t status, int channel, int first, int second) {
  return message(status, channel, first) + byte(second);
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
  return meta_message(kMeter, std::string{byte(meter.beats),
                                          byte(std::countr_zero(static_cast<unsigned>(meter.unit))),
                                          byte(clocks), byte(kThirtySecondsPerQuarter)});
}

std::string key_message(const model::Key& key) {
  // A key of more than seven accidentals is written as the one that sounds the same.
  const int around = key.fifths > 7 ? -12 : key.fifths < -7 ? 12 : 0;
  return meta_message(
      kKey, std::string{byte(key.fifths + around), byte(key.mode == model::Mode::minor ? 1 : 0)});
}

}  // namespace yubifu::midi
