// The printed page as the table of formats offers it.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "cli/options.h"
#include "fingering/resolve.h"

namespace yubifu::cli {

/// One document a page, or one tall document.
base::Outcome<std::vector<std::string>> write_svg_pages(const fingering::Resolved& resolved,
                                                        const Options& options);

/// All pages in one tall document.
base::Outcome<std::string> write_tall_svg(const fingering::Resolved& resolved,
                                          const Options& options);

/// All pages in one HTML document.
base::Outcome<std::string> write_html(const fingering::Resolved& resolved, const Options& options);

/// The files of `count` documents: the path itself for one, `tune-1.svg`, `tune-2.svg` … for more.
std::vector<std::string> document_paths(const std::string& path, std::size_t count);

}  // namespace yubifu::cli
