// Compressed staff files: where the score is, and what is refused.
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "musicxml/staff_text.h"
#include "musicxml/xml/container.h"
#include "musicxml/zip_archive.h"

namespace yubifu::musicxml {
namespace {

const std::string kScore = "<score-partwise><part id=\"P1\"><measure/></part></score-partwise>";
const std::string kOther = "<score-timewise><measure><part id=\"P1\"/></measure></score-timewise>";

// The score inside, or "rule: message" of the only error.
std::string unpacked(const std::vector<ZipEntry>& entries, const ContainerLimits& limits = {}) {
  const base::Outcome<std::string> outcome = score_in_container(zip_archive(entries), limits);
  if (outcome.ok()) return *outcome.value;
  EXPECT_EQ(outcome.diagnostics.size(), 1u);
  const base::Diagnostic& diagnostic = outcome.diagnostics.front();
  return std::string(diagnostic.rule->name) + ": " + diagnostic.message;
}

TEST(Container, NamesItsScore) {
  const ZipEntry named = container_naming({"music/b.musicxml"});
  EXPECT_EQ(unpacked({named, {"a.musicxml", kOther}, {"music/b.musicxml", kScore}}), kScore);
  EXPECT_EQ(unpacked({{"music/b.musicxml", kScore, 8}, {"a.musicxml", kOther}, named}), kScore);
}

TEST(Container, OfSeveralRootFilesTheFirstScoreCounts) {
  ZipEntry listing = container_naming({"a.musicxml", "b.musicxml"});
  EXPECT_EQ(unpacked({listing, {"b.musicxml", kOther}, {"a.musicxml", kScore}}), kScore);
  // A page image of the score may be a root file too, and one that is not there is passed over.
  listing.content =
      "<container><rootfiles><rootfile full-path=\"page.pdf\" media-type=\"application/pdf\"/>"
      "<rootfile full-path=\"gone.xml\"/><rootfile full-path=\"b.xml\"/></rootfiles></container>";
  EXPECT_EQ(unpacked({{"page.pdf", "%PDF"}, {"b.xml", kScore}, listing}), kScore);
}

TEST(Container, MayNameAnythingItsScore) {
  EXPECT_EQ(unpacked({container_naming({"楽譜 1"}), {"楽譜 1", kScore}}), kScore);
}

TEST(Container, WithoutListingIsReadWithAWarningIfItHoldsOneScore) {
  for (const std::string& broken : {std::string("<container"), std::string("<container/>")}) {
    const std::string archive =
        zip_archive({{"META-INF/container.xml", broken}, {"notes.txt", "hello"}, {"s", kScore}});
    const base::Outcome<std::string> outcome = score_in_container(archive);
    EXPECT_EQ(outcome.value.value(), kScore);
    ASSERT_EQ(outcome.diagnostics.size(), 1u);
    EXPECT_EQ(outcome.diagnostics[0].rule->name, "container-without-rootfile");
    EXPECT_EQ(outcome.diagnostics[0].severity, base::Severity::warning);
  }
  const base::Outcome<std::string> bare = score_in_container(zip_archive({{"s.xml", kScore}}));
  EXPECT_EQ(bare.value.value(), kScore);
  EXPECT_EQ(bare.diagnostics.at(0).rule->name, "container-without-rootfile");
}

TEST(Container, WithoutListingAndOneScoreIsRefused) {
  EXPECT_EQ(unpacked({{"a.xml", kScore}, {"b.xml", kOther}}),
            "broken-container: the container holds 2 scores and does not say which is meant");
  EXPECT_EQ(unpacked({{"a.txt", "hello"}}), "broken-container: the container holds no score");
  EXPECT_EQ(unpacked({}), "broken-container: the container holds no score");
}

TEST(Container, NamesThatLeadOutsideAreRefused) {
  for (const char* name : {"../score.xml", "a/../../score.xml", "a/..", "/score.xml",
                           "..\\score.xml", "\\score.xml"}) {
    EXPECT_EQ(
        unpacked({container_naming({name}), {name, kScore}}),
        std::string("unsafe-container: the container holds a file whose name leads outside: ") +
            name);
  }
  EXPECT_EQ(unpacked({container_naming({"..score"}), {"..score", kScore}}), kScore);
}

TEST(Container, HoldsAtMostAThousandFiles) {
  std::vector<ZipEntry> entries{container_naming({"s.xml"}), {"s.xml", kScore}};
  while (entries.size() < 1000) entries.push_back({"f" + std::to_string(entries.size()), ""});
  EXPECT_EQ(unpacked(entries), kScore);
  entries.push_back({"last", ""});
  EXPECT_EQ(unpacked(entries), "unsafe-container: the container holds more than 1000 files");
}

TEST(Container, CountsTheBytesThatReallyCome) {
  ContainerLimits limits;
  limits.inflated_bytes = 4 << 20;
  const std::string big =
      "<score-partwise><!--" + std::string(5 << 20, 'x') + "--></score-partwise>";
  const std::string error = "unsafe-container: the container unpacks to more than 4 MiB";
  const ZipEntry listing = container_naming({"s.xml"});
  EXPECT_EQ(unpacked({listing, {"s.xml", big, 8}}, limits), error);
  // It says that it is small.
  EXPECT_EQ(unpacked({listing, {"s.xml", big, 8, false, 100}}, limits), error);
  // No file is large, but all that are searched for a score together.
  std::vector<ZipEntry> many;
  for (int i = 0; i < 5; ++i) {
    many.push_back({"f" + std::to_string(i), std::string(1 << 20, 'x'), 8});
  }
  EXPECT_EQ(unpacked(many, limits), error);
  limits.inflated_bytes = 8 << 20;
  EXPECT_EQ(unpacked({listing, {"s.xml", big, 8}}, limits), big);
}

TEST(Container, DefaultLimitsAreThoseOfTheFormat) {
  EXPECT_EQ(ContainerLimits{}.entries, 1000u);
  EXPECT_EQ(ContainerLimits{}.inflated_bytes, std::size_t{256} << 20);
}

// The numbers of the methods stand in the .ZIP File Format Specification, 4.4.5.
TEST(Container, FilesNobodyCanUnpackAreNamed) {
  const ZipEntry listing = container_naming({"s.xml"});
  EXPECT_EQ(unpacked({listing, {"s.xml", kScore, 0, true}}),
            "broken-container: the file 's.xml' in the container is encrypted");
  const auto packed_by = [](const std::string& method) {
    return "broken-container: the file 's.xml' in the container is packed by " + method +
           ", which MusicXML does not use";
  };
  EXPECT_EQ(unpacked({listing, {"s.xml", kScore, 98}}), packed_by("PPMd"));
  EXPECT_EQ(unpacked({listing, {"s.xml", kScore, 12}}), packed_by("bzip2"));
  EXPECT_EQ(unpacked({listing, {"s.xml", kScore, 77}}), packed_by("method 77"));
  // Where the listing is packed so as well, or where there is none, it is still no lack of a score.
  ZipEntry packed_listing = listing;
  packed_listing.method = 12;
  EXPECT_EQ(unpacked({packed_listing, {"s.xml", kScore, 12}}), packed_by("bzip2"));
  EXPECT_EQ(unpacked({{"s.xml", kScore, 14}}), packed_by("LZMA"));
  std::string archive = zip_archive({listing, {"s.xml", kScore}});
  archive[archive.find("P1")] = 'Q';  // no longer what the checksum says
  const base::Outcome<std::string> outcome = score_in_container(archive);
  EXPECT_EQ(outcome.diagnostics.at(0).message.substr(0, 18), "the file 's.xml' i");
}

TEST(Container, EveryCutOfAnArchiveIsRefused) {
  const std::string whole = make_container(kScore).value.value();
  EXPECT_EQ(score_in_container(whole).value.value(), kScore);
  for (std::size_t size = 0; size < whole.size(); ++size) {
    const base::Outcome<std::string> cut = score_in_container(whole.substr(0, size));
    ASSERT_FALSE(cut.ok()) << size;
    EXPECT_EQ(cut.diagnostics.at(0).rule->name, "broken-container");
  }
}

TEST(Container, IsTheSameEachTime) {
  EXPECT_EQ(make_container(kScore).value.value(), make_container(kScore).value.value());
  EXPECT_EQ(make_container(kScore).value.value().substr(30, 46),
            "mimetypeapplication/vnd.recordare.musicxml" + std::string("PK\x03\x04"));
}

}  // namespace
}  // namespace yubifu::musicxml
