#include "support/invariants.h"

#include <utility>

#include "model/invariants.h"

namespace yubifu::support {

std::vector<std::string> broken_invariants(const model::Score& score) {
  std::vector<std::string> sentences;
  for (model::BrokenInvariant& broken : model::broken_invariants(score)) {
    sentences.push_back(std::move(broken.sentence));
  }
  return sentences;
}

}  // namespace yubifu::support
