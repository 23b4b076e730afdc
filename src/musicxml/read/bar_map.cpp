#include "musicxml/read/bar_map.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "musicxml/vocabulary.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::Rational;

// Where the notes and rests of the melody end, rests for the whole bar aside.
Rational melody_end(const PartEvents& part, std::size_t measure, const MelodyChoice& choice) {
  Rational end;
  for (std::size_t i = part.measures[measure].first_note; i < part.end_of_notes(measure); ++i) {
    const PlacedNote& note = part.notes[i];
    if (note.element.fills_bar || !choice.holds(part, i)) continue;
    end = std::max(end, note.at.onset + note.duration);
  }
  return end;
}

MeasureEvents over_all_parts(const std::vector<PartEvents>& parts, std::size_t measure) {
  MeasureEvents all;
  for (const PartEvents& part : parts) {
    if (measure >= part.measures.size()) continue;
    const MeasureEvents& events = part.measures[measure];
    all.filled = std::max(all.filled, events.filled);
    all.whole_bar_rest = std::max(all.whole_bar_rest, events.whole_bar_rest);
  }
  return all;
}

Rational measured_length(const MeasureEvents& all, Rational voice, const model::Meter& meter,
                         bool may_be_pickup) {
  const Rational full = meter.length();
  const bool rest_speaks = all.whole_bar_rest && *all.whole_bar_rest > Rational(0);
  const Rational rest = rest_speaks ? std::min(*all.whole_bar_rest, full) : full;
  if (all.filled == Rational(0)) return rest;
  Rational completed = std::min(all.filled, full);
  if (rest_speaks && !may_be_pickup) completed = std::max(completed, rest);
  return std::max(voice, completed);
}

// Its location does not put it at the start or end of its measure.
bool stands_inside(const PlacedNode& line) {
  return attribute(line.node, "location") == "middle";
}

// What needs a bar boundary: a repeat, an ending or a double bar.
bool parts_music(pugi::xml_node barline) {
  if (barline.child("repeat") || barline.child("ending")) return true;
  const auto style = kBarStyles.value_of(child_word(barline, "bar-style"));
  return style && *style != model::BarStyle::regular;
}

std::vector<Rational> cuts_in(const PartEvents& part, std::size_t& next, std::size_t measure,
                              Rational length) {
  std::vector<Rational> cuts;
  for (; next < part.barlines.size() && part.barlines[next].at.measure == measure; ++next) {
    const PlacedNode& line = part.barlines[next];
    const bool inside = line.at.onset > Rational(0) && line.at.onset < length;
    if (inside && stands_inside(line) && parts_music(line.node)) cuts.push_back(line.at.onset);
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  return cuts;
}

}  // namespace

BarMap::BarMap(const std::vector<MeasureExtent>& extents) {
  for (std::size_t i = 0; i < extents.size(); ++i) {
    first_bar_.push_back(bars_.size());
    Rational start;
    for (const Rational cut : extents[i].cuts) {
      bars_.push_back({i, start, cut - start});
      start = cut;
    }
    bars_.push_back({i, start, extents[i].length - start});
  }
  first_bar_.push_back(bars_.size());
}

Moment BarMap::start_at(const Moment& in_file) const {
  std::size_t bar = first_bar_[in_file.measure];
  const std::size_t end = first_bar_[in_file.measure + 1];
  const auto later =
      std::partition_point(bars_.data() + bar + 1, bars_.data() + end,
                           [&](const Bar& candidate) { return candidate.start <= in_file.onset; });
  bar = static_cast<std::size_t>(later - bars_.data()) - 1;
  return {bar, std::min(in_file.onset - bars_[bar].start, bars_[bar].length)};
}

Moment BarMap::end_at(const Moment& in_file) const {
  Moment place = start_at(in_file);
  if (place.onset == Rational(0) && place.measure > first_bar_[in_file.measure]) {
    place = {place.measure - 1, bars_[place.measure - 1].length};
  }
  return place;
}

std::size_t BarMap::boundary_at(const Moment& in_file) const {
  const Moment place = start_at(in_file);
  return place.onset == Rational(0) ? place.measure : place.measure + 1;
}

Moment BarMap::later(Moment in_score, Rational by) const {
  in_score.onset += by;
  while (in_score.measure + 1 < bars_.size() && in_score.onset >= bars_[in_score.measure].length) {
    in_score.onset -= bars_[in_score.measure].length;
    ++in_score.measure;
  }
  return in_score;
}

