#include "hearing/signs.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "hearing/rules.h"

namespace yubifu::hearing {
namespace {

using base::message;

// Tones nearer than this are one sign played again.
constexpr double kAgainCents = 40;
// Farther from every octave than this a doubtful tone is left out.
constexpr double kSettledCents = 400;

// A tone by its pitch in cents; of a doubtful one the octave counts for nothing.
struct PlayedPitch {
  double cents = 0;
  bool any_octave = false;
};

// All in cents by which intervals differ, our choice: a flute may have a step a third of a tone
// wider than another, but a tone that fits nowhere is no sign.
constexpr double kUnlike = 300;
constexpr double kMissing = 250;
constexpr double kExtra = 250;
constexpr double kRepeated = 5;
constexpr double kOtherWay = 400;  // down instead of up
constexpr double kMostDifference = 600;
// Another way must cost so much more, or it might be the right one.
constexpr double kSure = 120;
// Of each cent by which the keys differ. Whatever the flute sounds that this one is like, its key
// alone makes nothing sure.
constexpr double kOtherKey = 0.35;
constexpr double kMostOtherKey = 300;
static_assert(kOtherKey * kMostOtherKey < kSure);

constexpr double kLevel = 20;  // an interval too small to be up or down
// Signs and tones that may be passed over in one go.
constexpr std::size_t kReach = 12;
constexpr double kNever = std::numeric_limits<double>::infinity();

double interval(const PlayedPitch& from, const PlayedPitch& to, double wanted) {
  const double cents = to.cents - from.cents;
  if (!from.any_octave && !to.any_octave) return cents;
  return cents - model::kOctaveCents * std::round((cents - wanted) / model::kOctaveCents);
}

bool is_other_way(double cents, double wanted) {
  return std::abs(cents) > kLevel && std::abs(wanted) > kLevel && (cents > 0) != (wanted > 0);
}

bool is_repeated(const PlayedPitch& from, const PlayedPitch& to) {
  return std::abs(interval(from, to, 0)) < kAgainCents;
}

// The best cost of everything before and after each pair of a played and a wanted pitch.
class Ways {
 public:
  Ways(const std::vector<PlayedPitch>& played, const std::vector<double>& wanted)
      : played_(played),
        wanted_(wanted),
        before_(played.size() * wanted.size(), kNever),
        after_(before_) {
    for (std::size_t i = 0; i < played_.size(); ++i) {
      for (std::size_t j = 0; j < wanted_.size(); ++j) fill_before(i, j);
    }
    for (std::size_t i = played_.size(); i-- > 0;) {
      for (std::size_t j = wanted_.size(); j-- > 0;) fill_after(i, j);
    }
  }

  // The best of all ways that have this pair.
  double with(std::size_t i, std::size_t j) const { return before_[at(i, j)] + after_[at(i, j)]; }

  // The best of all ways in which a wanted pitch is missing.
  double without(std::size_t j) const {
    double best = kMissing * static_cast<double>(wanted_.size()) +
                  kExtra * static_cast<double>(played_.size());
    for (std::size_t i = 0; i < played_.size(); ++i) {
      for (std::size_t k = 0; k < wanted_.size(); ++k) {
        if (k > j) best = std::min(best, start(i, k) + after_[at(i, k)]);
        if (k < j) best = std::min(best, before_[at(i, k)] + end(i, k));
        if (k >= j) continue;
        for_next(i, k, [&](std::size_t next, std::size_t next_k, double cost) {
          if (next_k > j) {
            best = std::min(best, before_[at(i, k)] + cost + after_[at(next, next_k)]);
          }
        });
      }
    }
    return best;
  }

 private:
  std::size_t at(std::size_t i, std::size_t j) const { return i * wanted_.size() + j; }

  double start(std::size_t i, std::size_t j) const {
    const double key = std::abs(interval({wanted_[j], false}, played_[i], 0));
    return kExtra * static_cast<double>(i) + kMissing * static_cast<double>(j) +
           kOtherKey * std::min(kMostOtherKey, key);
  }

  // What is left over after the last pair; a repeat of its tone is none.
  double end(std::size_t i, std::size_t j) const {
    return extra(i, played_.size()) + kMissing * static_cast<double>(wanted_.size() - 1 - j);
  }

