#include "check/alignment.h"

#include <algorithm>
#include <cstdint>
#include <random>
#include <vector>

#include <gtest/gtest.h>

namespace yubifu::check {
namespace {

std::vector<Token> tokens(const std::vector<int>& values) {
  std::vector<Token> list;
  for (const int value : values) list.push_back({value, 1, 0});
  return list;
}

int cost_of_pair(const Token& a, const Token& b) {
  return (a.what == b.what ? 0 : 3) + (a.how_long == b.how_long ? 0 : 1) +
         (a.where == b.where ? 0 : 1);
}

int cost_of(const std::vector<Pairing>& pairs, const std::vector<Token>& a,
            const std::vector<Token>& b) {
  int cost = 0;
  for (const Pairing& pair : pairs) {
    cost += pair.a && pair.b ? cost_of_pair(a[*pair.a], b[*pair.b]) : 3;
  }
  return cost;
}

// The whole table, as in a textbook.
int least_cost(const std::vector<Token>& a, const std::vector<Token>& b) {
  std::vector<std::vector<int>> table(a.size() + 1, std::vector<int>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) table[i][0] = static_cast<int>(3 * i);
  for (std::size_t j = 0; j <= b.size(); ++j) table[0][j] = static_cast<int>(3 * j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      table[i][j] = std::min({table[i - 1][j - 1] + cost_of_pair(a[i - 1], b[j - 1]),
                              table[i - 1][j] + 3, table[i][j - 1] + 3});
    }
  }
  return table[a.size()][b.size()];
}

void expect_each_once(const std::vector<Pairing>& pairs, std::size_t a, std::size_t b) {
  std::size_t next_a = 0;
  std::size_t next_b = 0;
  for (const Pairing& pair : pairs) {
    if (pair.a) {
      EXPECT_EQ(*pair.a, next_a++);
    }
    if (pair.b) {
      EXPECT_EQ(*pair.b, next_b++);
    }
  }
  EXPECT_EQ(next_a, a);
  EXPECT_EQ(next_b, b);
}

TEST(Alignment, PairsEqualRows) {
  const auto row = tokens({1, 2, 3});
  EXPECT_EQ(align(row, row), (std::vector<Pairing>{{0, 0}, {1, 1}, {2, 2}}));
}

TEST(Alignment, LeavesOnlyTheMissingOneAlone) {
  const auto pairs = align(tokens({1, 2, 3, 4, 5}), tokens({1, 2, 4, 5}));
  EXPECT_EQ(pairs, (std::vector<Pairing>{{0, 0}, {1, 1}, {2, std::nullopt}, {3, 2}, {4, 3}}));
}

TEST(Alignment, PairsAChangedThing) {
  const auto pairs = align(tokens({1, 2, 3}), tokens({1, 9, 3}));
  EXPECT_EQ(pairs, (std::vector<Pairing>{{0, 0}, {1, 1}, {2, 2}}));
}

TEST(Alignment, TakesEmptyRows) {
  EXPECT_TRUE(align({}, {}).empty());
  EXPECT_EQ(align({}, tokens({1})), (std::vector<Pairing>{{std::nullopt, 0}}));
  EXPECT_EQ(align(tokens({1}), {}), (std::vector<Pairing>{{0, std::nullopt}}));
}

TEST(Alignment, CostsNoMoreThanTheWholeTable) {
  std::mt19937 random(7);
  for (int round = 0; round < 3000; ++round) {
    const auto row = [&] {
      std::vector<Token> list(random() % 9);
      for (Token& token : list) {
        token = {static_cast<std::int64_t>(random() % 3), static_cast<std::int64_t>(random() % 2),
                 static_cast<std::int64_t>(random() % 2)};
      }
      return list;
    };
    const auto a = row();
    const auto b = row();
    const auto pairs = align(a, b);
    expect_each_once(pairs, a.size(), b.size());
    EXPECT_EQ(cost_of(pairs, a, b), least_cost(a, b)) << "round " << round;
  }
}

// Long enough that a band is tried, with so few changes that it must do.
TEST(Alignment, CostsNoMoreThanTheWholeTableWithinABand) {
  std::mt19937 random(23);
  for (int round = 0; round < 20; ++round) {
    std::vector<Token> a(700 + random() % 200);
    for (Token& token : a) token = {static_cast<std::int64_t>(random() % 5), 1, 0};
    std::vector<Token> b = a;
    for (int change = static_cast<int>(random() % 30); change > 0; --change) {
      const auto at = static_cast<std::ptrdiff_t>(random() % b.size());
      if (random() % 2 == 0) {
        b.erase(b.begin() + at);
      } else {
        b.insert(b.begin() + at, Token{static_cast<std::int64_t>(random() % 5), 2, 0});
      }
    }
    const auto pairs = align(a, b);
    expect_each_once(pairs, a.size(), b.size());
    EXPECT_EQ(cost_of(pairs, a, b), least_cost(a, b)) << "round " << round;
  }
}

TEST(Alignment, StaysUsefulWhereTheTableWouldBeTooLarge) {
  std::mt19937 random(11);
  std::vector<Token> a(15'000);
  for (Token& token : a) token = {static_cast<std::int64_t>(random() % 24), 1, 0};
  std::vector<Token> b = a;
  b.erase(b.begin() + 100);
  b.erase(b.begin() + 12'000);
  b[7'000].what = 99;
  const auto pairs = align(a, b);
  expect_each_once(pairs, a.size(), b.size());
  EXPECT_LE(cost_of(pairs, a, b), 9);
}

}  // namespace
}  // namespace yubifu::check
