#include "midi/bend_line.h"

#include <algorithm>

#include "midi/messages.h"

namespace yubifu::midi {
namespace {

constexpr double kCentsPerSemitone = 100;
constexpr int kTuningCentre = 0x2000;  // RPN 1: 14 bits over a semitone either way
constexpr int kCoarseCentre = 64;      // RPN 2: semitones

// The registered parameter that data entry sets.
enum class Parameter { none, bend_range, fine_tuning, coarse_tuning };

struct ChannelState {
  int rpn_coarse = 127;
  int rpn_fine = 127;
  bool registered = false;  // the last choice was RPN, not NRPN
  int wheel = kBendCentre;
  int range_semitones = static_cast<int>(kUsualBendRange / kCentsPerSemitone);
  int range_cents = 0;
  int fine_coarse_byte = kTuningCentre >> 7;
  int fine_fine_byte = 0;
  int coarse = kCoarseCentre;

  Parameter parameter() const {
    if (!registered || rpn_coarse != 0) return Parameter::none;
    if (rpn_fine == 0) return Parameter::bend_range;
    if (rpn_fine == 1) return Parameter::fine_tuning;
    return rpn_fine == 2 ? Parameter::coarse_tuning : Parameter::none;
  }

  double cents() const {
    const double range = kCentsPerSemitone * range_semitones + range_cents;
    const double fine = (fine_coarse_byte << 7 | fine_fine_byte) - kTuningCentre;
    return range * (wheel - kBendCentre) / kBendCentre + kCentsPerSemitone * fine / kTuningCentre +
           kCentsPerSemitone * (coarse - kCoarseCentre);
  }

  void control(int controller, int value) {
    switch (controller) {
      case kRpnCoarse:
      case kNrpnCoarse:
        registered = controller == kRpnCoarse;
        rpn_coarse = value;
        break;
      case kRpnFine:
      case kNrpnFine:
        registered = controller == kRpnFine;
        rpn_fine = value;
        break;
      case kDataEntry:
        if (parameter() == Parameter::bend_range) range_semitones = value;
        if (parameter() == Parameter::fine_tuning) fine_coarse_byte = value;
        if (parameter() == Parameter::coarse_tuning) coarse = value;
        break;
      case kDataEntryFine:
        if (parameter() == Parameter::bend_range) range_cents = value;
        if (parameter() == Parameter::fine_tuning) fine_fine_byte = value;
        break;
      case kResetControllers:
        wheel = kBendCentre;
        rpn_coarse = rpn_fine = 127;
        break;
      default:
        break;
    }
  }
};

bool matters(const ChannelEvent& event) {
  return event.kind() == kPitchBend || event.kind() == kController;
}

}  // namespace

std::array<BendLine, 16> bend_lines(const std::vector<ChannelEvent>& events) {
  std::vector<ChannelEvent> controls;
  std::copy_if(events.begin(), events.end(), std::back_inserter(controls), matters);
  std::stable_sort(controls.begin(), controls.end(),
                   [](const ChannelEvent& a, const ChannelEvent& b) { return a.tick < b.tick; });
  std::array<ChannelState, 16> states;
  std::array<BendLine, 16> lines;
  for (const ChannelEvent& event : controls) {
    const auto channel = static_cast<std::size_t>(event.channel());
    ChannelState& state = states[channel];
    BendLine& line = lines[channel];
    if (event.kind() == kPitchBend) {
      state.wheel = event.second << 7 | event.first;
    } else {
      state.control(event.first, event.second);
    }
    const double cents = state.cents();
    if (!line.empty() && line.back().tick == event.tick) {
      line.back().cents = cents;
    } else if (cents != (line.empty() ? 0 : line.back().cents)) {
      line.push_back({event.tick, cents});
    }
  }
  return lines;
}

double BendWalk::at(std::int64_t tick) {
  while (next_ < line_.size() && line_[next_].tick <= tick) ++next_;
  return next_ == 0 ? 0 : line_[next_ - 1].cents;
}

std::vector<BendPoint> BendWalk::inside(std::int64_t end) const {
  std::vector<BendPoint> points;
  for (std::size_t i = next_; i < line_.size() && line_[i].tick < end; ++i) {
    points.push_back(line_[i]);
  }
  return points;
}

}  // namespace yubifu::midi
