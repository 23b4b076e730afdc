#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "musicxml/vocabulary.h"
#include "musicxml/vocabulary_own.h"
#include "musicxml/write/note_value.h"
#include "musicxml/write/note_writer.h"

namespace yubifu::musicxml {
namespace {

using model::Cue;
using model::Direction;
using model::Rational;
using model::StaffMode;

// What ritardando and accelerando make of the tempo where no other one follows: our choice, a
// fourth.
constexpr Rational kSlower(3, 4);
constexpr Rational kFaster(4, 3);

// The spelling as people print it, without the octave's sign of the file format.
std::string pretty(const model::Spelling& spelling) {
  std::string text(1, model::letter(spelling.step));
  for (int i = 0; i < spelling.alter; ++i) text += "♯";
  for (int i = 0; i > spelling.alter; --i) text += "♭";
  return text + std::to_string(spelling.octave);
}

class PartWriter {
 public:
  PartWriter(const WriterContext& context, const StaffPlan& plan)
      : context_(context),
        out_(context.out),
        score_(context.score),
        plan_(plan),
        staff_(context.score, plan),
        accidentals_(staff_.key()) {}

  // The bars must come in order.
  void write_bar(std::size_t measure, const model::BarContent& content, const BarLayout& layout) {
    accidentals_.forget();
    open_measure(measure);
    write_left_bar_line(measure);
    write_start_attributes(measure, content);
    write_start_directions(measure);
    write_music(content, layout);
    write_right_bar_line(measure);
    out_.close();
  }

 private:
  void open_measure(std::size_t measure) {
    const model::Measure& here = score_.measures[measure];
    open_element(out_, "measure", {{"number", model::measure_name(score_, measure)}});
    // Bars that do not count: a pickup, and the second half of a bar that a repeat sign parts.
    const bool is_part = measure == 0 || here.number == score_.measures[measure - 1].number;
    if (is_short(here) && is_part) out_.attribute("implicit", "yes");
    if (measure == 0 || here.break_before == model::LineBreak::none) return;
    write_element(out_, "print", {{"new-system", "yes"}});
  }

  void write_left_bar_line(std::size_t measure) {
    const bool repeat = score_.measures[measure].repeat_start;
    write_bar_line(score_.measures[measure], "left", repeat ? "heavy-light" : "",
                   model::ending_starts(score_, measure) ? "start" : "", repeat ? "forward" : "");
  }

  void write_right_bar_line(std::size_t measure) {
    const model::Measure& here = score_.measures[measure];
    const bool line = here.right != model::BarStyle::regular;
    const bool sign = here.repeat_end || line;
    if (here.repeat_end && line) write_hidden(out_, BarLine{here.right});
    const auto style = kBarStyles.word_of(here.repeat_end ? model::BarStyle::final : here.right);
    const std::string_view ending = sign ? "stop" : "discontinue";
    write_bar_line(here, "right", sign ? style : "",
                   model::ending_stops(score_, measure) ? ending : "",
                   here.repeat_end ? "backward" : "");
  }

  // Without what is empty.
  void write_bar_line(const model::Measure& here, std::string_view location, std::string_view style,
                      std::string_view ending, std::string_view repeat) {
    constexpr int kUsualTimes = 2;
    if (style.empty() && ending.empty()) return;
    open_element(out_, "barline", {{"location", location}});
    if (!style.empty()) out_.text("bar-style", style);
    if (!ending.empty()) {
      const std::string numbers = fmt::format("{}", fmt::join(here.ending, ","));
      write_element(out_, "ending", {{"number", numbers}, {"type", ending}});
    }
    if (!repeat.empty()) {
      open_element(out_, "repeat", {{"direction", repeat}});
      const bool counted = repeat == "backward" && here.times != kUsualTimes;
      if (counted) out_.attribute("times", std::int64_t{here.times});
      out_.close();
    }
    out_.close();
  }

