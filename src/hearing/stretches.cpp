#include "hearing/stretches.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/pitch.h"

namespace yubifu::hearing {
namespace {

// How many frames a click or a gap in the breath may take without ending a tone.
constexpr std::size_t kBridged = 5;
// A pitch may stray so far from where it has just been: a deep vibrato does not part a tone.
constexpr double kSameToneCents = 80;
constexpr std::size_t kJustBefore = 11;
// Where the fundamental is weak, single frames may show the wrong octave; so many in a row are
// another tone.
constexpr std::size_t kOtherOctave = 15;
// Longer tones are measured in their first part.
constexpr std::size_t kMostFrames = 1500;
// The end of a tone, and its echo in a room, is that much softer.
constexpr double kSofterDb = 9;
// Shorter sounds were not meant to be held.
constexpr double kGlanceSeconds = 0.15;
// At the ends of a tone the breath is still finding it.
constexpr double kStrayCents = 40;
constexpr double kMostSpread = 40;
constexpr double kMostError = 3;
constexpr double kMostDrift = 40;

// Whole octaves by which cents lie over a reference, where they are near it but for these.
std::optional<int> octaves_over(double cents, double reference) {
  for (const int octaves : {0, 1, -1}) {
    if (std::abs(cents - reference - model::kOctaveCents * octaves) <= kSameToneCents)
      return octaves;
  }
  return std::nullopt;
}

}  // namespace

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

StretchFinder::StretchFinder(double rate, double sounding_db)
    : rate_(rate),
      sounding_db_(sounding_db),
      analyser_(rate),
      hop_(static_cast<std::size_t>(rate * kBlockSeconds)) {}

void StretchFinder::take(const Block& block) {
  held_.insert(held_.end(), block.samples.begin(), block.samples.end());
  clipped_.push_back(static_cast<double>(block.clipped) / static_cast<double>(hop_));
  while (next_ * hop_ + analyser_.frame_length() <= held_from_ + held_.size()) take(next_frame());
  forget();
}

std::vector<Tone> StretchFinder::ended() {
  return std::exchange(ended_, {});
}

void StretchFinder::finish() {
  pending_.clear();
  close();
}

StretchFinder::Frame StretchFinder::next_frame() {
  Frame frame;
  frame.number = next_++;
  const std::span<const float> samples(held_.data() + (frame.number * hop_ - held_from_),
                                       analyser_.frame_length());
  double power = 0;
  for (const float sample : samples.subspan(samples.size() / 2 - hop_ / 2, hop_)) {
    power += static_cast<double>(sample) * sample;
  }
  frame.level_db = decibels(power / static_cast<double>(hop_));
  frame.clipped = clipped_[frame.number - held_from_ / hop_];
  if (frame.level_db >= sounding_db_) {
    const auto pitch = analyser_.pitch_of(samples);
    if (pitch) frame.cents = model::kOctaveCents * std::log2(pitch->hz);
  }
  return frame;
}

void StretchFinder::take(Frame frame) {
  if (!stretch_) {
    if (!frame.cents) return;
    stretch_ = Stretch{{frame}, false};
    return;
  }
  const auto octaves = frame.cents ? octaves_over(*frame.cents, reference()) : std::nullopt;
  if (!octaves) {
    pending_.push_back(frame);
    if (pending_.size() > kBridged) part(std::exchange(pending_, {}));
    return;
  }
  for (Frame& between : std::exchange(pending_, {})) {
    between.cents.reset();
    stretch_->frames.push_back(between);
  }
  frame.moved = *octaves;
  *frame.cents -= model::kOctaveCents * *octaves;
  stretch_->frames.push_back(frame);
  if (is_other_octave()) {
    part(last_frames());
  } else if (stretch_->frames.size() >= kMostFrames) {
    close();
    stretch_ = Stretch{{frame}, true};
  }
}

double StretchFinder::reference() const {
  std::vector<double> before;
  for (auto frame = stretch_->frames.rbegin();
       frame != stretch_->frames.rend() && before.size() < kJustBefore; ++frame) {
    if (frame->cents) before.push_back(*frame->cents);
  }
  return median(std::move(before));
}

bool StretchFinder::is_other_octave() const {
  const std::vector<Frame>& frames = stretch_->frames;
  const int moved = frames.back().moved;
  return moved != 0 && frames.size() > kOtherOctave &&
         std::all_of(frames.end() - kOtherOctave, frames.end(),
                     [&](const Frame& frame) { return frame.moved == moved; });
}

// Takes the frames that were moved by an octave out of the stretch again.
std::vector<StretchFinder::Frame> StretchFinder::last_frames() {
  std::vector<Frame>& frames = stretch_->frames;
  std::vector<Frame> taken(frames.end() - kOtherOctave, frames.end());
  frames.resize(frames.size() - kOtherOctave);
  for (Frame& frame : taken) *frame.cents += model::kOctaveCents * std::exchange(frame.moved, 0);
  return taken;
}

// Ends the stretch; the frames that do not belong to it may begin another.
void StretchFinder::part(const std::vector<Frame>& others) {
  close();
  for (const Frame& frame : others) take(frame);
}

// The parts of the stretch that are nearly as loud as it is: without its echo, and parted where a
// breath lies under the echo.
void StretchFinder::close() {
  if (!stretch_) return;
  const Stretch stretch = *std::exchange(stretch_, std::nullopt);
  const std::vector<Frame>& frames = stretch.frames;
  if (stretch.continues) {
    Tone rest;
    rest.hold = Hold::going_on;
    rest.begin = seconds_of(frames.front());
    rest.end = seconds_of(frames.back());
    ended_.push_back(rest);
    return;
  }
  std::vector<double> levels;
  for (const Frame& frame : frames) levels.push_back(frame.level_db);
  const auto loud = levels.begin() + static_cast<std::ptrdiff_t>(levels.size() * 4 / 5);
  std::nth_element(levels.begin(), loud, levels.end());
  std::size_t first = 0;
  std::size_t last = 0;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (!frames[i].cents || frames[i].level_db < *loud - kSofterDb) continue;
    if (last > 0 && i - last > kBridged) {
      measure(std::span(frames).subspan(first, last - first));
      last = 0;
    }
    if (last == 0) first = i;
    last = i + 1;
  }
  measure(std::span(frames).subspan(first, last - first));
}

