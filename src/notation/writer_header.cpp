#include "notation/writer_header.h"

#include <algorithm>

#include <fmt/format.h>

#include "model/words.h"
#include "notation/characters.h"
#include "notation/spelling.h"
#include "notation/writer_text.h"

namespace yubifu::notation {
namespace {

class HeaderPrinter {
 public:
  explicit HeaderPrinter(const model::Header& header) : header_(header) {}

  std::string print() {
    for (const std::string& comment : header_.comments) {
      out_.append(comment_text(comment)).append("\n");
    }
    add_names();
    if (header_.flute) add(HeaderKey::flute, flute_text(*header_.flute));
    if (header_.tuning_hz) add(HeaderKey::tuning, fmt::format("{}", *header_.tuning_hz));
    add(HeaderKey::meter, model::to_text(header_.meter));
    if (header_.beat) add(HeaderKey::beat, model::beat_text(*header_.beat));
    if (header_.tempo) {
      const model::Rational beat = header_.beat.value_or(model::default_beat(header_.meter));
      add(HeaderKey::tempo, model::to_text(*header_.tempo, model::felt_beat(header_.meter, beat)));
    }
    if (header_.key) add(HeaderKey::key, model::to_text(*header_.key));
    if (header_.staff) add(HeaderKey::staff, model::word_of(*header_.staff));
    if (header_.zero != model::ZeroSign::cross) {
      add(HeaderKey::zero, model::word_of(header_.zero));
    }
    for (const model::HeaderField& field : header_.unknown) add(field.key, field.value);
    return std::move(out_);
  }

 private:
  void add_names() {
    const auto add_name = [&](HeaderKey key, const std::string& value) {
      if (!trimmed(value).empty()) add(key, value);
    };
    add_name(HeaderKey::title, header_.title);
    add_name(HeaderKey::subtitle, header_.subtitle);
    add_name(HeaderKey::composer, header_.composer);
    add_name(HeaderKey::lyricist, header_.lyricist);
    add_name(HeaderKey::source, header_.source);
    add_name(HeaderKey::rights, header_.rights);
  }

  void add(HeaderKey key, std::string_view value) { add(word_of(key), value); }

  void add(std::string_view key, std::string_view value) {
    out_.append(key).append(":");
    const std::string_view text = trimmed(value);
    if (!text.empty()) out_.append(" ").append(text);
    out_ += '\n';
  }

  const model::Header& header_;
  std::string out_;
};

}  // namespace

bool is_writable_field(const model::Header& header, const model::HeaderField& field) {
  if (!may_be_header_key(field.key) || header_key(folded(field.key))) return false;
  const auto same = [&](const model::HeaderField& other) { return other.key == field.key; };
  const auto first = std::find_if(header.unknown.begin(), header.unknown.end(), same);
  return first == header.unknown.end() || &*first == &field;
}

std::string header_text(const model::Header& header) {
  return HeaderPrinter(header).print();
}

std::string comment_text(const std::string& text) {
  return text.empty() ? "#" : "# " + text;
}

}  // namespace yubifu::notation
