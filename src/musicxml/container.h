// Compressed MusicXML (.mxl): a zip archive with a score and a file that says where it is
// (MusicXML 4.0, container.xsd). Only this pair of files knows libzip.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/outcome.h"

namespace yubifu::musicxml {

/// Limits that no honest container reaches.
inline constexpr std::size_t kMostEntries = 1'000;
inline constexpr std::size_t kMostInflatedBytes = 256u * 1024 * 1024;

/// True for bytes that begin like a zip archive.
bool is_container(std::string_view bytes);

/// The bytes of the score, as they stand in the archive (in whatever encoding). Takes the first
/// root file that is MusicXML; without a usable list of root files the only score inside, with
/// `container-without-rootfile`. Reports `broken-container` for an archive that cannot be read,
/// has no score or several to choose from, and `unsafe-container` for names that climb out of the
/// archive and for one past the limits above, counted in bytes really inflated.
base::Outcome<std::string> score_in_container(std::string_view bytes);

/// An archive with this score: `mimetype` first and stored, fixed times, hence the same bytes for
/// the same score. Reports `broken-container` if the archive cannot be built.
base::Outcome<std::string> make_container(std::string_view score_xml);

}  // namespace yubifu::musicxml
