#include "midi/tempo_list.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "midi/messages.h"

namespace yubifu::midi {
namespace {

// A multiple of every division that the quantiser knows.
constexpr int kTicksForSeconds = 10'080;
constexpr double kMicrosecondsPerSecond = 1e6;
constexpr double kDropFrameRate = 30'000.0 / 1001;  // what 29 stands for (SMPTE 12M)

std::uint32_t microseconds_of(std::string_view data) {
  std::uint32_t value = 0;
  for (const char byte : data) value = value << 8 | static_cast<std::uint8_t>(byte);
  return value;
}

// Ticks of film to ticks of music, over the tempos.
class FilmClock {
 public:
  FilmClock(const SmpteTime& film, const std::vector<Timed<std::uint32_t>>& tempos) {
    const double frames = film.frames_per_second == 29 ? kDropFrameRate : film.frames_per_second;
    microseconds_ = kMicrosecondsPerSecond / (frames * film.ticks_per_frame);
    double music = 0;
    for (const Timed<std::uint32_t>& tempo : tempos) {
      if (!spans_.empty()) {
        const Span& last = spans_.back();
        music += static_cast<double>(tempo.tick - last.film) * last.ticks_per_tick;
      }
      const double ticks = microseconds_ * kTicksForSeconds / tempo.value;
      spans_.push_back({tempo.tick, music, ticks});
      slack_ = std::max(slack_, ticks);
    }
  }

  std::int64_t tick(std::int64_t film) const {
    auto next = std::upper_bound(spans_.begin(), spans_.end(), film,
                                 [](std::int64_t t, const Span& span) { return t < span.film; });
    const Span& span = *std::prev(next);
    return std::llround(span.music + static_cast<double>(film - span.film) * span.ticks_per_tick);
  }

  double slack() const { return slack_; }

 private:
  struct Span {
    std::int64_t film = 0;
    double music = 0;
    double ticks_per_tick = 0;
  };
  double microseconds_ = 0;  // of one tick of film
  double slack_ = 0;
  std::vector<Span> spans_;
};

}  // namespace

std::vector<Timed<std::uint32_t>> tempo_list(const std::vector<MetaEvent>& metas) {
  std::vector<Timed<std::uint32_t>> all{{0, kUsualMicroseconds}};
  for (const MetaEvent& meta : metas) {
    if (meta.type == kTempo) all.push_back({meta.tick, microseconds_of(meta.data)});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.tick < b.tick; });
  std::vector<Timed<std::uint32_t>> list;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool replaced = i + 1 < all.size() && all[i + 1].tick == all[i].tick;
    if (replaced || (!list.empty() && list.back().value == all[i].value)) continue;
    list.push_back(all[i]);
  }
  return list;
}

MusicalTime to_musical_time(ScannedFile& file, std::vector<ChannelEvent>& events) {
  if (const auto* quarter = std::get_if<TicksPerQuarter>(&file.division)) {
    return {quarter->ticks, 0};
  }
  const FilmClock clock(std::get<SmpteTime>(file.division), tempo_list(file.metas));
  for (ChannelEvent& event : events) event.tick = clock.tick(event.tick);
  for (MetaEvent& meta : file.metas) meta.tick = clock.tick(meta.tick);
  for (std::int64_t& end : file.track_ends) end = clock.tick(end);
  return {kTicksForSeconds, clock.slack()};
}

}  // namespace yubifu::midi
