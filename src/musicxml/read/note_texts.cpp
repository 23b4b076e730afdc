#include "musicxml/read/note_texts.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "model/strokes.h"
#include "musicxml/read/annotation_text.h"
#include "musicxml/read/note_remarks.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {
namespace {

// More verses than this are left out.
constexpr std::size_t kMostVerses = 99;

using model::Syllable;

constexpr std::string_view kFirstVerse = "1";
constexpr int kAfterNumbers = 1'000'000'000;

// What parts one verse from another.
std::string_view key_of(const LyricLine& line, bool is_ours) {
  if (line.name == model::kShogaVerse) return model::kShogaVerse;
  if (is_ours && whole_number(line.name)) return line.name;
  return line.number.empty() ? kFirstVerse : line.number;
}

class VerseReader {
 public:
  VerseReader(MelodyNotes& melody, const PartLyrics& lyrics, const std::vector<bool>& taken,
              const BarMap& map, const AnnotationContext& context)
      : melody_(melody), lyrics_(lyrics), taken_(taken), map_(map), context_(context) {}

  std::vector<std::string> run() {
    name_verses();
    open_.resize(names_.size(), false);
    std::size_t next = 0;
    for (std::size_t note = 0; note < melody_.notes.size(); ++note) {
      if (any_open_ && note > 0 && !follows_directly(note)) close_all();
      for (; next < order_.size() && melody_.lyrics[order_[next]].tone.note == note; ++next) {
        take(melody_.lyrics[order_[next]]);
      }
      if (any_open_) carry_on(note);
      sort_syllables(melody_.notes[note]);
    }
    return used_names();
  }

 private:
  void remark(const RemarkKind& kind, const PlacedLyric& placed, std::string detail = {}) {
    melody_.remarks.add(kind, placed.measure,
                        range_of(lyrics_.all()[placed.lyric].node, context_.text),
                        std::move(detail));
  }

  // Lines by number, those without a plain number in the order in which they come, shoga last.
  void name_verses() {
    std::vector<std::string_view> verses;
    std::map<std::string_view, std::size_t> index;
    const std::vector<LyricLine>& lines = lyrics_.lines();
    std::vector<bool> seen(lines.size(), false);
    for (std::size_t i = 0; i < melody_.lyrics.size(); ++i) {
      const std::uint32_t line = lyrics_.all()[melody_.lyrics[i].lyric].line;
      if (taken_[line]) continue;
      order_.push_back(i);
      if (seen[line]) continue;
      seen[line] = true;
      const std::string_view key = key_of(lines[line], context_.is_ours);
      if (index.try_emplace(key, 0).second) verses.push_back(key);
    }
    const auto by_note = [&](std::size_t a, std::size_t b) {
      return melody_.lyrics[a].tone.note < melody_.lyrics[b].tone.note;
    };
    if (!std::is_sorted(order_.begin(), order_.end(), by_note)) {
      std::stable_sort(order_.begin(), order_.end(), by_note);
    }
    const auto rank = [](std::string_view verse) {
      if (verse == model::kShogaVerse) return kAfterNumbers + 1;
      return whole_number(verse).value_or(kAfterNumbers);
    };
    std::stable_sort(verses.begin(), verses.end(),
                     [&](std::string_view a, std::string_view b) { return rank(a) < rank(b); });
    const bool keep =
        context_.is_ours && std::all_of(verses.begin(), verses.end(), model::is_verse_name);
    for (std::size_t i = 0; i < verses.size(); ++i) {
      index[verses[i]] = i;
      const bool named = keep || verses[i] == model::kShogaVerse;
      names_.push_back(named ? std::string(verses[i]) : std::to_string(i + 1));
    }
    for (const LyricLine& line : lines) {
      verse_of_line_.push_back(index[key_of(line, context_.is_ours)]);
    }
  }

  bool follows_directly(std::size_t note) const {
    const model::Note& before = melody_.notes[note - 1];
    const model::Note& here = melody_.notes[note];
    return map_.later({before.measure, before.onset}, before.duration) ==
           Moment{here.measure, here.onset};
  }

  void close_all() {
    std::fill(open_.begin(), open_.end(), false);
    any_open_ = false;
  }

