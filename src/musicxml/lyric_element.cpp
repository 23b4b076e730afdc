#include "musicxml/lyric_element.h"

#include <optional>

#include "model/words.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {

LyricElement read_lyric(pugi::xml_node lyric) {
  using model::SyllableKind;
  LyricElement out;
  std::optional<SyllableKind> first;
  SyllableKind last = SyllableKind::single;
  bool elided = false;
  for (const pugi::xml_node child : lyric.children()) {
    const std::string_view name = child.name();
    if (name == "syllabic") {
      const auto kind = model::syllable_kind_named(word_of(child));
      if (!kind) out.unknown_kind = word_of(child);
      last = kind.value_or(SyllableKind::single);
      if (!first) first = last;
    } else if (name == "elision") {
      elided = true;
    } else if (name == "text") {
      if (elided && !out.text.empty()) out.text += model::kElision;
      elided = false;
      out.text += text_of(child);
      if (!first) first = last;
    } else if (name == "extend") {
      const std::string_view type = attribute(child, "type");
      out.extension = out.text.empty() ? Extension::continues
                      : type.empty()   ? Extension::untyped
                                       : Extension::starts;
    } else if (name == "humming" || name == "laughing") {
      out.is_wordless = true;
    }
  }
  // Syllables joined on one note are to their neighbours what the outer ones are.
  out.kind = model::syllable_kind(continues_word(first.value_or(SyllableKind::single)),
                                  word_goes_on(last));
  return out;
}

}  // namespace yubifu::musicxml