  double extra(std::size_t i, std::size_t next) const {
    double cost = 0;
    bool repeats = true;
    for (std::size_t k = i + 1; k < next; ++k) {
      repeats = repeats && is_repeated(played_[i], played_[k]);
      cost += repeats ? kRepeated : kExtra;
    }
    return cost;
  }

  double step(std::size_t i, std::size_t j, std::size_t next, std::size_t next_j) const {
    const double wanted = wanted_[next_j] - wanted_[j];
    const double got = interval(played_[i], played_[next], wanted);
    return std::min(kMostDifference, std::abs(got - wanted)) +
           (is_other_way(got, wanted) ? kOtherWay : 0) + extra(i, next) +
           kMissing * static_cast<double>(next_j - j - 1);
  }

  template <typename Use>
  void for_next(std::size_t i, std::size_t j, const Use& use) const {
    for (std::size_t next = i + 1; next < std::min(played_.size(), i + kReach); ++next) {
      for (std::size_t next_j = j + 1; next_j < std::min(wanted_.size(), j + kReach); ++next_j) {
        use(next, next_j, step(i, j, next, next_j));
      }
    }
  }

  void fill_before(std::size_t i, std::size_t j) {
    before_[at(i, j)] = std::min(before_[at(i, j)], start(i, j));
    for_next(i, j, [&](std::size_t next, std::size_t next_j, double cost) {
      double& best = before_[at(next, next_j)];
      best = std::min(best, before_[at(i, j)] + cost);
    });
  }

  void fill_after(std::size_t i, std::size_t j) {
    double best = end(i, j);
    for_next(i, j, [&](std::size_t next, std::size_t next_j, double cost) {
      best = std::min(best, cost + after_[at(next, next_j)]);
    });
    after_[at(i, j)] = best;
  }

  const std::vector<PlayedPitch>& played_;
  const std::vector<double>& wanted_;
  std::vector<double> before_;
  std::vector<double> after_;
};

// Lays the rows so that the intervals between neighbours agree best; a wanted pitch may be
// missing, a played one may belong to none or repeat the one before it. `wanted` in cents; a
// difference of key between the two rows counts little. Gives the played pitch of each wanted one:
// none where there is none, or where another way of laying the rows is nearly as good.
std::vector<std::optional<std::size_t>> aligned(const std::vector<PlayedPitch>& played,
                                                const std::vector<double>& wanted) {
  std::vector<std::optional<std::size_t>> found(wanted.size());
  if (played.empty()) return found;
  const Ways ways(played, wanted);
  for (std::size_t j = 0; j < wanted.size(); ++j) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < played.size(); ++i) {
      if (ways.with(i, j) < ways.with(best, j)) best = i;
    }
    double other = ways.without(j);
    if (other <= ways.with(best, j)) continue;
    for (std::size_t i = 0; i < played.size(); ++i) {
      // A repeat of the same tone is no other way.
      if (i != best && !is_repeated(played[i], played[best])) {
        other = std::min(other, ways.with(i, j));
      }
    }
    if (other - ways.with(best, j) >= kSure) found[j] = best;
  }
  return found;
}

// True where both rows are as long, go up and down at the same places, and no step is very unlike
// the wanted one.
bool go_together(const std::vector<PlayedPitch>& played, const std::vector<double>& wanted) {
  if (played.size() != wanted.size()) return false;
  for (std::size_t i = 1; i < wanted.size(); ++i) {
    const double step = wanted[i] - wanted[i - 1];
    const double got = interval(played[i - 1], played[i], step);
    if (is_other_way(got, step) || std::abs(got - step) > kUnlike) return false;
  }
  return true;
}

double total_cents(const Tone& tone, double a4_hz) {
  return model::total_cents_of(tone.pitch.hz, a4_hz);
}

// What makes one of two takes the better: it is steadier, longer, not too loud.
double faults_of(const Tone& tone) {
  constexpr double kClipped = 20;
  constexpr double kBrief = 5;
  return tone.pitch.spread_cents + std::abs(tone.pitch.drift_cents) / 2 + tone.pitch.error_cents +
         (tone.clipped > 0.001 ? kClipped : 0) +
         (tone.end - tone.begin < 2 * kLeastToneSeconds ? kBrief : 0);
}

