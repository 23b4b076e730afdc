#include "page/book/book.h"

#include <algorithm>
#include <iterator>
#include <map>

#include <fmt/format.h>

#include "base/message.h"
#include "base/utf8.h"
#include "page/rules.h"
#include "page/style.h"
#include "page/texts.h"

namespace yubifu::page {
namespace {

// The text, or as much of it as fits on a line `most` wide (in units of its size).
std::string shortened(const std::string& text, double most) {
  if (text_width(text) <= most) return text;
  constexpr std::string_view kMore = "…";
  return wrapped(text, most - text_width(kMore)).front() + std::string(kMore);
}

// The first words that are sung: enough of them to be known by.
std::string first_words_of(const model::Score& score) {
  constexpr double kEnough = 12;
  std::string words;
  for (const model::Note& note : score.notes) {
    for (const model::Syllable& syllable : note.syllables) {
      if (syllable.verse != score.verses.front() || syllable.text.empty()) continue;
      words += syllable.text;
      const bool wide = base::display_width(base::first_code_point(syllable.text).value) == 2;
      if (!wide && !word_goes_on(syllable.kind)) words += ' ';
    }
    if (text_width(words) >= kEnough) return words + "…";
  }
  return words;
}

// Whether a chart shows the same of both. Their names do not tell: paths count from each score.
bool is_same_flute(const flute::Flute& a, const flute::Flute& b) {
  const auto is_same_entry = [](const flute::Entry& one, const flute::Entry& other) {
    return one.sign == other.sign && one.half == other.half && one.cents == other.cents &&
           one.patterns == other.patterns;
  };
  return a.title() == b.title() && a.ichi() == b.ichi() && a.tuning_hz() == b.tuning_hz() &&
         a.concert_celsius() == b.concert_celsius() &&
         std::equal(a.entries().begin(), a.entries().end(), b.entries().begin(), b.entries().end(),
                    is_same_entry);
}

// What a tune of a book leaves to the book: numbers that begin anew with each tune.
void forget_notes(Sheet& sheet) {
  for (Item& item : sheet.items) {
    item.note.reset();
    if (auto* unseen = std::get_if<UnseenText>(&item.shape)) {
      for (UnseenText::Run& run : unseen->runs) run.note.reset();
    }
  }
}

}  // namespace

Book::Book(std::string title, const PageOptions& options, TuneStart start)
    : title_(std::move(title)),
      options_(options),
      start_(start),
      size_(sheet_size(options.paper, options.orientation)) {
  if (start == TuneStart::following_on && !options_.scale) options_.scale = 1;
  std::vector<std::string> notes = all_explanations();
  notes.push_back(hearing_caution());
  foot_ = footer_height(notes, area_of(size_).width());
}

base::Diagnostics Book::add(const std::string& name, const model::Score& score,
                            const FluteList& flutes) {
  const bool follows = start_ == TuneStart::following_on;
  Placing placing;
  if (follows) {
    placing.foot = foot_;
    if (!part_ && taken_ > 0) placing.taken = taken_ + style::kBetweenTunes;
  }
  auto music = music_sheets(score, flutes, options_, placing);
  if (!music.value) return std::move(music.diagnostics);
  if (placing.taken <= 0) music.value->on_own_sheet = true;
  if (part_) {
    contents_.push_back({*part_, leaves_.size(), TextWeight::bold});
    leaves_.push_back(title_leaf(*part_, style::kPartText));
    part_.reset();
  }
  const std::string& title = score.header.title.empty() ? name : score.header.title;
  place(std::move(*music.value), title);
  add_uses(score, flutes);
  if (!score.verses.empty() && score.verses.front() != model::kShogaVerse) {
    const std::string words = first_words_of(score);
    if (!words.empty()) {
      first_words_.push_back({words + kSpace + "(" + title + ")", tunes_.back().leaf});
    }
  }
  if (caution_.empty()) caution_ = caution_for(score, flutes);
  if (follows) {
    for (const std::string& text : {score.header.source, score.header.rights}) {
      if (!text.empty()) sources_.push_back({fmt::format("{}: {}", title, text), std::nullopt});
    }
  }
  return std::move(music.diagnostics);
}

// Puts the sheets of a tune behind the others; its first one may go on with the last of these.
void Book::place(MusicSheets music, const std::string& name) {
  tunes_.push_back({name, leaves_.size() - (music.on_own_sheet ? 0 : 1)});
  contents_.push_back(tunes_.back());
  bool first = true;
  const auto explanations = all_explanations();
  for (Sheet& sheet : music.sheets) {
    forget_notes(sheet);
    // What signs mean is said once in a book; sources are said as often as they are given.
    std::erase_if(sheet.notes, [&](const std::string& note) {
      const bool is_explanation =
          std::find(explanations.begin(), explanations.end(), note) != explanations.end();
      return is_explanation && !explained_.insert(note).second;
    });
    if (std::exchange(first, false) && !music.on_own_sheet) {
      Sheet& last = leaves_.back().sheet;
      for (Item& item : sheet.items) {
        if (item.bar) *item.bar += last.bars.size();
      }
      append(last.items, std::move(sheet.items));
      std::move(sheet.bars.begin(), sheet.bars.end(), std::back_inserter(last.bars));
      std::move(sheet.notes.begin(), sheet.notes.end(), std::back_inserter(last.notes));
    } else {
      sheet.title = name;
      sheet.description = name;
      leaves_.push_back({std::move(sheet), name});
    }
  }
  taken_ = music.taken;
}

void Book::add_uses(const model::Score& score, const FluteList& flutes) {
  for (ChartOfFlute& use : flutes_used(score, flutes)) {
    auto known = std::find_if(uses_.begin(), uses_.end(), [&](const ChartOfFlute& one) {
      return is_same_flute(*one.flute, *use.flute);
    });
    if (known == uses_.end())
      known = uses_.insert(known, {use.flute, std::vector<model::Fingering>()});
    for (model::Fingering& fingering : *use.only) {
      fingering.bend_cents = 0;
      const bool is_new =
          std::find(known->only->begin(), known->only->end(), fingering) == known->only->end();
      if (is_new) known->only->push_back(std::move(fingering));
    }
  }
}

Sheet Book::blank(const std::string& title) const {
  return {.width = size_.width, .height = size_.height, .title = title, .description = title};
}

Book::Leaf Book::title_leaf(const std::string& title, double size) const {
  const Box area = area_of(size_);
  Leaf leaf{blank(title), {}};
  double y = area.top + area.height() / 3;
  for (const std::string& line : wrapped(title, area.width() / size)) {
    leaf.sheet.items.push_back(
        bold(line_around(Role::heading, line, {area.center().x, y}, size, TextAnchor::middle)));
    y += size * style::kBookLine;
  }
  return leaf;
}

// A list with page numbers at the right, on as many leaves as it takes.
std::vector<Book::Leaf> Book::list_leaves(const std::string& title, const std::vector<Row>& rows,
                                          std::size_t leaves_before) const {
  constexpr double kNumberRoom = 12;
  constexpr double kIndent = 8;  // of further lines
  const Box area = area_of(size_);
  const double size = style::kListText;
  const double step = size * style::kBookLine;
  std::vector<Leaf> leaves;
  double y = 0;
  const auto new_leaf = [&] {
    leaves.push_back({blank(title), title});
    y = area.top + style::kPartText;
    if (leaves.size() > 1) return;
    leaves.back().sheet.items.push_back(bold(
        line_around(Role::heading, title, {area.left, y}, style::kPartText, TextAnchor::start)));
    y += style::kPartText * style::kBookLine;
  };
  new_leaf();
  for (const Row& row : rows) {
    if (row.text.empty()) continue;
    const auto lines = wrapped(row.text, (area.width() - kNumberRoom - kIndent) / size);
    const double length = static_cast<double>(lines.size()) * step;
    if (y + length > area.bottom - foot_) new_leaf();
    auto& items = leaves.back().sheet.items;
    double x = area.left;
    for (const std::string& line : lines) {
      Item item = line_around(Role::heading, line, {x, y}, size, TextAnchor::start);
      items.push_back(row.weight == TextWeight::bold ? bold(std::move(item)) : std::move(item));
      x = area.left + kIndent;
      y += step;
    }
    if (!row.leaf) continue;
    const double middle = y - step;
    const std::string page = std::to_string(*row.leaf + leaves_before + 1);
    const double from = items.back().box.right + size;
    Item number = line_around(Role::heading, page, {area.right, middle}, size, TextAnchor::end);
    const double to = number.box.left - size;
    constexpr double kUnder = 0.3;  // the middle of a line, in units of the text
    if (to > from) {
      items.push_back(line_item(Role::heading, {from, middle + kUnder * size},
                                {to, middle + kUnder * size}, kThinnestLine));
    }
    items.push_back(std::move(number));
  }
  return leaves;
}

base::Diagnostics Book::same_titles(std::size_t leaves_before) const {
  std::map<std::string, std::vector<std::string>> pages;
  for (const Row& tune : tunes_) {
    pages[tune.text].push_back(std::to_string(*tune.leaf + leaves_before + 1));
  }
  base::Diagnostics found;
  for (const auto& [title, on] : pages) {
    if (on.size() < 2) continue;
    found.push_back(report(rule::same_title, std::nullopt,
                           base::message("{} tunes have the title '{}' (pages {})", on.size(),
                                         title, fmt::join(on, ", "))));
  }
  return found;
}

// Heads, page numbers and feet.
void Book::finish(std::vector<Leaf>& leaves) const {
  constexpr double kHead = 4;  // over the area
  const Box area = area_of(size_);
  const double size = style::kFooterText;
  const double most = area.width() * 0.47 / size;
  if (!caution_.empty()) leaves.back().sheet.notes.push_back(caution_);
  // The title leaf has neither.
  for (std::size_t i = 1; i < leaves.size(); ++i) {
    auto& [sheet, head] = leaves[i];
    if (!head.empty()) {
      const double y = area.top - kHead;
      sheet.items.push_back(line_around(Role::footer, shortened(title_, most), {area.left, y}, size,
                                        TextAnchor::start));
      sheet.items.push_back(
          line_around(Role::footer, shortened(head, most), {area.right, y}, size, TextAnchor::end));
    }
    append(sheet.items, draw_footer(sheet.notes, area, std::to_string(i + 1)));
  }
}

base::Outcome<std::vector<Sheet>> Book::bind() {
  auto charts = chart_sheets(uses_, size_);
  base::Outcome<std::vector<Sheet>> result{std::vector<Sheet>(), std::move(charts.diagnostics)};
  const std::string fingerings = base::message("Fingerings");
  if (!uses_.empty()) contents_.push_back({fingerings, leaves_.size(), TextWeight::bold});
  for (Sheet& sheet : *charts.value) leaves_.push_back({std::move(sheet), fingerings});
  const auto by_text = [](const Row& a, const Row& b) { return a.text < b.text; };
  std::stable_sort(first_words_.begin(), first_words_.end(), by_text);
  const std::string index = base::message("Index of first words");
  const std::string sources = base::message("Sources");
  std::size_t end = leaves_.size();
  if (!first_words_.empty()) {
    contents_.push_back({index, end, TextWeight::bold});
    end += list_leaves(index, first_words_, 0).size();
  }
  if (!sources_.empty()) contents_.push_back({sources, end, TextWeight::bold});
  const std::string contents = base::message("Contents");
  // How many leaves a list takes does not depend on its numbers.
  const std::size_t before = 1 + list_leaves(contents, contents_, 0).size();
  base::append(result.diagnostics, same_titles(before));

  std::vector<Leaf> leaves{title_leaf(title_, style::kBookTitleText)};
  const auto add = [&](std::vector<Leaf> more) {
    std::move(more.begin(), more.end(), std::back_inserter(leaves));
  };
  add(list_leaves(contents, contents_, before));
  add(std::move(leaves_));
  if (!first_words_.empty()) add(list_leaves(index, first_words_, before));
  if (!sources_.empty()) add(list_leaves(sources, sources_, before));
  finish(leaves);
  for (Leaf& leaf : leaves) result.value->push_back(std::move(leaf.sheet));
  return result;
}

}  // namespace yubifu::page
