// What is found at many places and told once: a rule, what is said of it, how often it was and the
// bars it stood in.
#pragma once

#include <concepts>
#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::base {

/// "bar 3" or "bars 3, 4, 9-11": printed numbers in the order of the music. Three or more that
/// count up are joined; a long list ends in "and 5 more".
std::string bar_list(const std::vector<std::string>& numbers);

/// Where a case stands: a number that grows with the music, such as the index of a measure or a
/// tick. The printed numbers are asked for at the end, when they are known.
using Place = std::size_t;
/// For a case that stands in no bar.
inline constexpr Place kNoBar = static_cast<Place>(-1);

/// Gives the printed number of the bar that a place is in.
using BarNames = std::function<std::string(Place)>;

struct Finding {
  Diagnostic told = {};                   ///< as the first case has it; its bars come at the end
  std::size_t count = 0;                  ///< of the cases
  std::vector<Place> places = {};         ///< of those that stand in a bar
  std::string many = {};                  ///< the message for several cases, where it is another
  std::vector<std::string> details = {};  ///< what more there is to say of them, each once

  /// One more case.
  void add(Place place);
  /// The same; the first one is told so.
  void add(Place place, Diagnostic first) {
    if (count == 0) told = std::move(first);
    add(place);
  }

  /// Ten details say enough; further ones are left out, as are empty ones.
  void add_detail(std::string detail);
};

/// Makes the sentence of a finding that has all its cases and, in `told`, all its bars.
using Sentence = std::function<std::string(const Finding&)>;

/// A sentence with what else there is to say behind it: "2 directions left out (dashes, pedal):
/// bars 3, 9".
std::string with_bars(std::string sentence, const Finding& finding);

/// The message, and the bars behind it.
std::string bars_last(const Finding& finding);
/// The message alone; the bars are only listed beside it.
std::string bars_unsaid(const Finding& finding);

/// Adds a finding that has cases to the diagnostics, with its bars in the order of the music, each
/// once. `names` is not asked where no case stands in a bar.
void tell(Diagnostics& to, Finding finding, const BarNames& names,
          const Sentence& sentence = bars_last);

/// Findings of many kinds, in the order in which they first came.
class Findings {
 public:
  /// The one of this rule and key; a new one has no case and nothing to say yet.
  Finding& of(const Rule& rule, std::string_view key = {});

  /// One more case of what has this rule and message. `place` may be of any integral type.
  void add(Diagnostic told, std::integral auto place) {
    Finding& finding = of(*told.rule, told.message);
    finding.add(static_cast<Place>(place), std::move(told));
  }

  /// Adds the cases of another list to those of this one.
  void append(Findings&& other);

  /// One diagnostic each.
  Diagnostics diagnostics(const BarNames& names, const Sentence& sentence = bars_last) const;

 private:
  using Key = std::pair<const Rule*, std::string>;

  std::map<Key, std::size_t> index_;
  std::vector<std::pair<Key, Finding>> list_;
};

}  // namespace yubifu::base
