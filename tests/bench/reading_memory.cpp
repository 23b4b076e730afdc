// How much memory reading MusicXML takes a note beyond pugixml's bare tree of the same text, and
// what stays of it.
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
#include "musicxml/read/reader.h"
#include "musicxml/write/writer.h"

namespace {

struct Heap {
  std::int64_t now = 0;
  std::int64_t most = 0;

  void add(std::int64_t size) {
    now += size;
    most = std::max(most, now);
  }
};

Heap all;
Heap trees;  // of pugixml, which asks for its memory by itself

std::int64_t size_of(void* block) {
  return static_cast<std::int64_t>(malloc_usable_size(block));
}

void* tree_block(std::size_t size) {
  void* block = std::malloc(size);
  if (block == nullptr) return nullptr;
  all.add(size_of(block));
  trees.add(size_of(block));
  return block;
}

void free_tree_block(void* block) {
  if (block == nullptr) return;
  all.add(-size_of(block));
  trees.add(-size_of(block));
  std::free(block);
}

}  // namespace

void* operator new(std::size_t size) {
  void* block = std::malloc(std::max<std::size_t>(size, 1));
  if (block == nullptr) throw std::bad_alloc();
  all.add(size_of(block));
  return block;
}

void operator delete(void* block) noexcept {
  if (block != nullptr) all.add(-size_of(block));
  std::free(block);
}

void operator delete(void* block, std::size_t) noexcept {
  operator delete(block);
}

namespace yubifu::bench {
namespace {

// The most that is held at a time by what `work` does.
template <typename Work>
std::int64_t most_of(Heap& heap, const Work& work) {
  const std::int64_t before = heap.now;
  heap.most = before;
  work();
  return heap.most - before;
}

// What one note of a large tune takes.
void print_memory() {
  std::string bytes = musicxml::write_musicxml(bench_score(kLarge), {}).value.value();
  bytes.shrink_to_fit();
  const auto text = static_cast<std::int64_t>(bytes.size());
  const base::SourceText source("tune", std::move(bytes));
  pugi::set_memory_management_functions(tree_block, free_tree_block);
  const std::int64_t bare = most_of(trees, [&] {
    pugi::xml_document tree;
    tree.load_buffer(source.text().data(), source.text().size());
  });
  base::Outcome<model::Score> read;
  const std::int64_t before = all.now;
  trees.most = 0;
  const std::int64_t reading =
      text + most_of(all, [&] { read = musicxml::read_musicxml(source, {}); });
  const auto notes = static_cast<double>(read.value.value().notes.size());
  const auto each = [&](std::int64_t size) { return static_cast<double>(size) / notes; };
  fmt::print(
      "memory a note of reading MusicXML: {:.0f} bytes at most, {:.0f} of them the text of the "
      "file "
      "and {:.0f} its tree; pugixml's bare tree takes {:.0f}, so that {:.0f} are beyond it; the "
      "score "
      "keeps {:.0f}\n",
      each(reading), each(text), each(trees.most), each(bare), each(reading - bare),
      each(all.now - before));
}

}  // namespace
}  // namespace yubifu::bench

int main() {
  yubifu::bench::print_memory();
  return 0;
}
