// Element names and what they stand for, found by their first letter: reading a long part looks
// millions of them up.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstring>
#include <string_view>

namespace yubifu::musicxml {

template <typename Value>
struct NamedValue {
  const char* name;
  Value value;
};

template <typename Value, std::size_t N>
class NameTable {
 public:
  /// The entries in any order; names in lower case.
  constexpr explicit NameTable(std::array<NamedValue<Value>, N> entries) : entries_(entries) {
    std::sort(entries_.begin(), entries_.end(), [](const auto& a, const auto& b) {
      return std::string_view(a.name) < std::string_view(b.name);
    });
    for (std::size_t i = 0; i < N; ++i) {
      const auto letter = static_cast<unsigned char>(entries_[i].name[0]);
      if (last_[letter] == 0) first_[letter] = static_cast<unsigned char>(i);
      last_[letter] = static_cast<unsigned char>(i + 1);
    }
  }

  /// Null for a name that is not in the table.
  const Value* find(const char* name) const {
    const auto letter = static_cast<unsigned char>(name[0]);
    for (std::size_t i = first_[letter]; i < last_[letter]; ++i) {
      if (std::strcmp(entries_[i].name, name) == 0) return &entries_[i].value;
    }
    return nullptr;
  }

 private:
  static_assert(N < 255);
  std::array<NamedValue<Value>, N> entries_;
  std::array<unsigned char, 256> first_{};
  std::array<unsigned char, 256> last_{};
};

}  // namespace yubifu::musicxml
