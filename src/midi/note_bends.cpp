#include "midi/note_bends.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/message.h"
#include "midi/rules.h"

namespace yubifu::midi {
namespace {

constexpr double kCentsPerKey = 100;
constexpr double kStanding = 0.9;       // of the note's length
constexpr double kSameCents = 1;        // two bends this close are one
constexpr double kSlideMissCents = 50;  // how near the next note a slide ends
constexpr double kSlideCents = 50;      // how far it goes at least
constexpr int kNextParts = 4;           // parts of a quarter note: the longest gap it crosses

// The bends during one note: how long each stood.
struct BendsOfNote {
  double longest = 0;  ///< cents that stood longest
  std::int64_t longest_ticks = 0;
  double average = 0;
  double last = 0;
};

BendsOfNote weigh(double first, const std::vector<BendPoint>& later, const PairedNote& note) {
  BendsOfNote result;
  std::map<double, std::int64_t> stood;
  double now = first;
  std::int64_t since = note.begin;
  double sum = 0;
  const auto stand_until = [&](std::int64_t tick) {
    const std::int64_t ticks = tick - since;
    const auto near = stood.lower_bound(now - kSameCents);
    const bool known = near != stood.end() && near->first <= now + kSameCents;
    (known ? near->second : stood[now]) += ticks;
    sum += now * static_cast<double>(ticks);
    since = tick;
  };
  for (const BendPoint& point : later) {
    stand_until(point.tick);
    now = point.cents;
  }
  stand_until(note.end);
  for (const auto& [cents, ticks] : stood) {
    if (ticks > result.longest_ticks) {
      result.longest = cents;
      result.longest_ticks = ticks;
    }
  }
  result.average = sum / static_cast<double>(note.end - note.begin);
  result.last = now;
  return result;
}

}  // namespace

std::vector<BentPitch> bent_pitches(const std::vector<PairedNote>& notes, const BendLine& line,
                                    int ppq, Findings& findings) {
  std::vector<BentPitch> pitches;
  pitches.reserve(notes.size());
  BendWalk walk(line);
  BendWalk ahead(line);
  for (std::size_t i = 0; i < notes.size(); ++i) {
    // What a note is bent to after the next one has begun is not heard.
    PairedNote note = notes[i];
    if (i + 1 < notes.size()) note.end = std::min(note.end, notes[i + 1].begin);
    const double key = kCentsPerKey * note.key;
    const double first = walk.at(note.begin);
    const std::vector<BendPoint> later = walk.inside(note.end);
    if (later.empty()) {
      pitches.push_back({key + first, Leaving::straight});
      continue;
    }
    const BendsOfNote bends = weigh(first, later, note);
    const auto length = static_cast<double>(note.end - note.begin);
    if (static_cast<double>(bends.longest_ticks) >= kStanding * length) {
      pitches.push_back({key + bends.longest, Leaving::straight});
      continue;
    }
    const bool followed =
        i + 1 < notes.size() && (notes[i + 1].begin - note.end) * kNextParts <= ppq;
    if (followed && std::abs(bends.last - bends.longest) >= kSlideCents) {
      const double next = kCentsPerKey * notes[i + 1].key + ahead.at(notes[i + 1].begin);
      if (std::abs(key + bends.last - next) <= kSlideMissCents) {
        findings.add(rule::slide_read, note.begin,
                     base::message("a bend that reaches the next note is a slide"));
        pitches.push_back({key + bends.longest, Leaving::slides_to_next});
        continue;
      }
    }
    findings.add(rule::moving_bend, note.begin,
                 base::message("a bend moves during a note: it gets the average pitch"));
    pitches.push_back({key + bends.average, Leaving::straight});
  }
  return pitches;
}

}  // namespace yubifu::midi
