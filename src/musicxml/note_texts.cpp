#include "musicxml/note_texts.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "model/strokes.h"
#include "musicxml/annotation_node.h"
#include "musicxml/annotation_text.h"
#include "musicxml/note_remarks.h"
#include "musicxml/verses.h"
#include "musicxml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// A gap's own pitch counts as long as the note stands where rounding could have put it, in cents.
constexpr double kGapReach = 100;

class FingeringTexts {
 public:
  FingeringTexts(MelodyNotes& melody, const PartLyrics& lyrics, const ScoreDirections& directions,
                 const AnnotationContext& context)
      : melody_(melody), lyrics_(lyrics), directions_(directions), context_(context) {}

  /// Returns which lines of the lyrics are fingerings.
  std::vector<bool> run() {
    const bool wanted = context_.annotation != Annotation::none;
    if (wanted) {
      take_technical();
      take_words();
    }
    std::vector<bool> taken = fingering_lines(wanted);
    for (const PlacedLyric& placed : melody_.lyrics) {
      const LyricElement& lyric = lyrics_.all()[placed.lyric];
      if (!wanted || !taken[lyric.line] || placed.is_held || lyric.text.empty()) continue;
      take(placed.tone, lyric.text, placed.measure, lyric.node);
    }
    take_holes();
    return taken;
  }

 private:
  void remark(const RemarkKind& kind, std::size_t measure, pugi::xml_node node,
              std::string detail) {
    melody_.remarks.add(kind, measure, range_of(node, context_.text), std::move(detail));
  }

  void take(const ToneRef& ref, std::string_view text, std::size_t measure, pugi::xml_node node) {
    const std::optional<AnnotationText>& annotation = parsed(text);
    if (!annotation || !set(tone_of(melody_.notes, ref), *annotation)) {
      remark(remark::bad_fingering, measure, node, std::string(text));
    } else if (ref.place == ToneRef::Place::main && has_strokes(text)) {
      melody_.stroked.push_back({ref.note, measure, node, std::string(text)});
    }
  }

  static bool has_strokes(std::string_view text) {
    return model::without_strokes(text).size() < text.size();
  }

  // A tune has few texts, each many times.
  const std::optional<AnnotationText>& parsed(std::string_view text) {
    const auto known = parsed_.find(text);
    if (known != parsed_.end()) return known->second;
    return parsed_.emplace(text, parse_marked_annotation(text)).first->second;
  }

  // False for a gap whose pitch is far from the written one; the tone is a gap all the same.
  bool set(model::Tone& tone, const AnnotationText& annotation) const {
    if (tone.fingering) return true;  // in two places; the first one counts
    tone.fingering = annotation.fingering;
    // Annotate may have moved the melody by octaves; the staff has not moved. A file of somebody
    // else may have lost the field that says so.
    if (!annotation.gap || context_.is_annotated) return true;
    const int key = model::midi_key(*annotation.gap);
    if (!context_.is_ours && key != tone.pitch->key && (key - tone.pitch->key) % 12 == 0)
      return true;
    const model::Pitch sounds = model::pitch_at(100.0 * key + annotation.fingering.bend_cents);
    if (std::abs(sounds.total_cents() - tone.pitch->total_cents()) > kGapReach) {
      tone.fingering->bend_cents = 0;
      return false;
    }
    tone.pitch = sounds;
    tone.spelling = annotation.gap;
    return true;
  }

  void take_technical() {
    for (const PlacedFingering& placed : melody_.fingerings) {
      const bool marked = !context_.is_annotated || is_in_annotation(placed.node);
      if (marked && context_.annotation == Annotation::technical) {
        take(placed.tone, text_of(placed.node), placed.measure, placed.node);
      } else {
        remark(remark::notation, placed.measure, placed.node, "fingering");
      }
    }
  }

  std::optional<ToneRef> tone_at(std::size_t note_of_part) {
    if (!sorted_) {
      std::stable_sort(melody_.tones.begin(), melody_.tones.end(),
                       [](const auto& a, const auto& b) { return a.first < b.first; });
      sorted_ = true;
    }
    const auto found =
        std::lower_bound(melody_.tones.begin(), melody_.tones.end(), note_of_part,
                         [](const auto& entry, std::size_t index) { return entry.first < index; });
    if (found == melody_.tones.end() || found->first != note_of_part) return std::nullopt;
    return found->second;
  }

  void take_words() {
    for (const WordsFingering& words : directions_.fingerings) {
      if (const auto tone = tone_at(words.next_note)) {
        take(*tone, words.text, words.measure, words.node);
      } else {
        remark(remark::bad_fingering, words.measure, words.node, words.text);
      }
    }
  }

  void take_holes() {
    for (const auto& [next_note, holes] : directions_.holes) {
      const auto tone = tone_at(next_note);
      if (tone) melody_.notes[tone->note].asked_holes = holes;
    }
  }

  // Those that say so; where none does, the verse that must be meant.
  std::vector<bool> fingering_lines(bool wanted) const {
    std::vector<bool> found;
    for (const LyricLine& line : lyrics_.lines()) found.push_back(line.name == kFingeringLyric);
    const bool told = std::any_of(
        melody_.lyrics.begin(), melody_.lyrics.end(),
        [&](const PlacedLyric& placed) { return found[lyrics_.all()[placed.lyric].line]; });
    const bool marked =
        context_.annotation == Annotation::lyric || context_.annotation == Annotation::lyric_above;
    if (told || !wanted || !marked) return found;
    if (const auto verse = verse_of_most_signs()) {
      for (std::size_t i = 0; i < found.size(); ++i) {
        found[i] = lyrics_.lines()[i].number == *verse;
      }
    }
    return found;
  }

  struct VerseCount {
    std::size_t texts = 0;
    std::size_t signs = 0;
  };

  std::map<std::string_view, VerseCount> count_verses() const {
    std::map<std::string_view, VerseCount> counts;
    for (const PlacedLyric& placed : melody_.lyrics) {
      const LyricElement& lyric = lyrics_.all()[placed.lyric];
      if (lyric.text.empty()) continue;
      VerseCount& count = counts[lyrics_.lines()[lyric.line].number];
      ++count.texts;
      if (parse_marked_annotation(lyric.text)) ++count.signs;
    }
    return counts;
  }

  // The file says that a verse is fingering, but not which: a program has dropped the names.
  std::optional<std::string_view> verse_of_most_signs() const {
    std::optional<std::string_view> best;
    std::size_t most = 0;
    for (const auto& [number, count] : count_verses()) {
      if (2 * count.signs > count.texts && count.signs > most) {
        most = count.signs;
        best = number;
      }
    }
    return best;
  }

  MelodyNotes& melody_;
  const PartLyrics& lyrics_;
  const ScoreDirections& directions_;
  const AnnotationContext& context_;
  bool sorted_ = false;
  std::map<std::string, std::optional<AnnotationText>, std::less<>> parsed_;
};

}  // namespace

std::vector<std::string> add_note_texts(MelodyNotes& melody, const PartLyrics& lyrics,
                                        const ScoreDirections& directions, const BarMap& map,
                                        const AnnotationContext& context) {
  const std::vector<bool> fingerings = FingeringTexts(melody, lyrics, directions, context).run();
  return add_verses(melody, lyrics, fingerings, map, context);
}

}  // namespace yubifu::musicxml
