#include "musicxml/write/note_writer.h"

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/numbers.h"
#include "model/note.h"
#include "model/words.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::kElision;
using model::Mark;
using model::Rational;

constexpr std::string_view kVoice = "1";

// A grace note takes an eighth of a quarter from its main note, all together at most half.
constexpr Rational kGraceLength(1, 8);

// Deeper tuplets count from 1 again: MusicXML 3.0 has six numbers.
constexpr int kNumbers = 6;

// In the order of the enumeration.
constexpr std::array<std::string_view, 5> kBeamNames{"begin", "continue", "end", "forward hook",
                                                     "backward hook"};

// An element that is opened by the first thing inside it and closed at the end.
class Lazy {
 public:
  Lazy(base::XmlWriter& out, std::string_view name, Lazy* around = nullptr)
      : out_(out), name_(name), around_(around) {}
  Lazy(const Lazy&) = delete;
  Lazy& operator=(const Lazy&) = delete;
  ~Lazy() {
    if (open_) out_.close();
  }

  base::XmlWriter& inside() {
    if (!open_) {
      if (around_ != nullptr) around_->inside();
      out_.open(name_);
      open_ = true;
    }
    return out_;
  }

 private:
  base::XmlWriter& out_;
  std::string_view name_;
  Lazy* around_;
  bool open_ = false;
};

void write_mark(base::XmlWriter& out, const MarkElement& mark) {
  mark.text.empty() ? out.empty(mark.element) : out.text(mark.element, mark.text);
}

class PieceWriter {
 public:
  PieceWriter(const WriterContext& context, const StaffState& staff, AccidentalMemory& accidentals,
              const model::BarContent& content, const BarLayout& layout, std::size_t index)
      : context_(context),
        out_(context.out),
        staff_(staff),
        accidentals_(accidentals),
        layout_(layout),
        index_(index),
        piece_(layout.pieces[index]),
        span_(content.spans[piece_.span]) {
    const auto& pieces = layout.pieces;
    const bool starts = index == 0 || pieces[index - 1].span != piece_.span;
    const bool ends = index + 1 == pieces.size() || pieces[index + 1].span != piece_.span;
    first_ = starts && !span_.held_in;
    last_ = ends && !span_.held_out;
  }

  void write() { span_.note ? write_note(*span_.note) : write_rest(); }

 private:
  /// What a grace note does to its main note.
  enum class Grace { before, after };

  void write_rest() {
    out_.open("note");
    out_.open("rest");
    if (!piece_.value && layout_.pieces.size() == 1) out_.attribute("measure", "yes");
    out_.close();
    out_.number("duration", context_.in_divisions(piece_.duration()));
    out_.text("voice", kVoice);
    write_type();
    write_time_modification();
    write_rest_notations();
    out_.close();
  }

  void write_note(std::size_t index) {
    const model::Note& note = context_.score.notes[index];
    std::string fingering;
    if (first_) {
      write_graces(note, note.grace_before, Grace::before);
      fingering = text_of(note.tone);
      if (context_.options.strokes && !fingering.empty()) fingering += context_.strokes[index];
      if (note.asked_holes) write_hidden(out_, HolesAsked{*note.asked_holes});
      write_fingering_words(fingering);
    }
    const StaffPitch pitch = staff_.pitch(note.tone);
    out_.open("note");
    write_pitch(pitch);
    out_.number("duration", context_.in_divisions(piece_.duration()));
    if (!first_) write_element(out_, "tie", {{"type", "stop"}});
    if (!last_) write_element(out_, "tie", {{"type", "start"}});
    out_.text("voice", kVoice);
    write_type();
    // A tied note keeps its accidental over the bar line; one struck there needs its own.
    if (first_) write_sign(pitch.spelling);
    write_time_modification();
    for (std::size_t i = 0; i < piece_.beam_count; ++i) write_beam(i + 1, piece_.beams[i]);
    write_note_notations(note, index, fingering);
    if (first_) {
      write_fingering_lyric(fingering);
      for (const model::Syllable& syllable : note.syllables) write_syllable(index, syllable);
    }
    out_.close();
    if (last_) write_graces(note, note.grace_after, Grace::after);
  }

  std::string text_of(const model::Tone& tone) const {
    return context_.options.annotation == Annotation::none ? std::string() : annotation_text(tone);
  }