// Lays tones against signs and says what came of it.
class Matching {
 public:
  Matching(const std::vector<Tone>& tones, const std::vector<std::size_t>& signs,
           const flute::Flute& like)
      : tones_(tones), signs_(signs), like_(like) {
    for (const Tone& tone : tones) {
      played_.push_back(
          {total_cents(tone, like.tuning_hz()), tone.pitch.octave != OctaveDoubt::none});
    }
    for (const std::size_t sign : signs) wanted_.push_back(like.total_cents(sign));
  }

  base::Outcome<std::vector<HeardSign>> made() {
    lay();
    take_better();
    std::vector<HeardSign> heard = settled();
    tell_missing();
    tell_extra();
    return {std::move(heard), std::move(findings_)};
  }

 private:
  // One for one where the counts agree, perhaps after repeats are taken as one.
  void lay() {
    std::vector<std::size_t> firsts;
    std::vector<PlayedPitch> groups;
    for (std::size_t i = 0; i < tones_.size(); ++i) {
      if (i > 0 && is_again(i - 1, i)) continue;
      firsts.push_back(i);
      groups.push_back(played_[i]);
    }
    tone_of_.resize(signs_.size());
    if (go_together(played_, wanted_)) {
      for (std::size_t j = 0; j < signs_.size(); ++j) tone_of_[j] = j;
    } else if (go_together(groups, wanted_)) {
      for (std::size_t j = 0; j < signs_.size(); ++j) tone_of_[j] = firsts[j];
    } else {
      tone_of_ = aligned(played_, wanted_);
    }
  }

  bool is_again(std::size_t i, std::size_t next) const {
    const double cents = std::abs(played_[next].cents - played_[i].cents);
    return cents < kAgainCents;
  }

  // Of the takes of one sign.
  void take_better() {
    used_.assign(tones_.size(), false);
    for (const auto& tone : tone_of_) {
      if (tone) used_[*tone] = true;
    }
    for (std::size_t j = 0; j < signs_.size(); ++j) {
      if (!tone_of_[j]) continue;
      std::vector<std::size_t> takes{*tone_of_[j]};
      for (std::size_t i = takes[0]; i > 0 && !used_[i - 1] && is_again(i - 1, i);) {
        takes.insert(takes.begin(), --i);
      }
      for (std::size_t i = takes.back() + 1; i < tones_.size() && !used_[i] && is_again(i - 1, i);
           ++i) {
        takes.push_back(i);
      }
      if (takes.size() == 1) continue;
      for (const std::size_t take : takes) used_[take] = true;
      tone_of_[j] = *std::min_element(takes.begin(), takes.end(), [&](auto a, auto b) {
        return faults_of(tones_[a]) < faults_of(tones_[b]);
      });
      findings_.push_back(
          base::report(rule::sign_repeated, std::nullopt,
                       message("{} was played {} times; the steadiest is taken, at {}", name(j),
                               takes.size(), seconds_text({tones_[*tone_of_[j]]}))));
    }
  }

  std::string name(std::size_t j) const { return printed(like_.entries()[signs_[j]]); }

  // By how much this flute lies over the one that it is like: the middle of what the tones without
  // a doubt say.
  double key_difference() const {
    std::vector<double> differences;
    for (std::size_t j = 0; j < signs_.size(); ++j) {
      if (!tone_of_[j] || played_[*tone_of_[j]].any_octave) continue;
      differences.push_back(played_[*tone_of_[j]].cents - wanted_[j]);
    }
    return differences.empty() ? 0 : median(std::move(differences));
  }

  std::vector<HeardSign> settled() {
    const double over = key_difference();
    std::vector<HeardSign> heard;
    for (std::size_t j = 0; j < signs_.size(); ++j) {
      if (!tone_of_[j]) continue;
      HeardSign sign{signs_[j], tones_[*tone_of_[j]]};
      if (sign.tone.pitch.octave == OctaveDoubt::none || settle_octave(sign, wanted_[j] + over)) {
        heard.push_back(sign);
      } else {
        used_[*tone_of_[j]] = false;
        tone_of_[j].reset();
      }
    }
    return heard;
  }

