#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "model/strokes.h"
#include "model/words.h"
#include "musicxml/read/melody.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/xml/xml_document.h"

namespace yubifu::musicxml {

std::optional<AnnotationText> parse_annotation(std::string_view text) {
  // Most have no strokes, and to look for them takes longer than all else.
  if (const auto standard = model::parse_printed(text)) return AnnotationText{*standard, {}, false};
  const std::string_view bare = model::without_strokes(text);
  const bool has_strokes = bare.size() < text.size();
  if (const auto gap = model::parse_gap(bare)) {
    return AnnotationText{*gap->fingering, gap->spelling, has_strokes};
  }
  const auto fingering = model::parse_printed_of_any_flute(bare);
  if (!fingering) return std::nullopt;
  return AnnotationText{*fingering, {}, has_strokes};
}

bool is_annotation_direction(pugi::xml_node direction) {
  return std::all_of(
      kDirectionMarks.begin(), kDirectionMarks.end(),
      [&](const MarkAttribute& mark) { return attribute(direction, mark.name) == mark.value; });
}

bool is_in_annotation(pugi::xml_node technical_child) {
  return attribute(technical_child.parent().parent(), kNotationsMark.name) == kNotationsMark.value;
}

namespace {

constexpr RemarkKind kBadFingering =
    kind(rule::not_a_fingering, "text marked as fingering is none and left out",
         "texts marked as fingering are none and left out");

// More verses than this are left out.
constexpr std::size_t kMostVerses = 99;

using model::Syllable;

constexpr std::string_view kFirstVerse = "1";
constexpr int kAfterNumbers = 1'000'000'000;

// The last `<syllabic>` of a lyric that MusicXML does not know.
std::string_view unknown_kind(pugi::xml_node lyric) {
  std::string_view unknown;
  for (const pugi::xml_node syllabic : lyric.children("syllabic")) {
    if (!model::kSyllableKindWords.value_of(word_of(syllabic))) unknown = word_of(syllabic);
  }
  return unknown;
}

// What parts one verse from another.
std::string_view key_of(const LyricLine& line, bool is_ours) {
  if (line.name == model::kShogaVerse) return model::kShogaVerse;
  if (is_ours && whole_number(line.name)) return line.name;
  return line.number.empty() ? kFirstVerse : line.number;
}

// A melody beside the part that it was read from.
struct MelodyOfPart {
  MelodyNotes& melody;
  const StaffContext& context;

  const PlacedNote& note_of(const ToneSource& source) const {
    return context.part().notes[source.note];
  }

  std::span<const LyricElement> lyrics_of(const ToneSource& source) const {
    const NoteElement& note = note_of(source).element;
    return std::span(context.part().lyrics.all()).subspan(note.first_lyric, note.lyric_count);
  }

  const std::vector<LyricLine>& lines() const { return context.part().lyrics.lines(); }

  void remark(const RemarkKind& kind, std::size_t measure, pugi::xml_node node,
              std::string detail = {}) const {
    melody.remarks.add(kind, measure, range_of(node, context.text), std::move(detail));
  }
};

// Gives the notes the syllables of all lyrics whose line is not `taken` as fingering; returns the
// names of the verses in order: as a file of ours names them, otherwise counted from 1 in the
// order of their numbers, "shoga" last.
class VerseReader {
 public:
  VerseReader(const MelodyOfPart& in, const std::vector<bool>& taken)
      : in_(in), melody_(in.melody), taken_(taken), is_ours_(in.context.is_ours) {}

  std::vector<std::string> run() {
    name_verses();
    open_.resize(names_.size(), false);
    is_used_.resize(names_.size(), false);
    std::size_t next = 0;
    for (std::size_t note = 0; note < melody_.notes.size(); ++note) {
      if (any_open_ && note > 0 && !follows_directly(note)) {
        open_.assign(open_.size(), false);
        any_open_ = false;
      }
      for (; next < melody_.sources.size() && melody_.sources[next].tone.note == note; ++next) {
        const ToneSource& source = melody_.sources[next];
        for (const LyricElement& lyric : in_.lyrics_of(source)) {
          if (!taken_[lyric.line]) take(source, lyric);
        }
      }
      // A line behind a syllable, in old files, reaches to the next syllable or rest.
      for (std::size_t verse = 0; any_open_ && verse < open_.size(); ++verse) {
        if (open_[verse]) add_carried(note, verse);
      }
      sort_syllables(melody_.notes[note]);
    }
    std::vector<std::string> used;
    for (std::size_t verse = 0; verse < names_.size(); ++verse) {
      if (is_used_[verse]) used.push_back(names_[verse]);
    }
    return used;
  }

