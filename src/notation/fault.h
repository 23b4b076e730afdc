// What is wrong with a piece of text, before anybody knows where it stands.
#pragma once

#include <string>

#include "base/diagnostic.h"

namespace yubifu::notation {

/// A finding without its place; the rule is never null.
struct Fault {
  const base::Rule* rule = nullptr;
  std::string message;
  std::string hint;
};

}  // namespace yubifu::notation
