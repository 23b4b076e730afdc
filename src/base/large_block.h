// Room for very many values at once.
#pragma once

#include <cstddef>
#include <vector>

namespace yubifu::base {

/// Tells the kernel that a block of memory will be filled soon, so that it may hand it out in large
/// pages: one by one, small pages take as long as what is written to them. Only advice; does
/// nothing for small blocks and where the system does not know it.
void expect_filling(void* block, std::size_t bytes);

/// `reserve` for a vector that may take many megabytes and is filled to about that size.
template <typename Value>
void reserve_large(std::vector<Value>& values, std::size_t count) {
  values.reserve(count);
  expect_filling(values.data(), values.capacity() * sizeof(Value));
}

}  // namespace yubifu::base
