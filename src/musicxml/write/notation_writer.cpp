#include "musicxml/write/notation_writer.h"

#include <algorithm>
#include <vector>

#include "model/note.h"
#include "model/words.h"
#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::Mark;

// Deeper tuplets count from 1 again: MusicXML 3.0 has six numbers.
constexpr int kNumbers = 6;

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

bool tells_the_end(Mark mark) {
  return mark == Mark::fermata || mark == Mark::breath || mark == Mark::optional_breath;
}

void write_mark(base::XmlWriter& out, const MarkElement& mark) {
  mark.text.empty() ? out.empty(mark.element) : out.text(mark.element, mark.text);
}

std::string_view yes_or_no(bool yes) {
  return yes ? "yes" : "no";
}

class NotationWriter {
 public:
  NotationWriter(const WriterContext& context, const PiecePlace& place,
                 const std::string& fingering)
      : context_(context),
        place_(place),
        fingering_(fingering),
        notations_(context.out, "notations") {}

  void note() {
    const std::size_t index = *place_.span.note;
    const model::Note& note = context_.score.notes[index];
    write_ties();
    write_slurs(index);
    write_tuplets();
    write_slides(index);
    write_marks(note.marks, "ornaments", MarkPlace::ornaments);
    write_technical(note);
    write_marks(note.marks, "articulations", MarkPlace::articulations);
    write_fermata(note.marks);
  }

  void rest() {
    write_tuplets();
    if (!place_.span.rest) return;
    const model::Rest& rest = context_.score.rests[*place_.span.rest];
    if (!place_.first) return;
    for (const Mark mark : rest.marks) {
      const MarkElement& entry = element_of(mark);
      if (entry.place != MarkPlace::articulations) continue;
      notations_.inside().open("articulations");
      write_mark(context_.out, entry);
      context_.out.close();
    }
    if (std::find(rest.marks.begin(), rest.marks.end(), Mark::fermata) != rest.marks.end()) {
      notations_.inside().empty("fermata");
    }
  }

 private:
  void write_ties() {
    if (!place_.first) end_of("tied", "stop");
    if (!place_.last) end_of("tied", "start");
  }

  void end_of(std::string_view element, std::string_view type) {
    base::XmlWriter& out = notations_.inside();
    out.open(element);
    out.attribute("type", type);
    out.close();
  }

  void numbered(std::string_view element, std::string_view type, std::int64_t number) {
    base::XmlWriter& out = notations_.inside();
    out.open(element);
    out.attribute("type", type);
    out.attribute("number", number);
    out.close();
  }

  bool slurred_on(std::size_t index) const {
    const auto& notes = context_.score.notes;
    return index + 1 < notes.size() && notes[index].slur_to_next;
  }

  // A chain of slurred notes is one slur.
  void write_slurs(std::size_t index) {
    const bool from_before = index > 0 && slurred_on(index - 1);
    const bool onward = slurred_on(index);
    if (onward && !from_before && place_.first) numbered("slur", "start", 1);
    if (from_before && !onward && place_.last) numbered("slur", "stop", 1);
  }

  // Neighbouring slides take turns in number, since one may start where another stops.
  void write_slides(std::size_t index) {
    const auto& notes = context_.score.notes;
    const auto number = [](std::size_t from) { return static_cast<std::int64_t>(from % 2 + 1); };
    if (place_.first && index > 0 && notes[index - 1].has(Mark::suri)) {
      numbered("slide", "stop", number(index - 1));
    }
    if (place_.last && index + 1 < notes.size() && notes[index].has(Mark::suri)) {
      numbered("slide", "start", number(index));
    }
  }