  // False where no octave suits.
  bool settle_octave(HeardSign& sign, double wanted) {
    const double off = wanted - total_cents(sign.tone, like_.tuning_hz());
    const double octaves = std::round(off / model::kOctaveCents);
    const double most_up = sign.tone.pitch.octave == OctaveDoubt::maybe_higher ? 1 : 0;
    const double most_down = sign.tone.pitch.octave == OctaveDoubt::maybe_lower ? -1 : 0;
    if (octaves > most_up || octaves < most_down ||
        std::abs(off - model::kOctaveCents * octaves) > kSettledCents) {
      return false;
    }
    sign.tone.pitch.hz *= std::exp2(octaves);
    findings_.push_back(base::report(
        rule::octave_doubt, std::nullopt,
        message("at {}: {} is taken for {:.1f} Hz, though by its sound alone it might be {:.1f} Hz",
                seconds_text({sign.tone}), printed(like_.entries()[sign.entry]), sign.tone.pitch.hz,
                other_octave(sign.tone.pitch, octaves)),
        message("look whether the neighbours agree")));
    return true;
  }

  static double other_octave(const TonePitch& pitch, double moved) {
    if (moved > 0) return pitch.hz / 2;
    if (moved < 0) return pitch.hz * 2;
    return pitch.octave == OctaveDoubt::maybe_higher ? pitch.hz * 2 : pitch.hz / 2;
  }

  void tell_missing() {
    std::vector<std::string> names;
    for (std::size_t j = 0; j < signs_.size(); ++j) {
      if (!tone_of_[j]) names.push_back(name(j));
    }
    if (names.empty()) return;
    findings_.push_back(base::report(
        rule::sign_unheard, std::nullopt,
        message(
            "left out, since no tone is surely theirs: {} (signs asked for: {}, tones heard: {})",
            fmt::join(names, " "), signs_.size(), tones_.size()),
        message("record them once more, or say with --signs which were played")));
  }

  void tell_extra() {
    std::vector<Tone> extra;
    for (std::size_t i = 0; i < tones_.size(); ++i) {
      if (!used_[i]) extra.push_back(tones_[i]);
    }
    if (extra.empty()) return;
    findings_.push_back(
        base::report(rule::tone_extra, std::nullopt,
                     message("at {}: tones that belong to no sign for sure", seconds_text(extra)),
                     message("play the signs in their order, and nothing between them")));
  }

  const std::vector<Tone>& tones_;
  const std::vector<std::size_t>& signs_;
  const flute::Flute& like_;
  std::vector<PlayedPitch> played_;
  std::vector<double> wanted_;
  std::vector<std::optional<std::size_t>> tone_of_;
  std::vector<bool> used_;
  base::Diagnostics findings_;
};

}  // namespace

std::optional<std::size_t> entry_named(const flute::Flute& flute, std::string_view text) {
  for (std::size_t i = 0; i < flute.entries().size(); ++i) {
    const flute::Entry& entry = flute.entries()[i];
    if (printed(entry) == text || printed(fingering_of(entry), model::Alphabet::ascii) == text)
      return i;
  }
  return std::nullopt;
}

std::vector<std::size_t> upward_signs(const flute::Flute& flute) {
  std::vector<std::size_t> signs;
  for (std::size_t i = 0; i < flute.entries().size(); ++i) {
    const flute::Entry& entry = flute.entries()[i];
    const bool is_plain = entry.half == model::HalfHole::none;
    if (is_plain && entry.kind == flute::EntryKind::plain) signs.push_back(i);
  }
  std::stable_sort(signs.begin(), signs.end(), [&](std::size_t a, std::size_t b) {
    return flute.entries()[a].cents < flute.entries()[b].cents;
  });
  return signs;
}

base::Outcome<std::vector<HeardSign>> signs_of(const std::vector<Tone>& tones,
                                               const std::vector<std::size_t>& signs,
                                               const flute::Flute& like) {
  return Matching(tones, signs, like).made();
}

}  // namespace yubifu::hearing
