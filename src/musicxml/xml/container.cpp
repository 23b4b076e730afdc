#include "musicxml/xml/container.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include <zip.h>

#include "base/message.h"
#include "musicxml/rules.h"
#include "musicxml/xml/document_text.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

constexpr std::string_view kMimetypeName = "mimetype";
constexpr std::string_view kMimetype = "application/vnd.recordare.musicxml";
constexpr std::string_view kScoreMediaType = "application/vnd.recordare.musicxml+xml";
constexpr std::string_view kMetaFolder = "META-INF/";
constexpr const char* kContainerName = "META-INF/container.xml";
constexpr const char* kScoreName = "score.musicxml";
constexpr std::string_view kContainer =
    R"(<?xml version="1.0" encoding="UTF-8"?>
<container>
  <rootfiles>
    <rootfile full-path="score.musicxml" media-type="application/vnd.recordare.musicxml+xml"/>
  </rootfiles>
</container>
)";
// The earliest time that a zip entry can hold: midnight, 1980-01-01, in MS-DOS form.
constexpr zip_uint16_t kFixedTime = 0;
constexpr zip_uint16_t kFixedDate = (1 << 5) | 1;

using Archive = std::unique_ptr<zip_t, decltype(&zip_discard)>;
using Entry = std::unique_ptr<zip_file_t, decltype(&zip_fclose)>;
using Source = std::unique_ptr<zip_source_t, decltype(&zip_source_free)>;

base::Diagnostic broken(std::string message, std::string hint = {}) {
  return base::report(rule::broken_container, std::nullopt, std::move(message), std::move(hint));
}

base::Diagnostic unsafe(std::string message) {
  return base::report(rule::unsafe_container, std::nullopt, std::move(message),
                      base::message("export the score again, or unpack it by hand"));
}

base::Outcome<std::string> failed(base::Diagnostic diagnostic) {
  return {std::nullopt, {std::move(diagnostic)}};
}

// The methods that programs for archives offer, by their numbers in the ZIP specification.
std::string method_name(std::uint16_t method) {
  static const std::map<int, const char*> kNames{{9, "Deflate64"},  {12, "bzip2"}, {14, "LZMA"},
                                                 {93, "Zstandard"}, {95, "xz"},    {98, "PPMd"}};
  const auto found = kNames.find(method);
  return found == kNames.end() ? base::message("method {}", method) : found->second;
}

bool climbs_out(std::string_view path) {
  if (path.starts_with('/') || path.starts_with('\\')) return true;
  while (!path.empty()) {
    const std::size_t end = std::min(path.find_first_of("/\\"), path.size());
    if (path.substr(0, end) == "..") return true;
    path.remove_prefix(std::min(end + 1, path.size()));
  }
  return false;
}

// An archive opened for reading. Counts what is inflated over all its entries.
class Reader {
 public:
  Reader(Archive archive, const ContainerLimits& limits)
      : archive_(std::move(archive)), limits_(limits) {
    const zip_int64_t count = zip_get_num_entries(archive_.get(), 0);
    for (zip_int64_t i = 0; i < count && names_.size() <= limits_.entries; ++i) {
      const char* name = zip_get_name(archive_.get(), static_cast<zip_uint64_t>(i), 0);
      names_.emplace_back(name == nullptr ? "" : name);
    }
  }

  const std::vector<std::string>& names() const { return names_; }

  std::optional<base::Diagnostic> danger() const {
    if (names_.size() > limits_.entries) {
      return unsafe(base::message("the container holds more than {} files", limits_.entries));
    }
    const auto bad = std::find_if(names_.begin(), names_.end(), climbs_out);
    if (bad == names_.end()) return std::nullopt;
    return unsafe(base::message("the container holds a file whose name leads outside: {}", *bad));
  }

  std::optional<std::size_t> find(std::string_view name) const {
    const auto found = std::find(names_.begin(), names_.end(), name);
    if (found == names_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - names_.begin());
  }

