#include "hearing/tones.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "hearing/rules.h"
#include "model/pitch.h"

namespace yubifu::hearing {
namespace {

using base::message;

constexpr double kTellDriftCents = 15;
constexpr double kTellClipped = 0.001;
constexpr std::size_t kMostPlaces = 8;
constexpr std::array kMains{50.0, 60.0};  // Hz
// Sounds that are no tones, beyond which a recording is no flute's.
constexpr std::size_t kMostStretches = 4000;

bool is_overblown_of(const Tone& one, const Tone& other) {
  constexpr double kNearCents = 60;
  constexpr double kMostGapSeconds = 0.06;
  constexpr double kMuchShorter = 0.7;
  const double gap = std::max(one.begin, other.begin) - std::min(one.end, other.end);
  const double cents = std::abs(model::cents_between(other.pitch.hz, one.pitch.hz));
  const bool is_overtone =
      std::abs(cents - model::kOctaveCents) < kNearCents || std::abs(cents - 1902) < kNearCents;
  return is_overtone && gap < kMostGapSeconds &&
         one.end - one.begin < kMuchShorter * (other.end - other.begin);
}

// Overtones of the mains sound as long as the recording runs.
bool is_hum(const Tone& tone, double whole_seconds) {
  constexpr double kHighestHum = 500;
  constexpr double kNearCents = 3;
  constexpr double kNearlyWhole = 0.9;
  if (tone.end - tone.begin < kNearlyWhole * whole_seconds || tone.pitch.hz > kHighestHum) {
    return false;
  }
  return std::any_of(kMains.begin(), kMains.end(), [&](double mains) {
    const double overtone = mains * std::round(tone.pitch.hz / mains);
    return std::abs(model::cents_between(overtone, tone.pitch.hz)) < kNearCents;
  });
}

// Takes those out for which `is` holds.
std::vector<Tone> taken(std::vector<Tone>& tones, const std::function<bool(const Tone&)>& is) {
  std::vector<Tone> out;
  std::copy_if(tones.begin(), tones.end(), std::back_inserter(out), is);
  std::erase_if(tones, is);
  return out;
}

// A tone that starts or ends in another octave within one breath is one tone.
std::vector<Tone> taken_overblown(std::vector<Tone>& tones) {
  std::vector<Tone> out;
  for (std::size_t i = 0; i < tones.size();) {
    const bool before = i > 0 && is_overblown_of(tones[i], tones[i - 1]);
    const bool after = i + 1 < tones.size() && is_overblown_of(tones[i], tones[i + 1]);
    if (before || after) {
      out.push_back(tones[i]);
      tones.erase(tones.begin() + static_cast<std::ptrdiff_t>(i));
    } else {
      ++i;
    }
  }
  return out;
}

void tell(base::Diagnostics& findings, const base::Rule& rule, const std::vector<Tone>& tones,
          std::string text, std::string hint) {
  if (tones.empty()) return;
  findings.push_back(base::report(rule, std::nullopt, std::move(text), std::move(hint)));
}

void sort_out(std::vector<Tone>& tones, double whole_seconds, base::Diagnostics& findings) {
  const auto hum = taken(tones, [&](const Tone& tone) { return is_hum(tone, whole_seconds); });
  tell(findings, rule::tone_hum, hum, message("at {}: hum of the mains", seconds_text(hum)),
       message("if this was one long tone of the flute, record it with a pause before and after"));
  const auto overblown = taken_overblown(tones);
  tell(findings, rule::tone_overblown, overblown,
       message("at {}: a tone in another octave within the breath of a longer one is passed over",
               seconds_text(overblown)),
       {});
  const auto brief = taken(tones, [](const Tone& tone) { return tone.hold == Hold::brief; });
  tell(findings, rule::tone_short, brief,
       message("at {}: what sounds for less than {} s is passed over", seconds_text(brief),
               kLeastToneSeconds),
       message("hold each sign for a second or longer"));
  const auto wavering = taken(tones, [](const Tone& tone) { return tone.hold == Hold::wavering; });
  tell(findings, rule::tone_wavers, wavering,
       message("at {}: a tone that keeps no pitch is left out", seconds_text(wavering)),
       message("play it once more with an even breath, nearer to the microphone"));
}

void doubt(const std::vector<Tone>& tones, base::Diagnostics& findings) {
  std::vector<Tone> clipped;
  std::vector<Tone> drifting;
  for (const Tone& tone : tones) {
    if (tone.clipped >= kTellClipped) clipped.push_back(tone);
    if (std::abs(tone.pitch.drift_cents) >= kTellDriftCents) drifting.push_back(tone);
  }
  tell(findings, rule::tone_clipped, clipped,
       message("at {}: too loud for the recording", seconds_text(clipped)),
       message("the pitch is right all the same; record softer to be sure"));
  tell(findings, rule::tone_drifts, drifting,
       message("at {}: the pitch moves by {} cents or more from beginning to end, and its "
               "middle is taken",
               seconds_text(drifting), kTellDriftCents),
       message("play it once more with an even breath"));
}

}  // namespace

std::string seconds_text(const std::vector<Tone>& tones) {
  std::string text;
  for (std::size_t i = 0; i < std::min(tones.size(), kMostPlaces); ++i) {
    if (i > 0) text += ", ";
    text += fmt::format("{:.1f}-{:.1f}", tones[i].begin, tones[i].end);
  }
  if (tones.size() > kMostPlaces) {
    return message("{} s and {} more", text, tones.size() - kMostPlaces);
  }
  return message("{} s", text);
}

base::Outcome<std::vector<Tone>> hear(Recording& recording) {
  base::Outcome<std::vector<Tone>> outcome;
  const Survey whole = survey(recording);
  Listener listener(recording, whole.channel);
  StretchFinder finder(listener.rate(), whole.sounding_db());
  std::vector<Tone> tones;
  const auto gather = [&] {
    for (const Tone& tone : finder.ended()) {
      if (tone.hold != Hold::going_on) {
        tones.push_back(tone);
      } else if (!tones.empty()) {
        tones.back().end = tone.end;
      }
    }
  };
  Block block;
  for (listener.next(block); !block.samples.empty() && tones.size() < kMostStretches;
       listener.next(block)) {
    finder.take(block);
    gather();
  }
  finder.finish();
  gather();
  sort_out(tones, whole.seconds, outcome.diagnostics);
  if (tones.empty()) {
    outcome.diagnostics.push_back(base::report(
        rule::recording_silent, std::nullopt,
        message("no tone is heard in {:.1f} s of recording", whole.seconds),
        message("record the signs one after another, each for a second, with a breath between")));
    return outcome;
  }
  if (tones.size() > kMostTones) {
    outcome.diagnostics.push_back(base::report(
        rule::tones_many, std::nullopt,
        message("more than {} tones are heard up to {:.0f} s", kMostTones, tones[kMostTones].end),
        message("record the signs of one flute, once or twice each")));
    return outcome;
  }
  doubt(tones, outcome.diagnostics);
  outcome.value = std::move(tones);
  return outcome;
}

}  // namespace yubifu::hearing
