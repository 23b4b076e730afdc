#include "musicxml/part_lyrics.h"

#include <array>
#include <optional>

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

void PartLyrics::add(pugi::xml_node first) {
  for (pugi::xml_node lyric = first; lyric; lyric = lyric.next_sibling("lyric")) {
    all_.push_back(read(lyric));
  }
}

LyricElement PartLyrics::read(pugi::xml_node lyric) {
  LyricElement out;
  out.node = lyric;
  out.line = line_of(lyric);
  std::optional<SyllableKind> first;
  SyllableKind last = SyllableKind::single;
  bool elided = false;
  for (pugi::xml_node child = lyric.first_child(); child; child = child.next_sibling()) {
    const std::string_view name = child.name();
    if (name == "syllabic") {
      const auto kind = syllabic_named(word_of(child));
      if (!kind) out.has_unknown_kind = true;
      last = kind.value_or(SyllableKind::single);
      if (!first) first = last;
    } else if (name == "elision") {
      elided = true;
    } else if (name == "text") {
      const std::string_view text = text_in(child);
      out.text = out.text.empty()
                     ? text
                     : kept(std::string(out.text).append(elided ? kElision : "").append(text));
      elided = false;
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

std::uint32_t PartLyrics::line_of(pugi::xml_node lyric) {
  LyricLine line;
  for (pugi::xml_attribute attribute = lyric.first_attribute(); attribute;
       attribute = attribute.next_attribute()) {
    const std::string_view key = attribute.name();
    if (key == "name") line.name = attribute.value();
    if (key == "number") line.number = attribute.value();
  }
  const auto [place, is_new] =
      index_.try_emplace({line.name, line.number}, static_cast<std::uint32_t>(lines_.size()));
  if (is_new) lines_.push_back(line);
  return place->second;
}

std::string_view PartLyrics::text_in(pugi::xml_node text) {
  return text.first_child() ? kept(text_of(text)) : word_of(text);
}

std::string_view PartLyrics::kept(std::string text) {
  return joined_.emplace_back(std::move(text));
}

std::string_view unknown_kind(pugi::xml_node lyric) {
  std::string_view unknown;
  for (const pugi::xml_node syllabic : lyric.children("syllabic")) {
    if (!syllabic_named(word_of(syllabic))) unknown = word_of(syllabic);
  }
  return unknown;
}

}  // namespace yubifu::musicxml