 private:
  // Lines by number, those without a plain number in the order in which they come, shoga last.
  void name_verses() {
    std::vector<std::string_view> verses;
    std::map<std::string_view, std::size_t> index;
    const std::vector<LyricLine>& lines = in_.lines();
    std::vector<bool> seen = taken_;
    for (const ToneSource& source : melody_.sources) {
      for (const LyricElement& lyric : in_.lyrics_of(source)) {
        if (seen[lyric.line]) continue;
        seen[lyric.line] = true;
        const std::string_view key = key_of(lines[lyric.line], is_ours_);
        if (index.try_emplace(key, 0).second) verses.push_back(key);
      }
    }
    const auto rank = [](std::string_view verse) {
      if (verse == model::kShogaVerse) return kAfterNumbers + 1;
      return whole_number(verse).value_or(kAfterNumbers);
    };
    std::stable_sort(verses.begin(), verses.end(),
                     [&](std::string_view a, std::string_view b) { return rank(a) < rank(b); });
    const bool keep = is_ours_ && std::all_of(verses.begin(), verses.end(), model::verse_rank);
    for (std::size_t i = 0; i < verses.size(); ++i) {
      index[verses[i]] = i;
      const bool named = keep || verses[i] == model::kShogaVerse;
      names_.push_back(named ? std::string(verses[i]) : std::to_string(i + 1));
    }
    for (const LyricLine& line : lines) {
      verse_of_line_.push_back(index[key_of(line, is_ours_)]);
    }
  }

  bool follows_directly(std::size_t note) const {
    const model::Note& before = melody_.notes[note - 1];
    const model::Note& here = melody_.notes[note];
    return in_.context.map.later({before.measure, before.onset}, before.duration) ==
           Moment{here.measure, here.onset};
  }

  void take(const ToneSource& source, const LyricElement& lyric) {
    const auto remark = [&](const RemarkKind& kind, std::string_view detail = {}) {
      in_.remark(kind, in_.note_of(source).at.measure, lyric.node, std::string(detail));
    };
    if (lyric.is_wordless)
      return remark(kind(rule::left_out, "humming or laughing sign left out",
                         "humming or laughing signs left out"));
    const std::size_t verse = verse_of_line_[lyric.line];
    const std::size_t note = source.tone.note;
    const bool is_main = source.tone.place == ToneRef::Place::main;
    if (lyric.text.empty()) {
      const bool carries = lyric.extension == Extension::continues && !source.is_held && is_main;
      if (carries && verse < kMostVerses) add_carried(note, verse);
      return;
    }
    if (verse >= kMostVerses)
      return remark(kind(rule::left_out, "syllable of a verse past the 99th left out",
                         "syllables of verses past the 99th left out"));
    if (!is_main)
      return remark(kind(rule::left_out, "syllable on a grace note left out",
                         "syllables on grace notes left out"));
    if (has_syllable(note, verse)) {
      return remark(source.is_held
                        ? kind(rule::left_out, "syllable on a held note left out",
                               "syllables on held notes left out")
                        : kind(rule::left_out, "second syllable of a verse on one note left out",
                               "second syllables of a verse on one note left out"));
    }
    if (lyric.has_unknown_kind)
      remark(kind(rule::unknown_value, "syllable of no known kind read as a word",
                  "syllables of no known kind read as words"),
             unknown_kind(lyric.node));
    melody_.notes[note].syllables.push_back(
        {names_[verse], std::string(lyric.text), lyric.kind, false});
    is_used_[verse] = true;
    open_[verse] = lyric.extension == Extension::untyped && !is_ours_;
    any_open_ |= open_[verse];
  }

  bool has_syllable(std::size_t note, std::size_t verse) const {
    const std::vector<Syllable>& syllables = melody_.notes[note].syllables;
    return std::any_of(syllables.begin(), syllables.end(),
                       [&](const Syllable& syllable) { return syllable.verse == names_[verse]; });
  }

  void add_carried(std::size_t note, std::size_t verse) {
    if (has_syllable(note, verse)) return;
    melody_.notes[note].syllables.push_back({names_[verse], {}, model::SyllableKind::single, true});
    is_used_[verse] = true;
  }

  void sort_syllables(model::Note& note) const {
    if (note.syllables.size() < 2) return;
    const auto place = [&](const Syllable& syllable) {
      return std::find(names_.begin(), names_.end(), syllable.verse);
    };
    std::stable_sort(note.syllables.begin(), note.syllables.end(),
                     [&](const Syllable& a, const Syllable& b) { return place(a) < place(b); });
  }

  const MelodyOfPart& in_;
  MelodyNotes& melody_;
  const std::vector<bool>& taken_;
  bool is_ours_;
  std::vector<std::size_t> verse_of_line_;  // of the lines that are song text
  std::vector<std::string> names_;
  std::vector<bool> is_used_;  // which verses have a syllable
  std::vector<bool> open_;     // which of them an untyped line carries on
  bool any_open_ = false;
};

// A gap's own pitch counts as long as the note stands where rounding could have put it, in cents.
constexpr double kGapReach = 100;

class FingeringTexts {
 public:
  FingeringTexts(const MelodyOfPart& in, const ScoreDirections& directions,
                 std::map<std::size_t, PlacedText>& stroked)
      : in_(in), directions_(directions), context_(in.context), stroked_(stroked) {}

