// Where one stage of the reader gathers what it has to say; a broken text cannot fill memory.
#pragma once

#include <cstddef>
#include <string>
#include <utility>

#include "base/diagnostic.h"

namespace yubifu::notation {

/// After so many findings the rest is not told.
inline constexpr std::size_t kMostFindings = 1'000;

/// A list of findings that ends at kMostFindings.
class Reports {
 public:
  /// The finding, with the rule's own severity; beyond the limit one `too-many-findings` instead.
  void add(const base::Rule& rule, base::SourceRange where, std::string message,
           std::string hint = {});

  /// Adds findings of another stage, within the same limit.
  void add_all(base::Diagnostics findings);

  /// True when the rule is among the findings kept.
  bool has(const base::Rule& rule) const;

  base::Diagnostics take() { return std::move(diagnostics_); }

 private:
  void add(base::Diagnostic finding);

  base::Diagnostics diagnostics_;
};

}  // namespace yubifu::notation
