#include "cli/page_output.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "page/page.h"

namespace yubifu::cli {

base::Outcome<std::vector<std::string>> write_svg_pages(const fingering::Resolved& resolved,
                                                        const Options& options) {
  return page::write_page_svg(resolved.score, resolved.flutes, options.page);
}

base::Outcome<std::string> write_tall_svg(const fingering::Resolved& resolved,
                                          const Options& options) {
  page::PageOptions tall = options.page;
  tall.documents = page::SvgDocuments::one_tall;
  auto pages = page::write_page_svg(resolved.score, resolved.flutes, tall);
  base::Outcome<std::string> result;
  result.diagnostics = std::move(pages.diagnostics);
  if (pages.value) result.value = std::move(pages.value->front());
  return result;
}

base::Outcome<std::string> write_html(const fingering::Resolved& resolved, const Options& options) {
  return page::write_page_html(resolved.score, resolved.flutes, options.page);
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