  void write_graces(const model::Note& note, const std::vector<model::Tone>& tones, Grace kind) {
    const auto count = static_cast<std::int64_t>(tones.size());
    for (const model::Tone& tone : tones) {
      const std::string fingering = text_of(tone);
      write_fingering_words(fingering);
      const StaffPitch pitch = staff_.pitch(tone);
      out_.open("note");
      out_.open("grace");
      if (kind == Grace::after) {
        const Rational each = std::min(kGraceLength / note.duration, Rational(1, 2 * count));
        const Rational percent((each * 10'000).floor(), 100);
        out_.attribute("steal-time-previous", model::to_decimal(percent));
      } else if (count == 1) {
        out_.attribute("slash", "yes");
      }
      out_.close();
      write_pitch(pitch);
      out_.text("voice", kVoice);
      out_.text("type", count == 1 ? "eighth" : "16th");
      write_sign(pitch.spelling);
      if (count > 1) {
        const Beam beam = &tone == &tones.front()  ? Beam::begin
                          : &tone == &tones.back() ? Beam::end
                                                   : Beam::cont;
        for (std::size_t number = 1; number <= 2; ++number) write_beam(number, beam);
      }
      if (context_.options.annotation == Annotation::technical && !fingering.empty()) {
        out_.open("notations");
        out_.open("technical");
        out_.text("fingering", fingering);
        out_.close();
        out_.close();
      }
      write_fingering_lyric(fingering);
      out_.close();
    }
  }

  void write_pitch(const StaffPitch& pitch) {
    out_.open("pitch");
    out_.text("step", std::string(1, model::letter(pitch.spelling.step)));
    const bool exact = context_.options.alterations == Alterations::exact;
    if (exact && pitch.cents != 0) {
      // Ten thousandths of a semitone are a hundredth of a cent.
      const double semitones = pitch.spelling.alter + pitch.cents / 100;
      out_.text("alter", fmt::format("{}", base::rounded(semitones, 10'000)));
    } else if (pitch.spelling.alter != 0) {
      out_.number("alter", pitch.spelling.alter);
    }
    out_.number("octave", pitch.spelling.octave);
    out_.close();
  }

  void write_type() {
    const auto type = piece_.value ? kNoteTypes.word_of(piece_.value->base) : std::string_view();
    if (type.empty()) return;
    out_.text("type", type);
    for (int dot = 0; dot < piece_.value->dots; ++dot) out_.empty("dot");
  }

  void write_sign(const model::Spelling& spelling) {
    if (accidentals_.needs_sign(spelling))
      out_.text("accidental", kAccidentals.word_of(spelling.alter));
  }

  void write_time_modification() {
    if (!piece_.tuplet) return;
    const Tuplet product = layout_.product(*piece_.tuplet);
    out_.open("time-modification");
    out_.number("actual-notes", product.actual);
    out_.number("normal-notes", product.normal);
    const bool own_type = piece_.value && *piece_.value == NoteValue{product.unit, 0};
    const std::string_view type = kNoteTypes.word_of(product.unit);
    if (!own_type && !type.empty()) out_.text("normal-type", type);
    out_.close();
  }

  void write_beam(std::size_t number, Beam beam) {
    write_element(out_, "beam", {{"number", std::to_string(number)}},
                  kBeamNames[static_cast<std::size_t>(beam)]);
  }

  void write_note_notations(const model::Note& note, std::size_t index,
                            const std::string& fingering) {
    Lazy notations(out_, "notations");
    if (!first_) write_element(notations.inside(), "tied", {{"type", "stop"}});
    if (!last_) write_element(notations.inside(), "tied", {{"type", "start"}});
    write_slurs(notations, index);
    write_tuplets(notations);
    write_slides(notations, index);
    write_marks(notations, "ornaments", note.marks, MarkPlace::ornaments);
    write_technical(notations, note, fingering);
    write_marks(notations, "articulations", note.marks, MarkPlace::articulations);
    if (last_ && note.has(Mark::fermata)) notations.inside().empty("fermata");
  }

  void write_rest_notations() {
    Lazy notations(out_, "notations");
    write_tuplets(notations);
    if (!span_.rest || !first_) return;
    const std::vector<Mark>& marks = context_.score.rests[*span_.rest].marks;
    for (const Mark mark : marks) {
      Lazy articulations(out_, "articulations", &notations);
      const MarkElement& entry = element_of(mark);
      if (entry.place == MarkPlace::articulations) write_mark(articulations.inside(), entry);
    }
    if (std::find(marks.begin(), marks.end(), Mark::fermata) != marks.end()) {
      notations.inside().empty("fermata");
    }
  }

  static void numbered(Lazy& around, std::string_view element, std::string_view type,
                       std::int64_t number) {
    write_element(around.inside(), element, {{"type", type}, {"number", std::to_string(number)}});
  }

  bool slurred_on(std::size_t index) const {
    const auto& notes = context_.score.notes;
    return index + 1 < notes.size() && notes[index].slur_to_next;
  }

  // A chain of slurred notes is one slur.
  void write_slurs(Lazy& notations, std::size_t index) {
    const bool from_before = index > 0 && slurred_on(index - 1);
    const bool onward = slurred_on(index);
    if (onward && !from_before && first_) numbered(notations, "slur", "start", 1);
    if (from_before && !onward && last_) numbered(notations, "slur", "stop", 1);
  }

  // Neighbouring slides take turns in number, since one may start where another stops.
  void write_slides(Lazy& notations, std::size_t index) {
    const auto& notes = context_.score.notes;
    const auto number = [](std::size_t from) { return static_cast<std::int64_t>(from % 2 + 1); };
    if (first_ && index > 0 && notes[index - 1].has(Mark::suri)) {
      numbered(notations, "slide", "stop", number(index - 1));
    }
    if (last_ && index + 1 < notes.size() && notes[index].has(Mark::suri)) {
      numbered(notations, "slide", "start", number(index));
    }
  }

  void write_tuplets(Lazy& notations) {
    std::vector<const Tuplet*> around;  // innermost first
    for (auto at = piece_.tuplet; at; at = around.back()->around) {
      around.push_back(&layout_.tuplets[*at]);
    }
    for (auto tuplet = around.rbegin(); tuplet != around.rend(); ++tuplet) {
      if ((*tuplet)->first_piece == index_) start_tuplet(notations.inside(), **tuplet);
    }
    for (const Tuplet* tuplet : around) {
      if (tuplet->last_piece != index_) continue;
      numbered(notations, "tuplet", "stop", number_of(*tuplet));
    }
  }

  static std::int64_t number_of(const Tuplet& tuplet) { return (tuplet.depth - 1) % kNumbers + 1; }

  static void start_tuplet(base::XmlWriter& out, const Tuplet& tuplet) {
    // 3:2, 5:4 and the like are told by their first number alone.
    const bool usual = base::is_power_of_two(tuplet.normal) && tuplet.normal < tuplet.actual &&
                       tuplet.normal * 2 >= tuplet.actual;
    open_element(out, "tuplet",
                 {{"type", "start"},
                  {"number", std::to_string(number_of(tuplet))},
                  {"bracket", tuplet.beamed ? "no" : "yes"},
                  {"show-number", usual ? "actual" : "both"}});
    for (const auto& [element, number] :
         {std::pair("tuplet-actual", tuplet.actual), std::pair("tuplet-normal", tuplet.normal)}) {
      out.open(element);
      out.number("tuplet-number", number);
      const std::string_view type = kNoteTypes.word_of(tuplet.unit);
      if (!type.empty()) out.text("tuplet-type", type);
      out.close();
    }
    out.close();
  }

  void write_marks(Lazy& notations, std::string_view element, const std::vector<Mark>& marks,
                   MarkPlace where) {
    Lazy group(out_, element, &notations);
    add_marks(group, marks, where);
  }

  void add_marks(Lazy& group, const std::vector<Mark>& marks, MarkPlace where) {
    for (const Mark mark : marks) {
      const MarkElement& entry = element_of(mark);
      // The marks that rests have too tell the end of a note.
      const bool here = model::is_rest_mark(mark) ? last_ : first_;
      if (entry.place == where && here) write_mark(group.inside(), entry);
    }
  }

  void write_technical(Lazy& notations, const model::Note& note, const std::string& fingering) {
    Lazy technical(out_, "technical", &notations);
    const bool fingered = context_.options.annotation == Annotation::technical;
    if (fingered && !fingering.empty()) technical.inside().text("fingering", fingering);
    add_marks(technical, note.marks, MarkPlace::technical);
    const auto& holes = note.asked_holes ? note.asked_holes : note.tone.holes;
    if (!first_ || !context_.options.holes || !holes) return;
    for (const model::Hole hole : holes->holes) {
      technical.inside().open("hole");
      out_.text("hole-closed", hole_closed_name(hole));
      out_.close();
    }
  }

  bool has_fingering_lyrics() const {
    const Annotation annotation = context_.options.annotation;
    return annotation == Annotation::lyric || annotation == Annotation::lyric_above;
  }

  void write_fingering_lyric(const std::string& fingering) {
    if (fingering.empty() || !has_fingering_lyrics()) return;
    const bool above = context_.options.annotation == Annotation::lyric_above;
    open_element(
        out_, "lyric",
        {{"number", "1"}, {"name", kFingeringLyric}, {"placement", above ? "above" : "below"}});
    out_.text("syllabic", "single");
    out_.text("text", fingering);
    out_.close();
  }

  void write_fingering_words(const std::string& fingering) {
    if (fingering.empty() || context_.options.annotation != Annotation::words) return;
    open_element(out_, "direction", {{"placement", "below"}});
    write_direction_type(out_, "words", fingering);
    out_.close();
  }

  void write_syllable(std::size_t index, const model::Syllable& syllable) {
    const auto& verses = context_.score.verses;
    const auto& notes = context_.score.notes;
    const auto place = std::find(verses.begin(), verses.end(), syllable.verse) - verses.begin();
    const std::string number = std::to_string(place + (has_fingering_lyrics() ? 2 : 1));
    const model::Syllable* next =
        index + 1 < notes.size() ? notes[index + 1].syllable_of(syllable.verse) : nullptr;
    const bool carried_on = next != nullptr && next->extends;
    open_element(out_, "lyric", {{"number", number}, {"name", syllable.verse}});
    if (syllable.extends) {
      write_element(out_, "extend", {{"type", carried_on ? "continue" : "stop"}});
    } else {
      out_.text("syllabic", model::word_of(syllable.kind));
      write_sung(syllable.text);
      if (carried_on) write_element(out_, "extend", {{"type", "start"}});
    }
    out_.close();
  }

  void write_sung(std::string_view text) {
    for (std::size_t join = text.find(kElision); join != std::string_view::npos;
         join = text.find(kElision)) {
      out_.text("text", text.substr(0, join));
      out_.text("elision", kElision);
      text.remove_prefix(join + kElision.size());
    }
    out_.text("text", text);
  }

  const WriterContext& context_;
  base::XmlWriter& out_;
  const StaffState& staff_;
  AccidentalMemory& accidentals_;
  const BarLayout& layout_;
  std::size_t index_;  // of the piece
  const Piece& piece_;
  const model::BarSpan& span_;
  bool first_ = true;  // of the whole note, over bars
  bool last_ = true;
};

}  // namespace

void AccidentalMemory::set_key(const model::Key& key) {
  // The place of each step among the sharps F C G D A E B; flats come the other way round.
  constexpr std::array<int, 7> kRanks{1, 3, 5, 0, 2, 4, 6};
  for (std::size_t i = 0; i < kRanks.size(); ++i) {
    signature_[i] = kRanks[i] < key.fifths ? 1 : 6 - kRanks[i] < -key.fifths ? -1 : 0;
  }
  forget();
}

bool AccidentalMemory::needs_sign(const model::Spelling& spelling) {
  const int signed_so = signature_[static_cast<std::size_t>(spelling.step)];
  const auto now = in_force_.try_emplace({spelling.octave, spelling.step}, signed_so).first;
  return std::exchange(now->second, spelling.alter) != spelling.alter;
}

void write_piece(const WriterContext& context, const StaffState& staff,
                 AccidentalMemory& accidentals, const model::BarContent& content,
                 const BarLayout& layout, std::size_t piece) {
  PieceWriter(context, staff, accidentals, content, layout, piece).write();
}

std::string annotation_text(const model::Tone& tone) {
  const bool nameless_gap = tone.fingering && tone.fingering->is_gap() && !tone.spelling;
  return nameless_gap ? std::string() : printed(tone);
}

void write_direction_type(base::XmlWriter& out, std::string_view element, std::string_view text) {
  out.open("direction-type");
  out.text(element, text);
  out.close();
}

void write_own_type(base::XmlWriter& out, const OwnMeaning& meaning) {
  out.open("direction-type");
  write_element(out, "other-direction", {{"print-object", "no"}}, own_text(meaning));
  out.close();
}

void write_hidden(base::XmlWriter& out, const OwnMeaning& meaning) {
  out.open("direction");
  write_own_type(out, meaning);
  out.close();
}

}  // namespace yubifu::musicxml