  void write_start_attributes(std::size_t measure, const model::BarContent& content) {
    bool key = measure == 0;
    bool flute = measure == 0;
    const int fifths = staff_.key().fifths;
    for (const std::size_t index : content.directions) {
      const Direction& direction = score_.directions[index];
      if (direction.onset != Rational(0)) break;
      if (const auto* change = std::get_if<model::KeyChange>(&direction.value)) {
        staff_.change_key(change->key);
        key = true;
      } else if (std::holds_alternative<model::FluteChange>(direction.value)) {
        staff_.change_flute(measure);
        flute = true;
      }
    }
    key = key || staff_.key().fifths != fifths;
    if (key) accidentals_.set_key(staff_.key());
    const model::Meter& meter = score_.measures[measure].meter;
    const bool time = measure == 0 || meter != score_.measures[measure - 1].meter;
    const bool transposition = flute && plan_.mode == StaffMode::in_c;
    if (!key && !time && !transposition) return;
    out_.open("attributes");
    if (measure == 0) out_.number("divisions", context_.divisions);
    if (key) write_key();
    if (time) write_time(meter);
    if (measure == 0) {
      out_.open("clef");
      out_.text("sign", "G");
      out_.number("line", 2);
      if (plan_.clef == Clef::treble8) out_.number("clef-octave-change", 1);
      out_.close();
    }
    if (transposition) {
      const auto& [diatonic, chromatic, octaves] = staff_.transposition();
      out_.open("transpose");
      out_.number("diatonic", diatonic);
      out_.number("chromatic", chromatic);
      if (octaves != 0) out_.number("octave-change", octaves);
      out_.close();
    }
    out_.close();
  }

  void write_key() {
    out_.open("key");
    out_.number("fifths", staff_.key().fifths);
    if (staff_.key_is_named()) {
      out_.text("mode", staff_.key().mode == model::Mode::minor ? "minor" : "major");
    }
    out_.close();
  }

  void write_time(const model::Meter& meter) {
    out_.open("time");
    if (meter.is_free()) {
      out_.attribute("print-object", "no");
      out_.empty("senza-misura");
    } else {
      out_.number("beats", meter.beats);
      out_.number("beat-type", meter.unit);
    }
    out_.close();
  }

  void write_flute_line(const OwnMeaning& meaning) {
    std::string line = fmt::format("Flute {}", staff_.flute().title);
    if (plan_.mode == StaffMode::in_c) {
      line += ": written C sounds " + pretty(sound_of_written_c(staff_.transposition()));
    }
    open_element(out_, "direction", {{"placement", "above"}});
    write_direction_type(out_, "words", line);
    write_own_type(out_, meaning);
    out_.close();
  }

  void write_start_directions(std::size_t measure) {
    const model::Measure& here = score_.measures[measure];
    if (measure == 0) {
      write_flute_line(PrintOnly{});
      if (score_.header.tempo) write_direction(model::TempoChange{*score_.header.tempo}, 0);
    } else {
      const bool same_meter = here.meter == score_.measures[measure - 1].meter;
      const Rational expected = same_meter ? beat_ : model::default_beat(here.meter);
      if (here.beat != expected) write_direction(model::BeatChange{here.beat}, 0);
    }
    beat_ = here.beat;
    if (here.irregular) write_hidden(out_, IrregularBar{});
  }

  void write_music(const model::BarContent& content, const BarLayout& layout) {
    auto next = content.directions.begin();
    const auto direction_before = [&](Rational place) {
      return next != content.directions.end() && score_.directions[*next].onset < place;
    };
    for (std::size_t piece = 0; piece < layout.pieces.size(); ++piece) {
      const Piece& here = layout.pieces[piece];
      while (direction_before(here.end)) {
        const Direction& direction = score_.directions[*next++];
        write_change(direction, std::max(Rational(0), direction.onset - here.begin));
      }
      write_piece(context_, staff_, accidentals_, content, layout, piece);
    }
    while (next != content.directions.end()) write_change(score_.directions[*next++], 0);
  }

  // A direction, and what it changes.
  void write_change(const Direction& direction, Rational offset) {
    if (std::holds_alternative<model::FluteChange>(direction.value)) {
      return write_flute_line(direction.value);
    }
    if (const auto* change = std::get_if<model::BeatChange>(&direction.value)) beat_ = change->beat;
    const auto* key = std::get_if<model::KeyChange>(&direction.value);
    if (key != nullptr && direction.onset != Rational(0)) {
      staff_.change_key(key->key);
      accidentals_.set_key(staff_.key());
      out_.open("attributes");
      write_key();
      out_.close();
    }
    write_direction(direction.value, offset);
  }

