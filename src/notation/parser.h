// Tokens to a tree.
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "notation/token.h"
#include "notation/tree.h"

namespace yubifu::notation {

/// More bars than this are not read.
inline constexpr std::size_t kMostBars = 500'000;

/// Groups the tokens of `source` into bars. Reports brackets that do not pair, groups without two
/// words, lengths of groups, missing spaces, bar signs without a bar and late header lines, and
/// goes on at the next bar.
base::Outcome<Tree> parse(const base::SourceText& source, const std::vector<Token>& tokens);

}  // namespace yubifu::notation
