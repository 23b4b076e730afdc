// Compressed MusicXML (.mxl): a zip archive with a score and a file that says where it is
// (MusicXML 4.0, container.xsd). Only this pair of files knows libzip.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// Limits that no honest container reaches. Bytes are counted as they come, over all files that are
/// unpacked: what an archive says of its sizes may be wrong.
struct ContainerLimits {
  std::size_t entries = 1'000;
  std::size_t inflated_bytes = std::size_t{256} << 20;
};

/// True for bytes that begin like a zip archive.
bool is_container(std::string_view bytes);

/// The bytes of the score, as they stand in the archive (in whatever encoding). Takes the first
/// root file that is MusicXML; without a usable list of root files the only score inside, with
/// `container-without-rootfile`. Reports `broken-container` for an archive that cannot be read,
/// has no score or several to choose from, and `unsafe-container` for names that climb out of the
/// archive and for one past the limits.
base::Outcome<std::string> score_in_container(std::string_view bytes,
                                              const ContainerLimits& limits = {});

/// The same archive with another text for its score, found as `score_in_container` finds it. Every
/// other entry keeps its bytes, packed and unpacked. Reports as `score_in_container` does.
base::Outcome<std::string> with_score(std::string_view container, std::string_view score_xml);

/// An archive with this score: `mimetype` first and stored, fixed times, hence the same bytes for
/// the same score. Reports `broken-container` if the archive cannot be built.
base::Outcome<std::string> make_container(std::string_view score_xml);

}  // namespace yubifu::musicxml
