#include "cli/page_output.h"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "page/page.h"

namespace yubifu::cli {
namespace {

// One flute for each of the score's: playing out repeats and moving files changes these.
page::FluteList flutes_of(const fingering::Resolved& resolved) {
  page::FluteList flutes;
  for (const model::FluteInUse& in_use : resolved.score.flutes) {
    const auto found =
        std::find_if(resolved.flutes.begin(), resolved.flutes.end(), [&](const auto& flute) {
          return flute->title() == in_use.title && flute->ichi() == in_use.ichi &&
                 flute->tuning_hz() == in_use.tuning_hz;
        });
    if (found == resolved.flutes.end()) return resolved.flutes;
    flutes.push_back(*found);
  }
  return flutes;
}

}  // namespace

base::Outcome<std::vector<std::string>> write_svg_pages(const fingering::Resolved& resolved,
                                                        const Options& options) {
  return page::write_page_svg(resolved.score, flutes_of(resolved), options.page);
}

base::Outcome<std::string> write_tall_svg(const fingering::Resolved& resolved,
                                          const Options& options) {
  page::PageOptions tall = options.page;
  tall.documents = page::SvgDocuments::one_tall;
  auto pages = page::write_page_svg(resolved.score, flutes_of(resolved), tall);
  base::Outcome<std::string> result;
  result.diagnostics = std::move(pages.diagnostics);
  if (pages.value) result.value = std::move(pages.value->front());
  return result;
}

base::Outcome<std::string> write_html(const fingering::Resolved& resolved, const Options& options) {
  return page::write_page_html(resolved.score, flutes_of(resolved), options.page);
}

std::vector<std::string> document_paths(const std::string& path, std::size_t count) {
  if (count == 1) return {path};
  const std::filesystem::path whole(path);
  std::vector<std::string> paths;
  for (std::size_t i = 1; i <= count; ++i) {
    const std::string name =
        fmt::format("{}-{}{}", whole.stem().string(), i, whole.extension().string());
    paths.push_back((whole.parent_path() / name).string());
  }
  return paths;
}

}  // namespace yubifu::cli
