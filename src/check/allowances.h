// Comments in a score that allow what a rule would report: `# allow RULE: reason`.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::check {

/// What a comment allows.
struct Allowance {
  std::string rule;
  std::string reason;

  friend bool operator==(const Allowance&, const Allowance&) = default;
};

/// A comment that looks like an allowance but lacks its colon or its reason.
struct HalfAllowance {
  std::string rule;

  friend bool operator==(const HalfAllowance&, const HalfAllowance&) = default;
};

/// Any other comment.
struct PlainComment {
  friend bool operator==(const PlainComment&, const PlainComment&) = default;
};

/// Reads the text of a comment, without its `#`. "allow time to breathe" is a plain comment: a
/// rule's name has a hyphen or is followed by a colon.
std::variant<PlainComment, HalfAllowance, Allowance> parse_allowance(std::string_view comment);

/// What is left of the findings in a score: a comment after a measure silences its rule for that
/// measure, one in the header for the whole score. Adds `allow-form`, `allow-unknown` and
/// `allow-idle` about the comments themselves. `known` are all rules there are.
base::Diagnostics without_allowed(base::Diagnostics found, const model::Score& score,
                                  const std::vector<const base::Rule*>& known);

}  // namespace yubifu::check