  // `offset` is its place after the next note, in quarters. What its print does not say exactly a
  // text of our own says.
  void write_direction(const model::DirectionValue& value, Rational offset) {
    const auto* cue = std::get_if<Cue>(&value);
    const CueElement* entry =
        cue == nullptr ? nullptr : &cue_elements()[static_cast<std::size_t>(*cue)];
    out_.open("direction");
    if (!write_print(value, entry)) write_own_type(out_, value);
    if (offset != Rational(0)) {
      write_element(out_, "offset", {{"sound", "yes"}},
                    std::to_string(context_.in_divisions(offset)));
    }
    if (entry != nullptr && !entry->sound_attribute.empty()) {
      write_element(out_, "sound", {{entry->sound_attribute, entry->sound_value}});
    }
    const bool tempo = std::holds_alternative<model::TempoChange>(value);
    if (tempo || (cue != nullptr && *cue == Cue::a_tempo)) write_sound(tempo_);
    if (cue != nullptr && *cue == Cue::rit) write_sound(tempo_ * kSlower);
    if (cue != nullptr && *cue == Cue::accel) write_sound(tempo_ * kFaster);
    out_.close();
  }

  void write_sound(Rational tempo) {
    write_element(out_, "sound", {{"tempo", model::to_decimal(tempo)}});
  }

  // What is seen of a direction; false where that does not say it exactly.
  bool write_print(const model::DirectionValue& value, const CueElement* cue) {
    if (const auto* dynamic = std::get_if<model::Dynamic>(&value)) {
      const std::string& level = dynamic->level;
      out_.attribute("placement", "below");
      out_.open("direction-type");
      out_.open("dynamics");
      has_dynamics_element(level) ? out_.empty(level) : out_.text("other-dynamics", level);
      out_.close();
      out_.close();
      return true;
    }
    if (std::holds_alternative<model::BeatChange>(value) ||
        std::holds_alternative<model::KeyChange>(value)) {
      return false;
    }
    out_.attribute("placement", "above");
    if (const auto* change = std::get_if<model::TempoChange>(&value)) {
      return write_metronome(change->tempo);
    }
    if (const auto* section = std::get_if<model::SectionStart>(&value)) {
      write_direction_type(out_, "rehearsal", section->name);
      return true;
    }
    if (const auto* text = std::get_if<model::TextDirection>(&value)) {
      write_direction_type(out_, "words", text->text);
      return !cue_of_words(text->text);
    }
    if (const std::string_view words = model::printed(cue->cue); !words.empty()) {
      write_direction_type(out_, "words", words);
    } else {
      out_.open("direction-type");
      out_.empty(cue->element);
      out_.close();
    }
    return !cue->sound_attribute.empty();
  }

  bool write_metronome(const model::Tempo& tempo) {
    tempo_ = tempo.quarters_per_minute();
    const auto value = single_value(tempo.unit);
    const bool known = value && !kNoteTypes.word_of(value->base).empty();
    const NoteValue unit = known ? *value : NoteValue{1, 0};
    const std::string per_minute = model::to_decimal(known ? tempo.per_minute : tempo_);
    out_.open("direction-type");
    out_.open("metronome");
    out_.text("beat-unit", kNoteTypes.word_of(unit.base));
    for (int dot = 0; dot < unit.dots; ++dot) out_.empty("beat-unit-dot");
    out_.text("per-minute", per_minute);
    out_.close();
    out_.close();
    return known && model::parse_decimal(per_minute) == tempo.per_minute && metronome_holds(tempo);
  }

  const WriterContext& context_;
  base::XmlWriter& out_;
  const model::Score& score_;
  const StaffPlan& plan_;
  StaffState staff_;
  AccidentalMemory accidentals_;
  Rational beat_ = 1;  // in force at the end of the bar before
  Rational tempo_ = model::kDefaultTempo.quarters_per_minute();
};

}  // namespace

void write_bars(const WriterContext& context, const StaffPlan& plan, const ScoreLayout& layout) {
  PartWriter part(context, plan);
  for (std::size_t i = 0; i < context.score.measures.size(); ++i) {
    part.write_bar(i, layout.contents[i], layout.of(i));
  }
}

}  // namespace yubifu::musicxml
