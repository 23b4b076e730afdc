#include "musicxml/part_lyrics.h"

#include <optional>

#include "model/words.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {

void PartLyrics::add(pugi::xml_node first) {
  for (pugi::xml_node lyric = first; lyric; lyric = lyric.next_sibling("lyric")) {
    all_.push_back(read(lyric));
  }
}

LyricElement PartLyrics::read(pugi::xml_node lyric) {
  using model::SyllableKind;
  LyricElement out;
  out.node = lyric;
  out.line = line_of(lyric);
  std::optional<SyllableKind> first;
  SyllableKind last = SyllableKind::single;
  std::string joined;
  bool elided = false;
  for (pugi::xml_node child = lyric.first_child(); child; child = child.next_sibling()) {
    const std::string_view name = child.name();
    if (name == "syllabic") {
      const auto kind = model::syllable_kind_named(word_of(child));
      if (!kind) out.has_unknown_kind = true;
      last = kind.value_or(SyllableKind::single);
      if (!first) first = last;
    } else if (name == "elision") {
      elided = true;
    } else if (name == "text") {
      const std::string_view text = text_in(child);
      if (out.text.empty()) {
        out.text = text;
      } else {
        if (joined.empty()) joined = out.text;
        if (elided) joined += model::kElision;
        joined += text;
      }
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
  if (!joined.empty()) out.text = kept(std::move(joined));
  // Syllables joined on one note are to their neighbours what the outer ones are.
  out.kind = model::syllable_kind(continues_word(first.value_or(SyllableKind::single)),
                                  word_goes_on(last));
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
    if (!model::syllable_kind_named(word_of(syllabic))) unknown = word_of(syllabic);
  }
  return unknown;
}

}  // namespace yubifu::musicxml
