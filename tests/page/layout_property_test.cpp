// What must hold of every page, on generated scores.
#include <algorithm>
#include <array>
#include <cstdint>
#include <numeric>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "page/drawing.h"
#include "page/page.h"
#include "page/style.h"
#include "support/dice.h"
#include "support/rounds.h"
#include "support/score_generator.h"

namespace yubifu::page {
namespace {

constexpr double kSlack = 0.005;  // millimetres

PageOptions random_options(support::Dice& dice) {
  PageOptions options;
  options.paper = dice.percent(50) ? PaperSize::a4 : PaperSize::letter;
  options.orientation = dice.percent(30) ? Orientation::landscape : Orientation::portrait;
  options.direction = dice.percent(35) ? ReadingDirection::across : ReadingDirection::down;
  options.held = dice.percent(30) ? HeldBeats::dashes : HeldBeats::strokes;
  options.song_text = dice.percent(20) ? SongText::hidden : SongText::shown;
  options.holes = dice.percent(20) ? HolesShown::all : HolesShown::asked;
  if (dice.percent(50)) options.scale = dice.between(5, 30) / 10.0;
  if (dice.percent(20)) options.columns = dice.between(1, 12);
  return options;
}

std::string described(const Item& item) {
  const Box& box = item.box;
  std::string text = "role " + std::to_string(static_cast<int>(item.role));
  if (item.note) text += " of note " + std::to_string(*item.note);
  text += " at";
  for (const double edge : {box.left, box.top, box.right, box.bottom}) {
    text += " " + std::to_string(edge);
  }
  return text;
}

Box shrunk(const Box& box) {
  return {box.left + kSlack, box.top + kSlack, box.right - kSlack, box.bottom - kSlack};
}

// Signs that belong to one note or rest; lines that go over several notes do not.
bool is_sign(const Item& item) {
  switch (item.role) {
    case Role::number:
    case Role::small_sign:
    case Role::bend:
    case Role::stroke:
    case Role::rest:
    case Role::grace:
    case Role::mark:
    case Role::holes:
    case Role::song:
    case Role::shoga:
      return true;
    default:
      return false;
  }
}

// What signs must not touch either.
bool is_obstacle(const Item& item) {
  switch (item.role) {
    case Role::bar_line:
    case Role::beam:
    case Role::tuplet:
    case Role::slur:
    case Role::label:
    case Role::ending:
    case Role::bar_number:
    case Role::heading:
    case Role::footer:
      return true;
    default:
      return false;
  }
}

// A dot over its digit, the frame and the letters of a gap.
bool may_stand_on_a_sign(const Item& item) {
  return !std::holds_alternative<GlyphShape>(item.shape);
}

// Parts of one figure may touch: a dot over its digit, the hook of a bracket, lines of the heading.
// The grace notes of one note are several figures.
bool are_one_figure(const Item& a, const Item& b) {
  if (a.role == Role::grace && b.role == Role::grace && a.note == b.note) {
    return may_stand_on_a_sign(a) || may_stand_on_a_sign(b);
  }
  if (a.role == b.role) return a.note == b.note;
  const auto is_group_line = [](const Item& item) {
    return item.role == Role::beam || item.role == Role::tuplet;
  };
  return is_group_line(a) && is_group_line(b);
}

// Sorted by their left edges, so that only near ones are compared.
std::string first_collision(const Sheet& sheet) {
  std::vector<const Item*> items;
  for (const Item& item : sheet.items) {
    if (is_sign(item) || is_obstacle(item)) items.push_back(&item);
  }
  std::sort(items.begin(), items.end(),
            [](const Item* a, const Item* b) { return a->box.left < b->box.left; });
  for (std::size_t i = 0; i < items.size(); ++i) {
    for (std::size_t j = i + 1; j < items.size() && items[j]->box.left < items[i]->box.right; ++j) {
      const Item& a = *items[i];
      const Item& b = *items[j];
      if (are_one_figure(a, b)) continue;
      if (overlap(shrunk(a.box), shrunk(b.box))) return described(a) + " and " + described(b);
    }
  }
  return {};
}

// What once did not hold, among them brackets of small groups at the end of rows in large print.
constexpr std::array<std::uint64_t, 4> kOnceBroken{1238, 1744, 5627, 5918};

class GeneratedPages : public testing::TestWithParam<int> {
 protected:
  static constexpr std::uint64_t kScores = 400;

  static std::vector<std::uint64_t> seeds() {
    std::vector<std::uint64_t> found(support::rounds(kScores));
    std::iota(found.begin(), found.end(), static_cast<std::uint64_t>(GetParam()) * kScores);
    if (GetParam() == 0) found.insert(found.end(), kOnceBroken.begin(), kOnceBroken.end());
    return found;
  }

  // Calls `use` with the sheets of many scores.
  template <typename Use>
  void each_score(const Use& use) {
    for (const std::uint64_t seed : seeds()) {
      std::mt19937_64 random(seed);
      support::Dice dice(random);
      support::GeneratorOptions generator;
      generator.own_signs = dice.percent(20);
      generator.most_measures = dice.percent(10) ? 40 : 12;
      const model::Score score = support::random_score(random, generator);
      const PageOptions options = random_options(dice);
      const auto sheets = lay_out(score, {}, options);
      // Only bars of too fine a division have no page.
      if (!sheets.value) {
        EXPECT_EQ(sheets.diagnostics.front().rule->name, "page-bar-too-fine") << "seed " << seed;
        continue;
      }
      use(seed, options, *sheets.value);
    }
  }
};

TEST_P(GeneratedPages, KeepSignsApart) {
  each_score([](std::uint64_t seed, const PageOptions& options, const std::vector<Sheet>& sheets) {
    for (std::size_t i = 0; i < sheets.size(); ++i) {
      const std::string collision = first_collision(sheets[i]);
      EXPECT_EQ(collision, "") << "seed " << seed << ", sheet " << i + 1 << ", scale "
                               << options.scale.value_or(0) << ", across "
                               << (options.direction == ReadingDirection::across);
    }
  });
}

TEST_P(GeneratedPages, StayInsideTheMargins) {
  each_score([](std::uint64_t seed, const PageOptions& options, const std::vector<Sheet>& sheets) {
    const Box area = area_of(sheet_size(options.paper, options.orientation));
    for (const Sheet& sheet : sheets) {
      for (const Item& item : sheet.items) {
        const Box box = shrunk(item.box);
        const bool inside = box.left >= area.left && box.right <= area.right &&
                            box.top >= area.top && box.bottom <= area.bottom;
        ASSERT_TRUE(inside) << "seed " << seed << ": " << described(item) << ", scale "
                            << options.scale.value_or(0) << ", across "
                            << (options.direction == ReadingDirection::across);
      }
    }
  });
}

INSTANTIATE_TEST_SUITE_P(Seeds, GeneratedPages, testing::Range(0, 3));

}  // namespace
}  // namespace yubifu::page