  // The bytes of one entry, counted as they come: an entry may hold more than it declares.
  base::Outcome<std::string> read(std::size_t index) {
    zip_stat_t about;
    zip_stat_init(&about);
    if (zip_stat_index(archive_.get(), index, 0, &about) != 0) return unreadable(index);
    const bool plain_method = (about.valid & ZIP_STAT_COMP_METHOD) == 0 ||
                              about.comp_method == ZIP_CM_STORE ||
                              about.comp_method == ZIP_CM_DEFLATE;
    const bool encrypted =
        (about.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && about.encryption_method != ZIP_EM_NONE;
    if (encrypted) {
      return failed(
          broken(base::message("the file '{}' in the container is encrypted", names_[index]),
                 base::message("export the score again without a password")));
    }
    if (!plain_method) {
      return failed(broken(
          base::message("the file '{}' in the container is packed by {}, which MusicXML does "
                        "not use",
                        names_[index], method_name(about.comp_method)),
          base::message("pack it anew by the usual method (deflate), or export the score "
                        "again")));
    }
    const Entry entry(zip_fopen_index(archive_.get(), index, 0), &zip_fclose);
    if (!entry) return unreadable(index);
    std::string bytes;
    std::array<char, 1 << 16> buffer;
    while (true) {
      const zip_int64_t count = zip_fread(entry.get(), buffer.data(), buffer.size());
      if (count < 0) return unreadable(index);
      if (count == 0) return {std::move(bytes), {}};
      inflated_ += static_cast<std::size_t>(count);
      if (inflated_ > limits_.inflated_bytes) {
        return failed(unsafe(base::message("the container unpacks to more than {} MiB",
                                           limits_.inflated_bytes >> 20)));
      }
      bytes.append(buffer.data(), static_cast<std::size_t>(count));
    }
  }

 private:
  base::Outcome<std::string> unreadable(std::size_t index) const {
    return failed(broken(base::message("the file '{}' in the container is damaged", names_[index]),
                         base::message("export the score again")));
  }

  Archive archive_;
  ContainerLimits limits_;
  std::vector<std::string> names_;
  std::size_t inflated_ = 0;
};

// Null for what is no archive. Takes over the source.
Archive opened(zip_source_t* source, int flags) {
  zip_t* archive = source == nullptr ? nullptr : zip_open_from_source(source, flags, nullptr);
  if (archive == nullptr) zip_source_free(source);
  return Archive(archive, &zip_discard);
}

std::optional<pugi::xml_document> parsed(std::string_view bytes) {
  const base::Outcome<DocumentText> text = decode_document(bytes);
  if (!text.ok()) return std::nullopt;
  base::Outcome<pugi::xml_document> document = parse_xml(text.value->text);
  return document.ok() ? std::move(document.value) : std::nullopt;
}

// The entry that META-INF/container.xml names: the first root file that is MusicXML.
std::optional<std::size_t> listed_score(Reader& archive) {
  const auto listing = archive.find(kContainerName);
  if (!listing) return std::nullopt;
  const base::Outcome<std::string> bytes = archive.read(*listing);
  const auto document = bytes.ok() ? parsed(*bytes.value) : std::nullopt;
  if (!document) return std::nullopt;
  const pugi::xml_node files = document->document_element().child("rootfiles");
  for (const pugi::xml_node file : files.children("rootfile")) {
    const std::string_view type = attribute(file, "media-type");
    if (!type.empty() && type != kScoreMediaType) continue;
    if (const auto index = archive.find(attribute(file, "full-path"))) return index;
  }
  return std::nullopt;
}

bool holds_score(std::string_view bytes) {
  const auto document = parsed(bytes);
  if (!document) return false;
  const std::string_view root = document->document_element().name();
  return root == "score-partwise" || root == "score-timewise";
}

struct FoundScore {
  std::size_t index = 0;
  std::string bytes;
};

base::Outcome<FoundScore> only_score(Reader& archive) {
  std::vector<FoundScore> scores;
  base::Diagnostics unreadable;
  for (std::size_t i = 0; i < archive.names().size(); ++i) {
    const std::string& name = archive.names()[i];
    if (name.ends_with('/') || name.starts_with(kMetaFolder) || name == kMimetypeName) continue;
    base::Outcome<std::string> bytes = archive.read(i);
    if (bytes.ok()) {
      if (holds_score(*bytes.value)) scores.push_back({i, *std::move(bytes.value)});
    } else if (bytes.diagnostics.front().rule == &rule::unsafe_container) {
      return {std::nullopt, std::move(bytes.diagnostics)};
    } else {
      base::append(unreadable, std::move(bytes.diagnostics));
    }
  }
  // What cannot be read may be the score.
  if (scores.empty() && !unreadable.empty()) return {std::nullopt, {std::move(unreadable.front())}};
  if (scores.size() != 1) {
    return {std::nullopt,
            {broken(scores.empty() ? base::message("the container holds no score")
                                   : base::message("the container holds {} scores and does not say "
                                                   "which is meant",
                                                   scores.size()),
                    base::message("unpack it and read the score itself"))}};
  }
  return {std::move(scores.front()),
          {base::report(rule::container_without_rootfile, std::nullopt,
                        base::message("the container names no score that is in it; its only score, "
                                      "'{}', is read",
                                      archive.names()[scores.front().index]),
                        base::message("export the score again"))}};
}

base::Outcome<FoundScore> find_score(std::string_view bytes, const ContainerLimits& limits) {
  Archive archive =
      opened(zip_source_buffer_create(bytes.data(), bytes.size(), 0, nullptr), ZIP_RDONLY);
  if (!archive) {
    return {std::nullopt,
            {broken(base::message("the container is damaged or cut short"),
                    base::message("copy or export the file again"))}};
  }
  Reader reader(std::move(archive), limits);
  if (auto danger = reader.danger()) return {std::nullopt, {*std::move(danger)}};
  const auto index = listed_score(reader);
  if (!index) return only_score(reader);
  base::Outcome<std::string> score = reader.read(*index);
  if (!score.value) return {std::nullopt, std::move(score.diagnostics)};
  return {FoundScore{*index, *std::move(score.value)}, {}};
}

bool add_entry(zip_t* archive, const char* name, std::string_view content, zip_int32_t method) {
  Source source(zip_source_buffer(archive, content.data(), content.size(), 0), &zip_source_free);
  const zip_int64_t index = zip_file_add(archive, name, source.get(), ZIP_FL_ENC_UTF_8);
  if (index < 0) return false;
  static_cast<void>(source.release());  // the archive has it now
  const auto entry = static_cast<zip_uint64_t>(index);
  return zip_set_file_compression(archive, entry, method, 0) == 0 &&
         zip_file_set_dostime(archive, entry, kFixedTime, kFixedDate, 0) == 0;
}

std::optional<std::string> bytes_of(zip_source_t* source) {
  zip_stat_t about;
  zip_stat_init(&about);
  if (zip_source_stat(source, &about) != 0 || zip_source_open(source) != 0) return std::nullopt;
  std::string bytes(static_cast<std::size_t>(about.size), '\0');
  const zip_int64_t count = zip_source_read(source, bytes.data(), bytes.size());
  zip_source_close(source);
  if (count != static_cast<zip_int64_t>(bytes.size())) return std::nullopt;
  return bytes;
}

// The bytes of an archive after a change, which says whether it could be made.
template <typename Change>
base::Outcome<std::string> changed(std::string_view archive, int flags, const Change& change) {
  auto bytes = [&]() -> std::optional<std::string> {
    const Source buffer(zip_source_buffer_create(archive.data(), archive.size(), 0, nullptr),
                        &zip_source_free);
    if (!buffer) return std::nullopt;
    zip_source_keep(buffer.get());  // zip_close gives up its own share
    Archive owned = opened(buffer.get(), flags);
    if (!owned || !change(owned.get()) || zip_close(owned.get()) != 0) return std::nullopt;
    static_cast<void>(owned.release());  // zip_close has freed it
    return bytes_of(buffer.get());
  }();
  if (!bytes) return failed(broken(base::message("the container could not be built")));
  return {std::move(bytes), {}};
}

// The entry keeps its name, its place and its time.
bool replace_entry(zip_t* archive, std::size_t index, std::string_view content) {
  zip_stat_t about;
  zip_stat_init(&about);
  if (zip_stat_index(archive, index, 0, &about) != 0) return false;
  Source source(zip_source_buffer(archive, content.data(), content.size(), 0), &zip_source_free);
  if (zip_file_replace(archive, index, source.get(), 0) != 0) return false;
  static_cast<void>(source.release());  // the archive has it now
  const auto method = static_cast<zip_int32_t>(about.comp_method);
  return zip_set_file_compression(archive, index, method, 0) == 0 &&
         zip_file_set_mtime(archive, index, about.mtime, 0) == 0;
}

}  // namespace

