// The structure of the source, checked file by file: who may include whom, which libraries stay
// where, how long a file may be.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu {
namespace {

namespace fs = std::filesystem;

// Which folders of src/ a folder may include, besides itself.
const std::map<std::string, std::set<std::string>> kLayers{
    {"base", {}},
    {"model", {"base"}},
    {"flute", {"base", "model"}},
    {"notation", {"base", "model"}},
    {"musicxml", {"base", "model"}},
    {"midi", {"base", "model"}},
    {"scorejson", {"base", "model"}},
    {"fingering", {"base", "model", "flute"}},
    {"page", {"base", "model", "flute"}},
    {"hearing", {"base", "model", "flute"}},
    {"check", {"base", "model", "flute", "fingering"}},
    {"cli",
     {"base", "model", "flute", "notation", "musicxml", "midi", "scorejson", "fingering", "page",
      "hearing", "check"}},
};

// Where a header from outside may be included, and in how many files at most.
struct OutsideHeader {
  std::set<std::string> folders;
  std::size_t files;
};
constexpr std::size_t kAnyNumber = 1000;
const std::map<std::string, OutsideHeader> kOutside{
    {"nlohmann/json.hpp", {{"base"}, 1}},
    {"smf.h", {{"midi"}, 1}},
    {"zip.h", {{"musicxml"}, 1}},
    {"cxxopts.hpp", {{"cli"}, 1}},
    {"pugixml.hpp", {{"musicxml"}, kAnyNumber}},
    {"glib.h", {{"midi"}, 1}},
    {"librsvg/rsvg.h", {{"page"}, 1}},
    {"cairo-pdf.h", {{"page"}, 1}},
    {"fontconfig/fontconfig.h", {{"page"}, 1}},
    {"iconv.h", {{"base"}, 1}},
    {"utf8proc.h", {{"base"}, 1}},
    {"sndfile.h", {{"hearing"}, 1}},
    {"kiss_fftr.h", {{"hearing"}, 1}},
    {"unistd.h", {{"base", "cli"}, kAnyNumber}},
    {"fcntl.h", {{"base"}, 2}},
    {"sys/stat.h", {{"base"}, 2}},
};

constexpr std::size_t kMostHeaderLines = 150;
constexpr std::size_t kMostSourceLines = 500;
struct SourceFile {
  std::string folder;  // "base"
  std::string name;    // "base/file.h"
  std::vector<std::string> lines;
};

std::vector<std::string> lines_of(const fs::path& path) {
  std::ifstream in(path);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

bool is_code(const fs::path& path) {
  return path.extension() == ".h" || path.extension() == ".cpp";
}

const fs::path& root() {
  static const fs::path path = YUBIFU_SOURCE_DIR;
  return path;
}

std::vector<SourceFile> read_code(const std::string& top) {
  std::vector<SourceFile> files;
  for (const auto& entry : fs::recursive_directory_iterator(root() / top)) {
    if (!entry.is_regular_file() || !is_code(entry.path())) continue;
    const fs::path name = fs::relative(entry.path(), root() / top);
    // Stands in for libraries where there is no C library of a system, and sees no code of ours.
    if (*name.begin() == "web") continue;
    files.push_back({name.begin()->string(), name.generic_string(), lines_of(entry.path())});
  }
  return files;
}

const std::vector<SourceFile>& sources() {
  static const std::vector<SourceFile> files = read_code("src");
  return files;
}

struct Include {
  std::string file;    // that includes
  std::string folder;  // its folder
  std::string header;
};

// All includes of one kind: '<' from outside, '"' of the project.
std::vector<Include> includes(char kind) {
  std::vector<Include> found;
  const std::regex pattern(kind == '<' ? R"(^\s*#\s*include\s*<([^>]+)>)"
                                       : R"(^\s*#\s*include\s*"([^"]+)\")");
  for (const SourceFile& file : sources()) {
    for (const std::string& line : file.lines) {
      std::smatch match;
      if (std::regex_search(line, match, pattern))
        found.push_back({file.name, file.folder, match[1]});
    }
  }
  return found;
}

TEST(Architecture, ThereAreSourcesInEveryFolder) {
  std::set<std::string> folders;
  for (const SourceFile& file : sources()) folders.insert(file.folder);
  for (const auto& [folder, may_include] : kLayers) EXPECT_TRUE(folders.contains(folder)) << folder;
  EXPECT_EQ(folders.size(), kLayers.size());
}

TEST(Architecture, FoldersIncludeOnlyThoseBelowThem) {
  for (const Include& include : includes('"')) {
    const std::string target = include.header.substr(0, include.header.find('/'));
    const bool allowed = target == include.folder || kLayers.at(include.folder).contains(target);
    EXPECT_TRUE(allowed) << include.file << " includes " << include.header;
    EXPECT_TRUE(fs::exists(root() / "src" / include.header))
        << include.file << ": " << include.header;
  }
}

// Folders of one folder: what they share stands above them. Reading and writing of a format do not
// see each other, nor do the parts of a page; a printer sees none of those that lay out, and the
// XML of a staff file nothing of its music. Options and messages know nothing of the verbs.
TEST(Architecture, FoldersOfAFolderDoNotSeeEachOther) {
  const std::vector<std::pair<std::string, std::string>> unseen{
      {"read", "write"},     {"write", "read"},    {"sheet", "chart"},    {"chart", "sheet"},
      {"print", "sheet"},    {"print", "chart"},   {"xml", "read"},       {"xml", "write"},
      {"xml", "annotate"},   {"read", "annotate"}, {"write", "annotate"}, {"options", "verbs"},
      {"options", "report"}, {"report", "verbs"}};
  for (const Include& include : includes('"')) {
    for (const auto& [from, to] : unseen) {
      EXPECT_FALSE(include.file.starts_with(include.folder + "/" + from + "/") &&
                   include.header.starts_with(include.folder + "/" + to + "/"))
          << include.file << " includes " << include.header;
    }
  }
}

TEST(Architecture, LibrariesStayBehindFewFiles) {
  std::map<std::string, std::set<std::string>> users;
  for (const Include& include : includes('<')) {
    const bool standard = include.header.find_first_of("./") == std::string::npos;
    if (standard || include.header.starts_with("fmt/")) continue;
    const auto known = kOutside.find(include.header);
    ASSERT_NE(known, kOutside.end()) << include.file << " includes <" << include.header << ">";
    EXPECT_TRUE(known->second.folders.contains(include.folder))
        << include.file << " includes <" << include.header << ">";
    users[include.header].insert(include.file);
  }
  for (const auto& [header, outside] : kOutside) {
    EXPECT_GE(users[header].size(), 1u) << header << " is not used any more";
    EXPECT_LE(users[header].size(), outside.files) << header;
  }
}

TEST(Architecture, FilesAreShort) {
  for (const char* top : {"src", "tests"}) {
    for (const SourceFile& file : read_code(top)) {
      const std::size_t most = file.name.ends_with(".h") ? kMostHeaderLines : kMostSourceLines;
      EXPECT_LE(file.lines.size(), most) << top << "/" << file.name;
    }
  }
}

TEST(Architecture, HeadersAreGuardedAndEveryFileSaysWhatItIs) {
  for (const SourceFile& file : sources()) {
    ASSERT_FALSE(file.lines.empty()) << file.name;
    if (!file.name.ends_with(".h")) continue;
    EXPECT_TRUE(file.lines[0].starts_with("// ")) << file.name;
    EXPECT_NE(std::find(file.lines.begin(), file.lines.end(), "#pragma once"), file.lines.end())
        << file.name;
  }
}

TEST(Architecture, EachFolderHasItsNamespace) {
  for (const SourceFile& file : sources()) {
    if (file.name == "cli/main.cpp") continue;
    const std::regex opening("^namespace yubifu::" + file.folder + R"((::\w+)* \{)");
    const bool found = std::any_of(file.lines.begin(), file.lines.end(), [&](const auto& line) {
      return std::regex_search(line, opening);
    });
    EXPECT_TRUE(found) << file.name;
  }
}

// Nothing that only holds on somebody's machine, and nothing left for later.
TEST(Architecture, NoMachinePathsAndNoLeftovers) {
  // Written in parts, so that this file does not find itself.
  const auto words = [](std::string_view before, std::initializer_list<std::string_view> ends) {
    std::vector<std::string> all;
    for (const std::string_view end : ends) all.push_back(std::string(before) + std::string(end));
    return all;
  };
  const auto machine = words("/", {"work/", "home/", "root/", "Users/", "tmp/t/"});
  const auto leftover = words("", {"TO"
                                   "DO",
                                   "FIX"
                                   "ME",
                                   "HA"
                                   "CK:"});
  const auto has = [](const std::string& line, const std::vector<std::string>& some) {
    return std::any_of(some.begin(), some.end(), [&](const std::string& word) {
      return line.find(word) != std::string::npos;
    });
  };
  for (const auto& entry : fs::recursive_directory_iterator(root())) {
    const std::string name = fs::relative(entry.path(), root()).generic_string();
    const std::string top = name.substr(0, name.find('/'));
    const bool ours =
        std::set<std::string>{"src", "tests", "schemas", "examples", ".ci"}.contains(top) ||
        name.find('/') == std::string::npos;
    if (!ours || !entry.is_regular_file() || name.find("node_modules") != std::string::npos)
      continue;
    for (const std::string& line : lines_of(entry.path())) {
      EXPECT_FALSE(has(line, machine)) << name << ": " << line;
      if (is_code(entry.path())) {
        EXPECT_FALSE(has(line, leftover)) << name << ": " << line;
      }
    }
  }
}

}  // namespace
}  // namespace yubifu
