#include "notation/look_alikes.h"

#include <string>
#include <string_view>
#include <utility>

#include "base/message.h"
#include "notation/characters.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

// What is written, and what it is read as; in the order of LookAlike.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> kLookAlikes{
    {{"ニ", "二"}, {"ミ", "三"}, {"力", "カ"}, {"x", "×"}, {"め", "メ"}}};

}  // namespace

void LookAlikes::count(const std::vector<LookAlike>& found, base::SourceRange where) {
  for (const LookAlike look_alike : found) {
    Kind& kind = kinds_[static_cast<std::size_t>(look_alike)];
    if (kind.count++ == 0) kind.first = where;
  }
}

void LookAlikes::report(Reports& reports) const {
  for (std::size_t i = 0; i < kinds_.size(); ++i) {
    const Kind& kind = kinds_[i];
    if (kind.count == 0) continue;
    const auto& [written, meant] = kLookAlikes[i];
    std::string message = base::message("{} is read as {}", shown(written), shown(meant));
    if (kind.count > 1) message += base::message(", here and in {} more places", kind.count - 1);
    reports.add(rule::look_alike, kind.first, std::move(message),
                static_cast<LookAlike>(i) == LookAlike::me
                    ? base::message("half holes are written in katakana")
                    : base::message("they only look alike"));
  }
}

}  // namespace yubifu::notation
