#include "musicxml/write/note_writer.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "musicxml/vocabulary.h"
#include "musicxml/write/direction_writer.h"
#include "musicxml/write/notation_writer.h"

namespace yubifu::musicxml {

void AccidentalMemory::set_key(const model::Key& key) {
  // Sharps come in the order F C G D A E B, flats the other way round.
  constexpr std::array<std::size_t, 7> kOrder{3, 0, 4, 1, 5, 2, 6};
  for (std::size_t i = 0; i < kOrder.size(); ++i) {
    const int rank = static_cast<int>(i);
    const bool sharp = rank < key.fifths;
    const bool flat = 6 - rank < -key.fifths;
    signature_[kOrder[i]] = static_cast<std::int8_t>(sharp ? 1 : flat ? -1 : 0);
  }
  forget();
}

void AccidentalMemory::forget() {
  in_force_.fill(signature_);
}

bool AccidentalMemory::needs_sign(const model::Spelling& spelling) {
  const int octave = std::clamp(spelling.octave - kLowestOctave, 0, static_cast<int>(kOctaves) - 1);
  std::int8_t& now =
      in_force_[static_cast<std::size_t>(octave)][static_cast<std::size_t>(spelling.step)];
  if (now == spelling.alter) return false;
  now = static_cast<std::int8_t>(spelling.alter);
  return true;
}

namespace {

using model::Rational;

constexpr std::string_view kVoice = "1";

// A grace note takes an eighth of a quarter from its main note, all together at most half.
constexpr Rational kGraceLength(1, 8);

std::string_view step_name(model::Step step) {
  constexpr std::array<std::string_view, 7> kNames{"C", "D", "E", "F", "G", "A", "B"};
  return kNames[static_cast<std::size_t>(step)];
}

std::string_view beam_name(Beam beam) {
  constexpr std::array<std::string_view, 5> kNames{"begin", "continue", "end", "forward hook",
                                                   "backward hook"};
  return kNames[static_cast<std::size_t>(beam)];
}

// Ten thousandths of a semitone are a hundredth of a cent.
std::string exact_alter(double semitones) {
  constexpr double kSteps = 10'000;
  return fmt::format("{}", std::round(semitones * kSteps) / kSteps);
}

std::string percent(Rational share) {
  constexpr std::int64_t kHundredths = 10'000;
  return model::to_decimal(Rational((share * kHundredths).floor(), 100));
}

}  // namespace

void NoteWriter::write(const model::BarContent& content, const BarLayout& layout,
                       std::size_t piece) {
  const std::size_t span = layout.pieces[piece].span;
  const bool starts = piece == 0 || layout.pieces[piece - 1].span != span;
  const bool ends = piece + 1 == layout.pieces.size() || layout.pieces[piece + 1].span != span;
  const model::BarSpan& at = content.spans[span];
  const PiecePlace place{at, layout, piece, starts && !at.held_in, ends && !at.held_out};
  at.note ? write_note(place) : write_rest(place);
}

void NoteWriter::write_rest(const PiecePlace& place) {
  out_.open("note");
  out_.open("rest");
  const bool whole_bar = !place.at().value && place.layout.pieces.size() == 1;
  if (whole_bar) out_.attribute("measure", "yes");
  out_.close();
  write_duration(place.at());
  out_.text("voice", kVoice);
  write_type(place.at());
  write_time_modification(place);
  write_notations(context_, place, {});
  out_.close();
}

void NoteWriter::write_note(const PiecePlace& place) {
  const std::size_t index = *place.span.note;
  const model::Note& note = context_.score.notes[index];
  std::string fingering;
  if (place.first) {
    write_graces(note, Grace::before);
    fingering = text_of(index);
    if (note.asked_holes) write_hidden(out_, HolesAsked{*note.asked_holes});
    write_fingering_words(context_, fingering);
  }
  const StaffPitch pitch = staff_.pitch(note.tone);
  out_.open("note");
  write_pitch(pitch);
  write_duration(place.at());
  for (const auto& [tied, type] :
       {std::pair(!place.first, "stop"), std::pair(!place.last, "start")}) {
    if (!tied) continue;
    out_.open("tie");
    out_.attribute("type", type);
    out_.close();
  }
  out_.text("voice", kVoice);
  write_type(place.at());
  // A tied note keeps its accidental over the bar line; one struck there needs its own.
  if (place.first) write_sign(pitch.spelling);
  write_time_modification(place);
  for (std::size_t level = 0; level < place.at().beam_count; ++level) {
    write_beam(level, place.at().beams[level]);
  }
  const bool technical = context_.options.annotation == Annotation::technical;
  write_notations(context_, place, technical ? fingering : std::string());
  if (place.first) write_lyrics(context_, index, fingering);
  out_.close();
  if (place.last) write_graces(note, Grace::after);
}

void NoteWriter::write_graces(const model::Note& note, Grace kind) {
  const auto& tones = kind == Grace::before ? note.grace_before : note.grace_after;
  for (std::size_t i = 0; i < tones.size(); ++i) write_grace(note, tones, i, kind);
}

void NoteWriter::write_grace(const model::Note& note, const std::vector<model::Tone>& tones,
                             std::size_t index, Grace kind) {
  const auto count = static_cast<std::int64_t>(tones.size());
  const model::Tone& tone = tones[index];
  const std::string fingering =
      context_.options.annotation == Annotation::none ? std::string() : annotation_text(tone);
  write_fingering_words(context_, fingering);
  const StaffPitch pitch = staff_.pitch(tone);
  out_.open("note");
  out_.open("grace");
  if (kind == Grace::after) {
    const Rational each = std::min(kGraceLength / note.duration, Rational(1, 2 * count));
    out_.attribute("steal-time-previous", percent(each));
  } else if (count == 1) {
    out_.attribute("slash", "yes");
  }
  out_.close();
  write_pitch(pitch);
  out_.text("voice", kVoice);
  out_.text("type", count == 1 ? "eighth" : "16th");
  write_sign(pitch.spelling);
  if (count > 1) {
    const Beam beam = index == 0 ? Beam::begin : index + 1 == tones.size() ? Beam::end : Beam::cont;
    for (std::size_t level = 0; level < 2; ++level) write_beam(level, beam);
  }
  const bool technical = context_.options.annotation == Annotation::technical;
  if (technical) write_grace_notations(context_, fingering);
  write_fingering_lyric(context_, fingering);
  out_.close();
}

void NoteWriter::write_pitch(const StaffPitch& pitch) {
  out_.open("pitch");
  out_.text("step", step_name(pitch.spelling.step));
  const bool exact = context_.options.alterations == Alterations::exact;
  if (exact && pitch.cents != 0) {
    out_.text("alter", exact_alter(pitch.spelling.alter + pitch.cents / 100));
  } else if (pitch.spelling.alter != 0) {
    out_.number("alter", pitch.spelling.alter);
  }
  out_.number("octave", pitch.spelling.octave);
  out_.close();
}

void NoteWriter::write_type(const Piece& piece) {
  if (!piece.value) return;
  const auto type = note_type_name(piece.value->base);
  if (!type) return;
  out_.text("type", *type);
  for (int dot = 0; dot < piece.value->dots; ++dot) out_.empty("dot");
}

void NoteWriter::write_sign(const model::Spelling& spelling) {
  if (accidentals_.needs_sign(spelling)) out_.text("accidental", accidental_name(spelling.alter));
}

void NoteWriter::write_time_modification(const PiecePlace& place) {
  const Piece& piece = place.at();
  if (!piece.tuplet) return;
  const Tuplet product = place.layout.product(*piece.tuplet);
  out_.open("time-modification");
  out_.number("actual-notes", product.actual);
  out_.number("normal-notes", product.normal);
  const bool own_type = piece.value && *piece.value == NoteValue{product.unit, 0};
  const auto type = own_type ? std::nullopt : note_type_name(product.unit);
  if (type) out_.text("normal-type", *type);
  out_.close();
}

void NoteWriter::write_beam(std::size_t level, Beam beam) {
  out_.open("beam");
  out_.attribute("number", static_cast<std::int64_t>(level) + 1);
  out_.close_with_text(beam_name(beam));
}

std::string NoteWriter::text_of(std::size_t note) const {
  if (context_.options.annotation == Annotation::none) return {};
  std::string text = annotation_text(context_.score.notes[note].tone);
  if (context_.options.strokes && !text.empty()) text += context_.strokes[note];
  return text;
}

}  // namespace yubifu::musicxml
