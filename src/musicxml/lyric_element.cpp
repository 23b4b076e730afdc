#include "musicxml/lyric_element.h"

#include <array>
#include <optional>
#include <utility>

#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

using model::SyllableKind;

constexpr std::string_view kElision = "‿";

constexpr std::array<std::pair<std::string_view, SyllableKind>, 4> kSyllabics{
    {{"single", SyllableKind::single},
     {"begin", SyllableKind::begin},
     {"middle", SyllableKind::middle},
     {"end", SyllableKind::end}}};

std::optional<SyllableKind> syllabic_named(std::string_view name) {
  for (const auto& [entry, kind] : kSyllabics) {
    if (entry == name) return kind;
  }
  return std::nullopt;
}

bool continues_word(SyllableKind kind) {
  return kind == SyllableKind::middle || kind == SyllableKind::end;
}

bool is_continued(SyllableKind kind) {
  return kind == SyllableKind::begin || kind == SyllableKind::middle;
}

// The kind of syllables joined on one note, as its neighbours see it.
SyllableKind joined_kind(SyllableKind first, SyllableKind last) {
  if (continues_word(first)) return is_continued(last) ? SyllableKind::middle : SyllableKind::end;
  return is_continued(last) ? SyllableKind::begin : SyllableKind::single;
}

}  // namespace

LyricElement read_lyric(pugi::xml_node lyric) {
  LyricElement out;
  std::optional<SyllableKind> first;
  SyllableKind last = SyllableKind::single;
  bool elided = false;
  for (const pugi::xml_node child : lyric.children()) {
    const std::string_view name = child.name();
    if (name == "syllabic") {
      const auto kind = syllabic_named(word_of(child));
      if (!kind) out.unknown_kind = word_of(child);
      last = kind.value_or(SyllableKind::single);
      if (!first) first = last;
    } else if (name == "elision") {
      elided = true;
    } else if (name == "text") {
      if (elided && !out.text.empty()) out.text += kElision;
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
  out.kind = joined_kind(first.value_or(SyllableKind::single), last);
  return out;
}

}  // namespace yubifu::musicxml
