#include "musicxml/lyric_writer.h"

#include <algorithm>

#include "model/note.h"
#include "model/words.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::kElision;

bool is_lyric(Annotation annotation) {
  return annotation == Annotation::lyric || annotation == Annotation::lyric_above;
}

// Whether the next note carries on what stands in this verse.
bool is_carried_on(const model::Score& score, std::size_t index, const std::string& verse) {
  if (index + 1 >= score.notes.size()) return false;
  const auto& next = score.notes[index + 1].syllables;
  return std::any_of(next.begin(), next.end(), [&](const model::Syllable& syllable) {
    return syllable.verse == verse && syllable.extends;
  });
}

void write_extend(ElementWriter& out, std::string_view type) {
  out.open("extend");
  out.attribute("type", type);
  out.close();
}

void write_text(ElementWriter& out, std::string_view text) {
  for (std::size_t join = text.find(kElision); join != std::string_view::npos;
       join = text.find(kElision)) {
    out.text("text", text.substr(0, join));
    out.text("elision", kElision);
    text.remove_prefix(join + kElision.size());
  }
  out.text("text", text);
}

void write_syllable(const WriterContext& context, std::size_t index,
                    const model::Syllable& syllable) {
  const model::Score& score = context.score;
  const auto verse = std::find(score.verses.begin(), score.verses.end(), syllable.verse);
  const auto place = verse - score.verses.begin();
  ElementWriter& out = context.out;
  out.open("lyric");
  out.attribute("number", place + (is_lyric(context.options.annotation) ? 2 : 1));
  out.attribute("name", syllable.verse);
  const bool carried_on = is_carried_on(score, index, syllable.verse);
  if (syllable.extends) {
    write_extend(out, carried_on ? "continue" : "stop");
  } else {
    out.text("syllabic", model::word_of(syllable.kind));
    write_text(out, syllable.text);
    if (carried_on) write_extend(out, "start");
  }
  out.close();
}

}  // namespace

std::string annotation_text(const model::Tone& tone) {
  const bool nameless_gap = tone.fingering && tone.fingering->is_gap() && !tone.spelling;
  return nameless_gap ? std::string() : printed(tone);
}

void write_fingering_lyric(const WriterContext& context, const std::string& fingering) {
  if (fingering.empty() || !is_lyric(context.options.annotation)) return;
  ElementWriter& out = context.out;
  out.open("lyric");
  out.attribute("number", "1");
  out.attribute("name", kFingeringLyric);
  const bool above = context.options.annotation == Annotation::lyric_above;
  out.attribute("placement", above ? "above" : "below");
  out.text("syllabic", "single");
  out.text("text", fingering);
  out.close();
}

void write_fingering_words(const WriterContext& context, const std::string& fingering) {
  if (fingering.empty() || context.options.annotation != Annotation::words) return;
  ElementWriter& out = context.out;
  out.open("direction");
  out.attribute("placement", "below");
  out.open("direction-type");
  out.text("words", fingering);
  out.close();
  out.close();
}

void write_lyrics(const WriterContext& context, std::size_t index, const std::string& fingering) {
  write_fingering_lyric(context, fingering);
  for (const model::Syllable& syllable : context.score.notes[index].syllables) {
    write_syllable(context, index, syllable);
  }
}

}  // namespace yubifu::musicxml