  void write_tuplets() {
    std::vector<std::size_t> around;  // innermost first
    const auto& tuplets = place_.layout.tuplets;
    for (auto at = place_.at().tuplet; at; at = tuplets[*at].around) around.push_back(*at);
    for (auto at = around.rbegin(); at != around.rend(); ++at) {
      if (tuplets[*at].first_piece == place_.piece) start_tuplet(tuplets[*at]);
    }
    for (const std::size_t at : around) {
      if (tuplets[at].last_piece == place_.piece) {
        numbered("tuplet", "stop", number_of(tuplets[at]));
      }
    }
  }

  static std::int64_t number_of(const Tuplet& tuplet) { return (tuplet.depth - 1) % kNumbers + 1; }

  void start_tuplet(const Tuplet& tuplet) {
    // 3:2, 5:4 and the like are told by their first number alone.
    const bool usual = (tuplet.normal & (tuplet.normal - 1)) == 0 &&
                       tuplet.normal < tuplet.actual && tuplet.normal * 2 >= tuplet.actual;
    base::XmlWriter& out = notations_.inside();
    out.open("tuplet");
    out.attribute("type", "start");
    out.attribute("number", number_of(tuplet));
    out.attribute("bracket", yes_or_no(!tuplet.beamed));
    out.attribute("show-number", usual ? "actual" : "both");
    write_portion("tuplet-actual", tuplet.actual, tuplet);
    write_portion("tuplet-normal", tuplet.normal, tuplet);
    out.close();
  }

  void write_portion(std::string_view element, std::int64_t number, const Tuplet& tuplet) {
    base::XmlWriter& out = context_.out;
    out.open(element);
    out.number("tuplet-number", number);
    if (const auto type = note_type_name(tuplet.unit)) out.text("tuplet-type", *type);
    out.close();
  }

  void write_marks(const std::vector<Mark>& marks, std::string_view element, MarkPlace where) {
    Lazy group(context_.out, element, &notations_);
    add_marks(group, marks, where);
  }

  void add_marks(Lazy& group, const std::vector<Mark>& marks, MarkPlace where) {
    for (const Mark mark : marks) {
      const MarkElement& entry = element_of(mark);
      const bool here = tells_the_end(mark) ? place_.last : place_.first;
      if (entry.place == where && here) write_mark(group.inside(), entry);
    }
  }

  void write_fermata(const std::vector<Mark>& marks) {
    const bool held = std::find(marks.begin(), marks.end(), Mark::fermata) != marks.end();
    if (held && place_.last) notations_.inside().empty("fermata");
  }

  void write_technical(const model::Note& note) {
    Lazy technical(context_.out, "technical", &notations_);
    if (place_.first && !fingering_.empty()) technical.inside().text("fingering", fingering_);
    add_marks(technical, note.marks, MarkPlace::technical);
    if (!place_.first || !context_.options.holes) return;
    const auto& holes = note.asked_holes ? note.asked_holes : note.tone.holes;
    if (!holes) return;
    for (const model::Hole hole : holes->holes) write_hole(technical.inside(), hole);
  }

  static void write_hole(base::XmlWriter& out, model::Hole hole) {
    out.open("hole");
    out.text("hole-closed", hole_closed_name(hole));
    out.close();
  }

  const WriterContext& context_;
  const PiecePlace& place_;
  const std::string& fingering_;
  Lazy notations_;
};

}  // namespace

void write_notations(const WriterContext& context, const PiecePlace& place,
                     const std::string& fingering) {
  NotationWriter writer(context, place, fingering);
  place.span.note ? writer.note() : writer.rest();
}

void write_grace_notations(const WriterContext& context, const std::string& fingering) {
  if (fingering.empty()) return;
  base::XmlWriter& out = context.out;
  out.open("notations");
  out.open("technical");
  out.text("fingering", fingering);
  out.close();
  out.close();
}

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

void write_extend(base::XmlWriter& out, std::string_view type) {
  out.open("extend");
  out.attribute("type", type);
  out.close();
}

void write_text(base::XmlWriter& out, std::string_view text) {
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
  base::XmlWriter& out = context.out;
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
  base::XmlWriter& out = context.out;
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
  base::XmlWriter& out = context.out;
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