bool is_container(std::string_view bytes) {
  return bytes.starts_with("PK\x03\x04") || bytes.starts_with("PK\x05\x06");
}

base::Outcome<std::string> score_in_container(std::string_view bytes,
                                              const ContainerLimits& limits) {
  base::Outcome<FoundScore> found = find_score(bytes, limits);
  if (!found.value) return {std::nullopt, std::move(found.diagnostics)};
  return {std::move(found.value->bytes), std::move(found.diagnostics)};
}

base::Outcome<std::string> with_score(std::string_view container, std::string_view score_xml) {
  const base::Outcome<FoundScore> found = find_score(container, {});
  if (!found.value) return {std::nullopt, found.diagnostics};
  return changed(container, 0, [&](zip_t* archive) {
    return replace_entry(archive, found.value->index, score_xml);
  });
}

base::Outcome<std::string> make_container(std::string_view score_xml) {
  return changed({}, ZIP_TRUNCATE, [&](zip_t* archive) {
    return add_entry(archive, "mimetype", kMimetype, ZIP_CM_STORE) &&
           add_entry(archive, kContainerName, kContainer, ZIP_CM_DEFLATE) &&
           add_entry(archive, kScoreName, score_xml, ZIP_CM_DEFLATE);
  });
}

}  // namespace yubifu::musicxml