double StretchFinder::seconds_of(const Frame& frame) const {
  return (static_cast<double>(frame.number * hop_) +
          0.5 * static_cast<double>(analyser_.frame_length())) /
         rate_;
}

void StretchFinder::measure(std::span<const Frame> frames) {
  std::vector<double> all;
  for (const Frame& frame : frames) {
    if (frame.cents) all.push_back(*frame.cents);
  }
  if (all.empty()) return;
  const double about = median(all);
  const auto strays = [&](const Frame& frame) {
    return !frame.cents || std::abs(*frame.cents - about) > kStrayCents;
  };
  while (!frames.empty() && strays(frames.front())) frames = frames.subspan(1);
  while (!frames.empty() && strays(frames.back())) frames = frames.first(frames.size() - 1);
  if (frames.empty()) return;
  Tone tone;
  tone.begin = seconds_of(frames.front()) - kBlockSeconds / 2;
  tone.end = seconds_of(frames.back()) + kBlockSeconds / 2;
  const double seconds = tone.end - tone.begin;
  // A frame is wider than a block, so that a little of the ends is lost.
  if (seconds >= kLeastToneSeconds - 3 * kBlockSeconds) {
    measure_middle(tone, frames, about);
  } else if (seconds >= kGlanceSeconds) {
    tone.pitch.hz = std::exp2(about / model::kOctaveCents);
    tone.hold = Hold::brief;
    ended_.push_back(tone);
  }
}

void StretchFinder::measure_middle(Tone& tone, std::span<const Frame> frames, double about) {
  const std::size_t margin =
      std::clamp<std::size_t>(frames.size() * 3 / 20, kBridged, 3 * kBridged);
  frames = frames.subspan(margin, frames.size() - 2 * margin);
  const std::size_t centre = analyser_.frame_length() / 2;
  const std::size_t from = frames.front().number * hop_ + centre - held_from_;
  const std::size_t to = frames.back().number * hop_ + centre - held_from_;
  const std::span<const float> samples(held_.data() + from, to - from);
  const auto pitch = pitch_of_tone(samples, rate_, std::exp2(about / model::kOctaveCents));
  if (!pitch) return;
  tone.pitch = *pitch;
  double power = 0;
  for (const float sample : samples) power += static_cast<double>(sample) * sample;
  tone.level_db = decibels(power / static_cast<double>(samples.size()));
  for (const Frame& frame : frames) {
    tone.clipped += frame.clipped / static_cast<double>(frames.size());
  }
  if (pitch->spread_cents > kMostSpread || pitch->error_cents > kMostError ||
      std::abs(pitch->drift_cents) > kMostDrift) {
    tone.hold = Hold::wavering;
  }
  ended_.push_back(tone);
}

// Samples that no stretch needs any more, a second of them at a time.
void StretchFinder::forget() {
  std::size_t first = next_;
  if (!pending_.empty()) first = std::min(first, pending_.front().number);
  if (stretch_) first = std::min(first, stretch_->frames.front().number);
  const std::size_t blocks = first - held_from_ / hop_;
  if (static_cast<double>(blocks) * kBlockSeconds < 1) return;
  held_.erase(held_.begin(), held_.begin() + static_cast<std::ptrdiff_t>(blocks * hop_));
  held_from_ += blocks * hop_;
  clipped_.erase(clipped_.begin(), clipped_.begin() + static_cast<std::ptrdiff_t>(blocks));
}

}  // namespace yubifu::hearing
