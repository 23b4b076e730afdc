// Options for the printed page.
#include <utility>

#include "base/message.h"
#include "cli/options/rows.h"
#include "model/rational.h"

namespace yubifu::cli {
namespace {

using base::message;

std::optional<page::PaperSize> paper(const std::string& text) {
  if (text == "a4") return page::PaperSize::a4;
  if (text == "letter") return page::PaperSize::letter;
  return std::nullopt;
}

std::optional<page::ReadingDirection> direction(const std::string& text) {
  if (text == "down") return page::ReadingDirection::down;
  if (text == "across") return page::ReadingDirection::across;
  return std::nullopt;
}

std::optional<page::HeldBeats> held_beats(const std::string& text) {
  if (text == "strokes") return page::HeldBeats::strokes;
  if (text == "dashes") return page::HeldBeats::dashes;
  return std::nullopt;
}

std::optional<double> scale(const std::string& text) {
  const auto value = model::parse_decimal(text);
  if (!value) return std::nullopt;
  const double number = value->as_double();
  if (number < page::kLeastScale || number > page::kMostScale) return std::nullopt;
  return number;
}

std::optional<std::optional<int>> columns(const std::string& text) {
  if (text == "auto") return std::optional<int>();
  const auto number = whole_number(text, 1, page::kMostColumns);
  if (!number) return std::nullopt;
  return number;
}

std::vector<OptionRow> paper_options() {
  return {
      {"size",
       0,
       "PAPER",
       OptionGroup::page,
       {"convert"},
       "a4 (the default) or letter",
       [](Options& o, const std::string& v) {
         return keep(paper(v), o.page.paper, message("a4 or letter"));
       },
       {"a4", "letter"}},
      {"landscape",
       0,
       "",
       OptionGroup::page,
       {"convert"},
       "the paper lies on its long side",
       [](Options& o, const std::string&) -> Complaint {
         o.page.orientation = page::Orientation::landscape;
         return std::nullopt;
       }},
      {"columns",
       0,
       "N",
       OptionGroup::page,
       {"convert"},
       "columns a page: auto (the default, as many as fit) or a number; the signs shrink to fit",
       [](Options& o, const std::string& v) {
         return keep(columns(v), o.page.columns,
                     message("auto or a number from 1 to {}", page::kMostColumns));
       },
       {"auto"}},
      {"scale",
       0,
       "N",
       OptionGroup::page,
       {"convert"},
       "size of the signs: 1 is a digit of 6 mm, 3 the largest, 18 mm",
       [](Options& o, const std::string& v) {
         return keep(scale(v), o.page.scale,
                     message("a number from {} to {}", page::kLeastScale, page::kMostScale));
       }},
      {"tall",
       0,
       "",
       OptionGroup::page,
       {"convert"},
       "all pages of an .svg in one tall file instead of a file for each",
       [](Options& o, const std::string&) -> Complaint {
         o.page.documents = page::SvgDocuments::one_tall;
         return std::nullopt;
       }},
  };
}

std::vector<OptionRow> music_options() {
  return {
      {"direction",
       0,
       "WAY",
       OptionGroup::page,
       {"convert"},
       "down: columns from top to bottom and right to left (the default); across: rows from left "
       "to right",
       [](Options& o, const std::string& v) {
         return keep(direction(v), o.page.direction, message("down or across"));
       },
       {"down", "across"}},
      {"tied",
       0,
       "KIND",
       OptionGroup::page,
       {"convert"},
       "held beats as strokes (the default) or dashes",
       [](Options& o, const std::string& v) {
         return keep(held_beats(v), o.page.held, message("strokes or dashes"));
       },
       {"strokes", "dashes"}},
      {"no-text",
       0,
       "",
       OptionGroup::page,
       {"convert"},
       "without song text and sung syllables",
       [](Options& o, const std::string&) -> Complaint {
         o.page.song_text = page::SongText::hidden;
         return std::nullopt;
       }},
      {"with-chart",
       0,
       "",
       OptionGroup::page,
       {"convert"},
       "the fingerings that the score uses follow on a page of their own",
       [](Options& o, const std::string&) -> Complaint {
         o.page.chart = page::ChartPages::used_fingerings;
         return std::nullopt;
       }},
  };
}

}  // namespace

std::vector<OptionRow> page_options() {
  std::vector<OptionRow> rows = paper_options();
  for (OptionRow& row : music_options()) rows.push_back(std::move(row));
  return rows;
}

}  // namespace yubifu::cli
