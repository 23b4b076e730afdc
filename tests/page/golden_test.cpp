// A handful of whole pages, compared letter by letter with files that a person has looked at. Run
// with YUBIFU_UPDATE_GOLDEN=1 to write them anew, then look at what changed.
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <ostream>
#include <string>

#include <gtest/gtest.h>

#include "page/drawn.h"

namespace yubifu::page {
namespace {

const std::string kFolder = YUBIFU_SOURCE_DIR "/tests/golden/page/";

struct Golden {
  std::string name;  ///< of the .svg
  std::string tune;  ///< of the .yubifu
  PageOptions options;
};

void PrintTo(const Golden& golden, std::ostream* out) {
  *out << golden.name;
}

std::vector<Golden> goldens() {
  PageOptions rows = across();
  PageOptions large;
  large.scale = 2;
  large.orientation = Orientation::landscape;
  PageOptions plain;
  plain.paper = PaperSize::letter;
  plain.held = HeldBeats::dashes;
  plain.song_text = SongText::hidden;
  return {{"song", "song", {}},          {"song-across", "song", rows},
          {"song-large", "song", large}, {"song-plain", "song", plain},
          {"signs", "signs", {}},        {"signs-across", "signs", rows}};
}

std::string file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class GoldenPage : public testing::TestWithParam<Golden> {};

TEST_P(GoldenPage, IsAsItWas) {
  const Golden& golden = GetParam();
  PageOptions options = golden.options;
  options.documents = SvgDocuments::one_tall;
  const model::Score score = score_of(file(kFolder + golden.tune + ".yubifu"));
  const std::string drawn = write_pages(score, {}, options, PrintedAs::svg).value.value().front();
  const std::string path = kFolder + golden.name + ".svg";
  if (std::getenv("YUBIFU_UPDATE_GOLDEN") != nullptr) {
    std::ofstream(path, std::ios::binary) << drawn;
    return;
  }
  EXPECT_TRUE(drawn == file(path)) << path << " differs from what is drawn now";
}

INSTANTIATE_TEST_SUITE_P(Pages, GoldenPage, testing::ValuesIn(goldens()), [](const auto& golden) {
  std::string name = golden.param.name;
  for (char& c : name) c = c == '-' ? '_' : c;
  return name;
});

}  // namespace
}  // namespace yubifu::page
