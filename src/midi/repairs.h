// Repairs of a damaged file: each kind told once, with its first place and how many there are.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/message.h"

namespace yubifu::midi {

/// Gathers the repairs of a file, one finding a rule.
class Repairs {
 public:
  /// `offset` counts bytes from the start of the file. `sentence` makes the message and is called
  /// only for the first repair of a rule.
  template <typename Sentence>
  void add(const base::Rule& rule, std::size_t offset, Sentence sentence) {
    for (Entry& entry : entries_) {
      if (entry.rule != &rule) continue;
      ++entry.more;
      return;
    }
    entries_.push_back({&rule, base::message("at byte {}: {}", offset, sentence()), 0});
  }

  /// In the order of the first places, with the number of further ones.
  base::Diagnostics diagnostics() const {
    base::Diagnostics list;
    for (const Entry& entry : entries_) {
      const std::string more =
          entry.more == 0 ? std::string() : base::message(" (and {} more like it)", entry.more);
      list.push_back(base::report(*entry.rule, {}, entry.message + more));
    }
    return list;
  }

 private:
  struct Entry {
    const base::Rule* rule = nullptr;
    std::string message;
    std::size_t more = 0;
  };
  std::vector<Entry> entries_;
};

}  // namespace yubifu::midi