std::vector<model::Meter> measure_meters(const StaffAttributes& attributes, std::size_t count) {
  std::vector<model::Meter> meters(count, model::Meter::free_time());
  auto next = attributes.meters.begin();
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0) meters[i] = meters[i - 1];
    for (; next != attributes.meters.end() && next->at.measure <= i; ++next) {
      meters[i] = next->value;
    }
  }
  return meters;
}

std::vector<MeasureExtent> measure_extents(const std::vector<PartEvents>& parts,
                                           const MelodyChoice& choice,
                                           const StaffAttributes& attributes) {
  const PartEvents& part = parts[choice.part];
  const std::vector<model::Meter> meters = measure_meters(attributes, part.measures.size());
  std::vector<MeasureExtent> extents;
  std::size_t next_line = 0;
  for (std::size_t i = 0; i < part.measures.size(); ++i) {
    const MeasureEvents all = over_all_parts(parts, i);
    const Rational voice = melody_end(part, i, choice);
    const bool may_be_pickup =
        i == 0 || attribute(part.measures[i].source.measure, "implicit") == "yes";
    const Rational length =
        meters[i].is_free()
            ? (all.filled > Rational(0) ? all.filled : all.whole_bar_rest.value_or(0))
            : measured_length(all, voice, meters[i], may_be_pickup);
    extents.push_back({length, cuts_in(part, next_line, i, length)});
  }
  return extents;
}

