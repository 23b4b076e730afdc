#include "midi/own_text.h"

#include <algorithm>

#include "midi/messages.h"

namespace yubifu::midi {

std::optional<OwnText> own_text(const MetaEvent& meta) {
  if (meta.type != kText || !meta.data.starts_with(kOwnPrefix)) return std::nullopt;
  const std::string_view rest = meta.data.substr(kOwnPrefix.size());
  const std::size_t colon = rest.find(": ");
  if (colon == std::string_view::npos) return std::nullopt;
  return OwnText{rest.substr(0, colon), rest.substr(colon + 2)};
}

bool has_own_text(const std::vector<MetaEvent>& metas, const OwnText& wanted) {
  return std::any_of(metas.begin(), metas.end(),
                     [&](const MetaEvent& meta) { return own_text(meta) == wanted; });
}

}  // namespace yubifu::midi