  /// Returns which lines of the lyrics are fingerings.
  std::vector<bool> run() {
    const bool wanted = context_.annotation != Annotation::none;
    for (const ToneSource& source : in_.melody.sources) {
      pugi::xml_node notations = in_.note_of(source).element.notations;
      for (; wanted && notations; notations = notations.next_sibling("notations")) {
        for (const pugi::xml_node group : notations.children()) take_technical(source, group);
      }
    }
    if (wanted) take_words();
    std::vector<bool> taken = fingering_lines(wanted);
    if (wanted) take_lyrics(taken);
    for (const auto& [next_note, holes] : directions_.holes) {
      const auto tone = tone_at(next_note);
      if (tone) in_.melody.notes[tone->note].asked_holes = holes;
    }
    return taken;
  }

 private:
  void take(const ToneRef& ref, PlacedText text) {
    const auto annotation = parse_annotation(text.text);
    if (!annotation || !set(tone_of(in_.melody.notes, ref), *annotation)) {
      in_.remark(kBadFingering, text.measure, text.node, std::move(text.text));
    } else if (ref.place == ToneRef::Place::main && annotation->has_strokes) {
      stroked_[ref.note] = std::move(text);
    }
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

  void take_technical(const ToneSource& source, pugi::xml_node group) {
    const std::size_t measure = in_.note_of(source).at.measure;
    for (const pugi::xml_node node : group.children("fingering")) {
      const bool marked = !context_.is_annotated || is_in_annotation(node);
      if (marked && context_.annotation == Annotation::technical) {
        take(source.tone, {measure, node, text_of(node)});
      } else {
        in_.remark(kNotation, measure, node, "fingering");
      }
    }
  }

  void take_lyrics(const std::vector<bool>& taken) {
    for (const ToneSource& source : in_.melody.sources) {
      for (const LyricElement& lyric : in_.lyrics_of(source)) {
        if (!taken[lyric.line] || source.is_held || lyric.text.empty()) continue;
        take(source.tone, {in_.note_of(source).at.measure, lyric.node, std::string(lyric.text)});
      }
    }
  }

  // The tone that was read from a note of the part.
  std::optional<ToneRef> tone_at(std::size_t note) {
    if (tones_.empty()) {
      tones_.resize(context_.part().notes.size());
      for (const ToneSource& source : in_.melody.sources) {
        if (!source.is_held) tones_[source.note] = source.tone;
      }
    }
    return note < tones_.size() ? tones_[note] : std::nullopt;
  }

  void take_words() {
    for (const auto& [next_note, words] : directions_.fingerings) {
      if (const auto tone = tone_at(next_note)) {
        take(*tone, words);
      } else {
        in_.remark(kBadFingering, words.measure, words.node, words.text);
      }
    }
  }

  // Those that say so; where none does, the verse that must be meant.
  std::vector<bool> fingering_lines(bool wanted) const {
    const std::vector<LyricLine>& lines = in_.lines();
    std::vector<bool> found;
    for (const LyricLine& line : lines) found.push_back(line.name == kFingeringLyric);
    const auto is_told = [&](const ToneSource& source) {
      const auto lyrics = in_.lyrics_of(source);
      return std::any_of(lyrics.begin(), lyrics.end(),
                         [&](const LyricElement& lyric) { return found[lyric.line]; });
    };
    const bool marked =
        context_.annotation == Annotation::lyric || context_.annotation == Annotation::lyric_above;
    const auto& sources = in_.melody.sources;
    if (!wanted || !marked || std::any_of(sources.begin(), sources.end(), is_told)) return found;
    if (const auto verse = verse_of_most_signs()) {
      for (std::size_t i = 0; i < found.size(); ++i) found[i] = lines[i].number == *verse;
    }
    return found;
  }

  // The file says that a verse is fingering, but not which: a program has dropped the names.
  std::optional<std::string_view> verse_of_most_signs() const {
    struct Count {
      std::size_t texts = 0;
      std::size_t signs = 0;
    };
    std::map<std::string_view, Count> counts;
    for (const ToneSource& source : in_.melody.sources) {
      for (const LyricElement& lyric : in_.lyrics_of(source)) {
        if (lyric.text.empty()) continue;
        Count& count = counts[in_.lines()[lyric.line].number];
        ++count.texts;
        if (parse_annotation(lyric.text)) ++count.signs;
      }
    }
    std::optional<std::string_view> best;
    std::size_t most = 0;
    for (const auto& [number, count] : counts) {
      if (2 * count.signs <= count.texts || count.signs <= most) continue;
      most = count.signs;
      best = number;
    }
    return best;
  }

  const MelodyOfPart& in_;
  const ScoreDirections& directions_;
  const StaffContext& context_;
  std::map<std::size_t, PlacedText>& stroked_;
  std::vector<std::optional<ToneRef>> tones_;  // by the notes of the part; made when asked for
};

}  // namespace

NoteTexts add_note_texts(MelodyNotes& melody, const ScoreDirections& directions,
                         const StaffContext& context) {
  NoteTexts out;
  const MelodyOfPart in{melody, context};
  const std::vector<bool> fingerings = FingeringTexts(in, directions, out.stroked).run();
  out.verses = VerseReader(in, fingerings).run();
  return out;
}

}  // namespace yubifu::musicxml
