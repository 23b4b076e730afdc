#include "musicxml/write/part_writer.h"

#include <algorithm>

#include <fmt/format.h>

#include "musicxml/vocabulary.h"

namespace yubifu::musicxml {
namespace {

using model::Direction;
using model::Rational;
using model::StaffMode;

// Bars that do not count: a pickup, and the second half of a bar that a repeat sign parts.
bool is_implicit(const model::Score& score, std::size_t measure) {
  const model::Measure& here = score.measures[measure];
  if (measure == 0) return is_short(here);
  return is_short(here) && here.number == score.measures[measure - 1].number;
}

std::string ending_text(const std::vector<int>& numbers) {
  std::string text;
  for (const int number : numbers) {
    if (!text.empty()) text += ',';
    text += std::to_string(number);
  }
  return text;
}

// The spelling as people print it, without the octave's sign of the file format.
std::string pretty(const model::Spelling& spelling) {
  std::string text(1, model::letter(spelling.step));
  for (int i = 0; i < spelling.alter; ++i) text += "♯";
  for (int i = 0; i > spelling.alter; --i) text += "♭";
  return text + std::to_string(spelling.octave);
}

}  // namespace

void PartWriter::write_bar(std::size_t measure, const model::BarContent& content,
                           const BarLayout& layout) {
  notes_.begin_bar();
  open_measure(measure);
  write_left_bar_line(measure);
  write_start_attributes(measure, content);
  write_start_directions(measure);
  write_music(content, layout);
  write_right_bar_line(measure);
  out_.close();
}

void PartWriter::open_measure(std::size_t measure) {
  const model::Measure& here = score_.measures[measure];
  out_.open("measure");
  out_.attribute("number", model::measure_name(score_, measure));
  if (is_implicit(score_, measure)) out_.attribute("implicit", "yes");
  if (measure == 0 || here.break_before == model::LineBreak::none) return;
  out_.open("print");
  out_.attribute("new-system", "yes");
  out_.close();
}

void PartWriter::write_left_bar_line(std::size_t measure) {
  const model::Measure& here = score_.measures[measure];
  const bool ending = model::ending_starts(score_, measure);
  if (!ending && !here.repeat_start) return;
  out_.open("barline");
  out_.attribute("location", "left");
  if (here.repeat_start) out_.text("bar-style", "heavy-light");
  if (ending) {
    out_.open("ending");
    out_.attribute("number", ending_text(here.ending));
    out_.attribute("type", "start");
    out_.close();
  }
  if (here.repeat_start) {
    out_.open("repeat");
    out_.attribute("direction", "forward");
    out_.close();
  }
  out_.close();
}

void PartWriter::write_right_bar_line(std::size_t measure) {
  const model::Measure& here = score_.measures[measure];
  const bool ending = model::ending_stops(score_, measure);
  const bool line = here.right != model::BarStyle::regular;
  if (here.repeat_end && line) write_hidden(out_, BarLine{here.right});
  if (!ending && !here.repeat_end && !line) return;
  out_.open("barline");
  out_.attribute("location", "right");
  if (here.repeat_end || line) {
    const model::BarStyle style = here.repeat_end ? model::BarStyle::final : here.right;
    out_.text("bar-style", bar_style_name(style));
  }
  if (ending) {
    out_.open("ending");
    out_.attribute("number", ending_text(here.ending));
    out_.attribute("type", here.repeat_end || line ? "stop" : "discontinue");
    out_.close();
  }
  if (here.repeat_end) {
    constexpr int kUsualTimes = 2;
    out_.open("repeat");
    out_.attribute("direction", "backward");
    if (here.times != kUsualTimes) out_.attribute("times", std::int64_t{here.times});
    out_.close();
  }
  out_.close();
}

void PartWriter::write_start_attributes(std::size_t measure, const model::BarContent& content) {
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
  if (key) notes_.key_changed();
  const model::Meter& meter = score_.measures[measure].meter;
  const bool time = measure == 0 || meter != score_.measures[measure - 1].meter;
  const bool transposition = flute && plan_.mode == StaffMode::in_c;
  if (!key && !time && !transposition) return;
  out_.open("attributes");
  if (measure == 0) out_.number("divisions", context_.divisions);
  if (key) write_key();
  if (time) write_time(meter);
  if (measure == 0) write_clef();
  if (transposition) write_transposition();
  out_.close();
}

void PartWriter::write_key() {
  out_.open("key");
  out_.number("fifths", staff_.key().fifths);
  if (staff_.key_is_named()) {
    out_.text("mode", staff_.key().mode == model::Mode::minor ? "minor" : "major");
  }
  out_.close();
}

void PartWriter::write_time(const model::Meter& meter) {
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

void PartWriter::write_clef() {
  out_.open("clef");
  out_.text("sign", "G");
  out_.number("line", 2);
  if (plan_.clef == Clef::treble8) out_.number("clef-octave-change", 1);
  out_.close();
}

void PartWriter::write_transposition() {
  const Transposition& transposition = staff_.transposition();
  out_.open("transpose");
  out_.number("diatonic", transposition.diatonic);
  out_.number("chromatic", transposition.chromatic);
  if (transposition.octaves != 0) out_.number("octave-change", transposition.octaves);
  out_.close();
}

void PartWriter::write_flute_line(const OwnMeaning& meaning) {
  const std::string& title = staff_.flute().title;
  const std::string line = plan_.mode == StaffMode::in_c
                               ? fmt::format("Flute {}: written C sounds {}", title,
                                             pretty(sound_of_written_c(staff_.transposition())))
                               : fmt::format("Flute {}", title);
  write_hidden_words(out_, line, meaning);
}

Rational PartWriter::expected_beat(std::size_t measure) const {
  const model::Meter& meter = score_.measures[measure].meter;
  const bool same = measure > 0 && meter == score_.measures[measure - 1].meter;
  return same ? beat_ : model::default_beat(meter);
}

void PartWriter::write_start_directions(std::size_t measure) {
  const model::Measure& here = score_.measures[measure];
  if (measure == 0) {
    write_flute_line(PrintOnly{});
    if (score_.header.tempo) directions_.write_tempo(*score_.header.tempo);
  } else if (here.beat != expected_beat(measure)) {
    directions_.write(model::BeatChange{here.beat}, 0);
  }
  beat_ = here.beat;
  if (here.irregular) write_hidden(out_, IrregularBar{});
}

void PartWriter::write_music(const model::BarContent& content, const BarLayout& layout) {
  auto next = content.directions.begin();
  const auto direction_before = [&](Rational place) {
    return next != content.directions.end() && score_.directions[*next].onset < place;
  };
  for (std::size_t piece = 0; piece < layout.pieces.size(); ++piece) {
    const Piece& here = layout.pieces[piece];
    while (direction_before(here.end)) {
      const Direction& direction = score_.directions[*next++];
      write_direction(direction, std::max(Rational(0), direction.onset - here.begin));
    }
    notes_.write(content, layout, piece);
  }
  while (next != content.directions.end()) write_direction(score_.directions[*next++], 0);
}

void PartWriter::write_direction(const Direction& direction, Rational offset) {
  if (std::holds_alternative<model::FluteChange>(direction.value)) {
    write_flute_line(direction.value);
    return;
  }
  if (const auto* change = std::get_if<model::BeatChange>(&direction.value)) beat_ = change->beat;
  const auto* key = std::get_if<model::KeyChange>(&direction.value);
  if (key != nullptr && direction.onset != Rational(0)) {
    staff_.change_key(key->key);
    notes_.key_changed();
    out_.open("attributes");
    write_key();
    out_.close();
  }
  directions_.write(direction.value, offset);
}

}  // namespace yubifu::musicxml
