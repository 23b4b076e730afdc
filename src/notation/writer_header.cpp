#include "notation/writer_header.h"

#include <algorithm>

#include "notation/characters.h"
#include "notation/spelling.h"
#include "notation/writer_text.h"

namespace yubifu::notation {
namespace {

void add_line(std::string& out, std::string_view key, std::string_view value) {
  out.append(key).append(":");
  if (!value.empty()) out.append(" ").append(value);
  out += '\n';
}

}  // namespace

bool is_writable_field(const model::Header& header, const model::HeaderField& field) {
  if (!may_be_header_key(field.key) || header_key(folded(field.key))) return false;
  const auto same = [&](const model::HeaderField& other) { return other.key == field.key; };
  const auto first = std::find_if(header.unknown.begin(), header.unknown.end(), same);
  return first == header.unknown.end() || &*first == &field;
}

std::string header_text(const model::Header& header) {
  std::string out;
  for (const std::string& comment : header.comments) out.append(comment_text(comment)).append("\n");
  for (const HeaderKey key : model::header_keys()) {
    // The path of a flute file may look like a size.
    const auto text = key == HeaderKey::flute && header.flute ? flute_text(*header.flute)
                                                              : model::field_text(header, key);
    if (text && !trimmed(*text).empty()) add_line(out, word_of(key), trimmed(*text));
  }
  for (const model::HeaderField& field : header.unknown) {
    add_line(out, field.key, trimmed(field.value));
  }
  return out;
}

std::string comment_text(const std::string& text) {
  return text.empty() ? "#" : "# " + text;
}

}  // namespace yubifu::notation