namespace {

using model::Cue;
using model::kMostEndings;
using model::kMostTimes;

// The numbers of an ending: "1", "1, 2", "1-3". Empty when there is none.
std::vector<int> ending_numbers(std::string_view text) {
  std::vector<int> numbers;
  const char* at = text.data();
  const char* end = at + text.size();
  bool range = false;
  while (at != end) {
    int value = 0;
    const auto [stop, error] = std::from_chars(at, end, value);
    const bool is_too_large = error == std::errc::result_out_of_range;
    if (!is_too_large && (error != std::errc{} || value < 1)) {
      if (*at == '-' && !numbers.empty()) range = true;
      if (*at == ',') range = false;
      ++at;
      continue;
    }
    at = stop;
    if (is_too_large || value > kMostEndings) continue;
    const int first = range ? numbers.back() + 1 : value;
    for (int number = first; number <= value; ++number) numbers.push_back(number);
    range = false;
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  return numbers;
}

class BarLineReader {
 public:
  BarLineReader(const PartEvents& part, const BarMap& map, std::string_view text,
                std::vector<model::Measure>& measures)
      : part_(part), map_(map), text_(text), measures_(measures) {}

  BarLineSigns run() {
    for (const PlacedNode& line : part_.barlines) {
      line_ = line;
      boundary_ = boundary_of(line);
      take_style();
      take_repeat();
      take_ending();
      take_signs();
    }
    leave_ending(measures_.size());
    return std::move(out_);
  }

 private:
  void remark(pugi::xml_node node, const RemarkKind& kind, std::string detail = {}) {
    out_.remarks.add(kind, line_.at.measure, range_of(node, text_), std::move(detail));
  }

  // The number of bars before the line.
  std::size_t boundary_of(const PlacedNode& line) const {
    const std::string_view location = attribute(line.node, "location");
    if (location == "left") return map_.boundary_before(line.at.measure);
    if (stands_inside(line)) return map_.boundary_at(line.at);
    return map_.boundary_after(line.at.measure);
  }

  void take_style() {
    const pugi::xml_node node = line_.node.child("bar-style");
    if (!node || line_.node.child("repeat") || boundary_ == 0) return;
    // Styles that only look different; the schema's others part the music in a way that the score
    // has no line for.
    static const std::set<std::string_view> kPlain{"dotted", "dashed", "tick", "short", "none", ""};
    static const std::set<std::string_view> kOther{"heavy", "heavy-light", "heavy-heavy"};
    const std::string_view name = word_of(node);
    if (const auto style = kBarStyles.value_of(name)) {
      if (*style != model::BarStyle::regular) measures_[boundary_ - 1].right = *style;
    } else if (kOther.count(name) > 0) {
      remark(node, kind(rule::left_out, "kind of bar line left out", "kinds of bar lines left out"),
             std::string(name));
    } else if (kPlain.count(name) == 0) {
      remark(node,
             kind(rule::unknown_value, "bar line is of no known kind",
                  "bar lines are of no known kind"),
             std::string(name));
    }
  }

  void take_repeat() {
    const pugi::xml_node node = line_.node.child("repeat");
    if (!node) return;
    const std::string_view direction = attribute(node, "direction");
    if (direction == "forward" && boundary_ < measures_.size()) {
      measures_[boundary_].repeat_start = true;
    } else if (direction == "backward" && boundary_ > 0) {
      model::Measure& last = measures_[boundary_ - 1];
      last.repeat_end = true;
      last.times = times_of(node);
    } else {
      remark(node, kind(rule::unknown_value, "repeat without a direction or a bar left out",
                        "repeats without a direction or a bar left out"));
    }
  }

  int times_of(pugi::xml_node repeat) {
    const std::string_view text = attribute(repeat, "times");
    if (text.empty()) return 2;
    const auto times = whole_number(text);
    if (times && *times >= 2 && *times <= kMostTimes) return *times;
    remark(repeat, kind(rule::unknown_value, "repeat count cannot be read; two is taken",
                        "repeat counts cannot be read; two is taken"));
    return 2;
  }

  void take_ending() {
    const pugi::xml_node node = line_.node.child("ending");
    if (!node) return;
    const std::string_view type = attribute(node, "type");
    if (type != "start") {
      if (ending_.empty() && !is_left_out_)
        remark(node, kind(rule::unknown_value, "end of an ending that has not begun left out",
                          "ends of endings that have not begun left out"));
      is_left_out_ = false;
      return close_ending(boundary_);
    }
    leave_ending(boundary_);
    ending_start_ = boundary_;
    ending_ = ending_numbers(attribute(node, "number"));
    if (ending_.empty()) ending_ = ending_numbers(word_of(node));
    is_left_out_ = ending_.empty();
    if (is_left_out_)
      remark(node, kind(rule::unknown_value, "ending without a number left out",
                        "endings without a number left out"));
  }

  // An ending that nobody closes reaches to the next repeat or double bar; without one it is a
  // single bar.
  void leave_ending(std::size_t before) {
    std::size_t bar = ending_start_;
    while (bar < before && !measures_[bar].repeat_end &&
           measures_[bar].right == model::BarStyle::regular) {
      ++bar;
    }
    close_ending(bar < before ? bar + 1 : std::min(ending_start_ + 1, before));
  }

  void close_ending(std::size_t before) {
    for (std::size_t bar = ending_start_; bar < before && !ending_.empty(); ++bar) {
      measures_[bar].ending = ending_;
    }
    ending_.clear();
  }

  // A coda sign at the end of a bar is where one leaves for the coda, unless it says otherwise.
  void take_signs() {
    for (const pugi::xml_node child : line_.node.children()) {
      const std::string_view name = child.name();
      if (name == "fermata")
        remark(child, kind(rule::left_out, "fermata on a bar line left out",
                           "fermatas on bar lines left out"));
      if (name == "segno") add_target(Cue::segno, child);
      if (name != "coda") continue;
      const bool at_start = boundary_ == map_.boundary_before(line_.at.measure);
      if (at_start || line_.node.attribute("coda")) {
        add_target(Cue::coda, child);
      } else {
        out_.directions.push_back({boundary_ - 1, map_.length_of_bar(boundary_ - 1), Cue::to_coda,
                                   range_of(child, text_)});
      }
    }
  }

  void add_target(Cue cue, pugi::xml_node node) {
    const std::size_t bar = std::min(boundary_, measures_.size() - 1);
    out_.directions.push_back({bar, 0, cue, range_of(node, text_)});
  }

  const PartEvents& part_;
  const BarMap& map_;
  std::string_view text_;
  std::vector<model::Measure>& measures_;
  BarLineSigns out_;
  PlacedNode line_;
  std::size_t boundary_ = 0;
  std::size_t ending_start_ = 0;
  std::vector<int> ending_;   // of the ending that is open
  bool is_left_out_ = false;  // the one that is open has no number
};

}  // namespace

BarLineSigns apply_bar_lines(const PartEvents& part, const BarMap& map, std::string_view text,
                             std::vector<model::Measure>& measures) {
  return BarLineReader(part, map, text, measures).run();
}

}  // namespace yubifu::musicxml
