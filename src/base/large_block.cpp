#include "base/large_block.h"

#include <cstdint>

#include <sys/mman.h>

namespace yubifu::base {
namespace {

constexpr std::size_t kLargePage = std::size_t{2} << 20;

}  // namespace

void expect_filling(void* block, std::size_t bytes) {
#ifdef MADV_HUGEPAGE
  if (bytes < 2 * kLargePage) return;
  // The large pages that lie in the block as a whole.
  const auto begin = reinterpret_cast<std::uintptr_t>(block);
  const std::uintptr_t first = (begin + kLargePage - 1) / kLargePage * kLargePage;
  const std::uintptr_t last = (begin + bytes) / kLargePage * kLargePage;
  madvise(static_cast<char*>(block) + (first - begin), last - first, MADV_HUGEPAGE);
#else
  static_cast<void>(block);
  static_cast<void>(bytes);
#endif
}

}  // namespace yubifu::base
