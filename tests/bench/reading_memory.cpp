// How much memory reading MusicXML takes a note beside pugixml's tree, and what stays of it. The
// tree is allocated with malloc, all else with new, which is counted here.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <new>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <malloc.h>
#include <pugixml.hpp>

#include "base/source_text.h"
#include "bench/bench_score.h"
#include "musicxml/reader.h"
#include "musicxml/writer.h"

namespace {

struct Heap {
  std::int64_t now = 0;
  std::int64_t most = 0;
};

Heap by_new;
std::int64_t by_tree = 0;

std::int64_t size_of(void* block) {
  return static_cast<std::int64_t>(malloc_usable_size(block));
}

void* tree_block(std::size_t size) {
  void* block = std::malloc(size);
  if (block != nullptr) by_tree += size_of(block);
  return block;
}

void free_nothing(void*) {}

}  // namespace

void* operator new(std::size_t size) {
  void* block = std::malloc(std::max<std::size_t>(size, 1));
  if (block == nullptr) throw std::bad_alloc();
  by_new.now += size_of(block);
  by_new.most = std::max(by_new.most, by_new.now);
  return block;
}

void operator delete(void* block) noexcept {
  if (block != nullptr) by_new.now -= size_of(block);
  std::free(block);
}

void operator delete(void* block, std::size_t) noexcept {
  operator delete(block);
}

namespace yubifu::bench {
namespace {

// What one note of a large tune takes.
void print_memory() {
  std::string bytes = musicxml::write_musicxml(bench_score(kLarge), {}).value.value();
  bytes.shrink_to_fit();
  const auto of_text = static_cast<std::int64_t>(bytes.size());
  const std::int64_t before = by_new.now - of_text;
  by_new.most = by_new.now;
  const base::SourceText source("tune", std::move(bytes));
  const auto read = musicxml::read_musicxml(source, {});
  const auto notes = static_cast<double>(read.value.value().notes.size());
  const auto each = [&](std::int64_t size) { return static_cast<double>(size) / notes; };
  const std::int64_t most = by_new.most - before;
  const std::int64_t left = by_new.now - before;
  pugi::set_memory_management_functions(tree_block, free_nothing);
  pugi::xml_document tree;
  tree.load_buffer(source.text().data(), source.text().size());
  fmt::print(
      "memory a note of reading MusicXML: {:.0f} bytes at most beyond the tree of {:.0f}, {:.0f} "
      "of them for good; the text of the file is {:.0f} of both\n",
      each(most), each(by_tree), each(left), each(of_text));
}

}  // namespace
}  // namespace yubifu::bench

int main() {
  yubifu::bench::print_memory();
  return 0;
}
