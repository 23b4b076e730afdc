// The rules that page reports.
#pragma once

#include <vector>

#include "base/diagnostic.h"

namespace yubifu::page {

namespace rule {
inline constexpr base::Rule not_fingered{
    "page-not-fingered", base::Severity::error,
    "Every note must have a fingering or be a gap before it can be printed as a number.",
    "a melody from a staff that no flute has fingered", "the same melody fingered for a flute"};
inline constexpr base::Rule too_fine{
    "page-bar-too-fine", base::Severity::error,
    "Every bar must have a common division of at most 10000 parts a beat.",
    "a bar with notes at 1/101 and 1/103 of a beat", "a bar with notes at 1/4 and 1/3 of a beat"};
inline constexpr base::Rule option_range{
    "page-option-range", base::Severity::error,
    "The scale must be from 0.5 to 3, the number of columns from 1 to 40.", "scale 5", "scale 2"};
inline constexpr base::Rule crowded{
    "page-crowded", base::Severity::warning,
    "The numbers of a bar should not have to be less than half as large as the others.",
    "a beat of 100 notes at scale 3", "a beat of 4 notes at scale 1"};
inline constexpr base::Rule made_smaller{
    "page-made-smaller", base::Severity::note,
    "The signs are made smaller when the columns asked for do not fit at that size.",
    "40 columns a page at scale 1", "8 columns a page at scale 1"};
inline constexpr base::Rule fewer_columns{
    "page-fewer-columns", base::Severity::note,
    "A score should be long enough for the columns asked for.",
    "8 columns for a score of one bar at scale 1", "1 column for it"};
inline constexpr base::Rule left_out{
    "page-left-out", base::Severity::note,
    "The page has no place for comments, keys and header fields of no known meaning.",
    "a score with a comment", "the score without it"};
inline constexpr base::Rule same_title{
    "page-same-title", base::Severity::note,
    "The tunes of a book should have titles that tell them apart.", "two tunes named Song",
    "a tune named Song and one named Dance"};
inline constexpr base::Rule no_pdf{"page-no-pdf", base::Severity::error,
                                   "PDF needs a program that was built with librsvg and cairo.",
                                   "--to pdf of a program built without them", "--to html of any"};
inline constexpr base::Rule no_letter{
    "page-no-letter", base::Severity::warning,
    "The fonts of the computer that makes a PDF should have every letter of it.",
    "song text in a script without a font there", "the same text as .html"};
inline constexpr base::Rule not_in_chart{"page-not-in-chart", base::Severity::warning,
                                         "The chart shows fingerings of the flute's table.",
                                         "a chart of 6̇ for a flute whose table ends at 5̇",
                                         "a chart of 5̇ for that flute"};
}  // namespace rule

/// All of them, in the order of this header.
inline const std::vector<const base::Rule*>& rules() {
  static const std::vector<const base::Rule*> list{
      &rule::not_fingered, &rule::too_fine,      &rule::option_range, &rule::crowded,
      &rule::made_smaller, &rule::fewer_columns, &rule::left_out,     &rule::same_title,
      &rule::no_pdf,       &rule::no_letter,     &rule::not_in_chart};
  return list;
}

}  // namespace yubifu::page
