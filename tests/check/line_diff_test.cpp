#include <gtest/gtest.h>

#include "check/alignment.h"

namespace yubifu::check {
namespace {

TEST(UnifiedDiff, IsEmptyForEqualTexts) {
  EXPECT_EQ(unified_diff("a\nb\n", "a\nb\n", "x", "y"), "");
  EXPECT_EQ(unified_diff("", "", "x", "y"), "");
}

// As `diff -u` prints the same, the times in its head aside.
TEST(UnifiedDiff, ShowsThreeLinesAround) {
  EXPECT_EQ(unified_diff("1\n2\n3\n4\n5\n6\n7\n8\n9\n", "1\n2\n3\n4\nfive\n6\n7\n8\n9\n", "x", "y"),
            "--- x\n+++ y\n@@ -2,7 +2,7 @@\n 2\n 3\n 4\n-5\n+five\n 6\n 7\n 8\n");
}

TEST(UnifiedDiff, PartsWhatLiesFarApart) {
  const std::string before = "a\n1\n2\n3\n4\n5\n6\n7\nb\n";
  EXPECT_EQ(unified_diff(before, "A\n1\n2\n3\n4\n5\n6\n7\nB\n", "x", "y"),
            "--- x\n+++ y\n@@ -1,4 +1,4 @@\n-a\n+A\n 1\n 2\n 3\n"
            "@@ -6,4 +6,4 @@\n 5\n 6\n 7\n-b\n+B\n");
}

// Six lines between two changes are all shown as what is around them.
TEST(UnifiedDiff, JoinsWhatHasSixLinesBetween) {
  EXPECT_EQ(unified_diff("a\n1\n2\n3\n4\n5\n6\nb\n", "A\n1\n2\n3\n4\n5\n6\nB\n", "x", "y"),
            "--- x\n+++ y\n@@ -1,8 +1,8 @@\n-a\n+A\n 1\n 2\n 3\n 4\n 5\n 6\n-b\n+B\n");
}

TEST(UnifiedDiff, CountsFromNothing) {
  EXPECT_EQ(unified_diff("", "a\n", "x", "y"), "--- x\n+++ y\n@@ -0,0 +1 @@\n+a\n");
  EXPECT_EQ(unified_diff("a\n", "", "x", "y"), "--- x\n+++ y\n@@ -1 +0,0 @@\n-a\n");
}

TEST(UnifiedDiff, SaysWhereTheLastLineIsNotEnded) {
  EXPECT_EQ(unified_diff("a", "a\n", "x", "y"),
            "--- x\n+++ y\n@@ -1 +1 @@\n-a\n\\ No newline at end of file\n+a\n");
}

}  // namespace
}  // namespace yubifu::check
