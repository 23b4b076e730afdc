#include "notation/writer_lines.h"

#include <algorithm>

namespace yubifu::notation {
namespace {

using model::LineBreak;
using model::Measure;

constexpr std::size_t kBarsInLine = 4;
// A system of a staff may hold more bars than one can read in a line of text.
constexpr std::size_t kMostOfSystem = 8;

class Breaker {
 public:
  explicit Breaker(const model::Score& score)
      : score_(score),
        opens_section_(score.measures.size(), false),
        breaks_system_(score.measures.size(), false) {
    for (const Measure& measure : score.measures) {
      authored_ |= measure.break_before != LineBreak::none;
    }
    for (const model::Direction& direction : score.directions) {
      const bool section = std::holds_alternative<model::SectionStart>(direction.value);
      if (section) opens_section_[direction.measure] = true;
    }
    break_long_systems();
  }

  std::vector<LineOfBars> run() {
    std::vector<LineOfBars> lines;
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const LineBreak here = i == 0 ? LineBreak::line : break_before(i);
      if (here != LineBreak::none) {
        lines.push_back({i, i, here == LineBreak::blank_line, false, false});
        whole_bars_ = 0;
      }
      if (!is_short(i)) ++whole_bars_;
      lines.back().last = i + 1;
    }
    for (LineOfBars& line : lines) finish(line);
    return lines;
  }

 private:
  void break_long_systems() {
    const auto& measures = score_.measures;
    const bool has_systems = std::any_of(measures.begin(), measures.end(), [](const Measure& one) {
      return one.break_before == LineBreak::system;
    });
    if (!has_systems) return;
    for (std::size_t first = 0; first < measures.size();) {
      std::size_t last = first + 1;
      while (last < measures.size() && measures[last].break_before == LineBreak::none) ++last;
      break_long_system(first, last);
      first = last;
    }
  }

  // As where nobody says anything, except that no bar is left alone at the end.
  void break_long_system(std::size_t first, std::size_t last) {
    std::size_t left = 0;
    for (std::size_t i = first; i < last; ++i) left += is_short(i) ? 0 : 1;
    if (left <= kMostOfSystem) return;
    std::size_t in_line = 0;
    for (std::size_t i = first; i < last; ++i) {
      if (in_line >= kBarsInLine && left > 1 && !ends_parted_bar(i)) {
        breaks_system_[i] = true;
        in_line = 0;
      }
      if (is_short(i)) continue;
      ++in_line;
      --left;
    }
  }

  LineBreak break_before(std::size_t measure) const {
    const Measure& before = score_.measures[measure - 1];
    const LineBreak forced = before.comments.empty() ? LineBreak::none : LineBreak::line;
    if (authored_) {
      const bool within = breaks_system_[measure];
      return std::max({forced, within ? LineBreak::system : LineBreak::none,
                       score_.measures[measure].break_before});
    }
    if (opens_section_[measure] || before.right != model::BarStyle::regular) {
      return LineBreak::blank_line;
    }
    const bool full = whole_bars_ == kBarsInLine && !ends_parted_bar(measure);
    const bool repeat = before.repeat_end || score_.measures[measure].repeat_start;
    return full || repeat ? LineBreak::line : forced;
  }

  // A short bar that only completes the one before it stays in its line.
  bool ends_parted_bar(std::size_t measure) const {
    return is_short(measure) && is_short(measure - 1);
  }

  bool is_short(std::size_t measure) const {
    const Measure& here = score_.measures[measure];
    return !here.meter.is_free() && here.length < here.meter.length();
  }

  // A comment between two blocks stands below the blank line that parts them.
  bool follows_blank_line(std::size_t measure) const {
    const auto& comments = score_.measures[measure - 1].comments;
    return std::any_of(comments.begin(), comments.end(),
                       [](const model::Comment& comment) { return comment.blank_before; });
  }

  void finish(LineOfBars& line) const {
    const Measure& first = score_.measures[line.first];
    line.begins_with_pickup = is_short(line.first) && line.last - line.first > 1;
    line.starts_block = line.first == 0 || line.blank_before || opens_section_[line.first] ||
                        follows_blank_line(line.first) || first.meter.is_free() ||
                        first.meter != score_.measures[line.first - 1].meter ||
                        first.beat != score_.measures[line.first - 1].beat;
  }

  const model::Score& score_;
  std::vector<bool> opens_section_;
  std::vector<bool> breaks_system_;  // inside a long one
  bool authored_ = false;
  std::size_t whole_bars_ = 0;  // in the line so far
};

}  // namespace

std::vector<LineOfBars> lines_of(const model::Score& score) {
  return Breaker(score).run();
}

}  // namespace yubifu::notation