  void take(const PlacedLyric& placed) {
    const LyricElement& lyric = lyrics_.all()[placed.lyric];
    if (lyric.is_wordless) {
      remark(remark::wordless_text, placed);
      return;
    }
    const std::size_t verse = verse_of_line_[lyric.line];
    if (lyric.text.empty()) {
      const bool carries = lyric.extension == Extension::continues && !placed.is_held &&
                           placed.tone.place == ToneRef::Place::main;
      if (carries && verse < kMostVerses) add_carried(placed.tone.note, verse);
      return;
    }
    if (verse >= kMostVerses) {
      remark(remark::too_many_verses, placed);
    } else if (placed.tone.place != ToneRef::Place::main) {
      remark(remark::text_on_grace, placed);
    } else if (has_syllable(placed.tone.note, verse)) {
      remark(placed.is_held ? remark::text_on_tie : remark::text_twice, placed);
    } else {
      if (lyric.has_unknown_kind) {
        remark(remark::unknown_syllabic, placed, std::string(unknown_kind(lyric.node)));
      }
      melody_.notes[placed.tone.note].syllables.push_back(
          {names_[verse], std::string(lyric.text), lyric.kind, false});
      open_[verse] = lyric.extension == Extension::untyped && !context_.is_ours;
      any_open_ = any_open_ || open_[verse];
    }
  }

  bool has_syllable(std::size_t note, std::size_t verse) const {
    const std::vector<Syllable>& syllables = melody_.notes[note].syllables;
    return std::any_of(syllables.begin(), syllables.end(),
                       [&](const Syllable& syllable) { return syllable.verse == names_[verse]; });
  }

  void add_carried(std::size_t note, std::size_t verse) {
    if (has_syllable(note, verse)) return;
    melody_.notes[note].syllables.push_back({names_[verse], {}, model::SyllableKind::single, true});
  }

  // A line behind a syllable, in old files, reaches to the next syllable or rest.
  void carry_on(std::size_t note) {
    for (std::size_t verse = 0; verse < std::min(open_.size(), kMostVerses); ++verse) {
      if (open_[verse]) add_carried(note, verse);
    }
  }

  void sort_syllables(model::Note& note) const {
    if (note.syllables.size() < 2) return;
    const auto place = [&](const Syllable& syllable) {
      return std::find(names_.begin(), names_.end(), syllable.verse);
    };
    std::stable_sort(note.syllables.begin(), note.syllables.end(),
                     [&](const Syllable& a, const Syllable& b) { return place(a) < place(b); });
  }

  std::vector<std::string> used_names() const {
    std::map<std::string_view, bool> used;
    for (const model::Note& note : melody_.notes) {
      for (const Syllable& syllable : note.syllables) used[syllable.verse] = true;
    }
    std::vector<std::string> names;
    for (const std::string& name : names_) {
      if (used.count(name) == 1) names.push_back(name);
    }
    return names;
  }

  MelodyNotes& melody_;
  const PartLyrics& lyrics_;
  const std::vector<bool>& taken_;
  const BarMap& map_;
  const AnnotationContext& context_;
  std::vector<std::size_t> order_;          // the lyrics that are song text, by note
  std::vector<std::size_t> verse_of_line_;  // of the lines that are song text
  std::vector<std::string> names_;
  std::vector<bool> open_;  // which verses an untyped line carries on
  bool any_open_ = false;
};

// Gives the notes the syllables of all lyrics whose line is not `taken` as fingering; returns the
// names of the verses in order: as a file of ours names them, otherwise counted from 1 in the
// order of their numbers, "shoga" last.
std::vector<std::string> add_verses(MelodyNotes& melody, const PartLyrics& lyrics,
                                    const std::vector<bool>& taken, const BarMap& map,
                                    const AnnotationContext& context) {
  return VerseReader(melody, lyrics, taken, map, context).run();
}

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
    const auto annotation = parse_marked_annotation(text);
    if (!annotation || !set(tone_of(melody_.notes, ref), *annotation)) {
      remark(remark::bad_fingering, measure, node, std::string(text));
    } else if (ref.place == ToneRef::Place::main && has_strokes(text)) {
      melody_.stroked.push_back({ref.note, measure, node, std::string(text)});
    }
  }

  static bool has_strokes(std::string_view text) {
    return model::without_strokes(text).size() < text.size();
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
};

}  // namespace

std::vector<std::string> add_note_texts(MelodyNotes& melody, const PartLyrics& lyrics,
                                        const ScoreDirections& directions, const BarMap& map,
                                        const AnnotationContext& context) {
  const std::vector<bool> fingerings = FingeringTexts(melody, lyrics, directions, context).run();
  return add_verses(melody, lyrics, fingerings, map, context);
}

}  // namespace yubifu::musicxml
