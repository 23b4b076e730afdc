#include <algorithm>
#include <limits>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "model/pitch.h"
#include "model/words.h"
#include "scorejson/parts.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using base::JsonFields;
using base::Presence;

constexpr int kMostAlter = 2;

std::optional<model::Step> step_named(std::string_view text) {
  return text.size() == 1 ? model::step_from_letter(text.front()) : std::nullopt;
}

// One tone as printed, also with a sign that only a flute file defines; nothing for other text.
std::optional<model::Tone> parse_tone_text(std::string_view text) {
  if (auto gap = model::parse_gap(text)) return gap;
  model::Tone tone;
  tone.fingering = model::parse_printed_of_any_flute(text);
  return tone.fingering ? std::optional(tone) : std::nullopt;
}

void read_pitch(JsonFields& fields, model::Tone& tone) {
  const auto key = fields.whole("midi", model::kLowestKey, model::kHighestKey);
  const auto cents = cents_field(fields);
  if (key) tone.pitch = model::Pitch{static_cast<int>(*key), cents.value_or(0)};
  if (cents && !key) fields.find("midi", Presence::required);
}

void read_spelling(JsonFields& fields, model::Tone& tone) {
  const bool any = fields.find("step") != nullptr || fields.find("alter") != nullptr ||
                   fields.find("octave") != nullptr;
  if (!any) return;
  const auto step = word_field(fields, "step", step_named, {"C", "D", "E", "F", "G", "A", "B"},
                               Presence::required);
  const auto alter = fields.whole("alter", -kMostAlter, kMostAlter);
  const auto octave =
      fields.whole("octave", model::kLowestOctave, model::kHighestOctave, Presence::required);
  if (!step || !octave) return;
  tone.spelling =
      model::Spelling{*step, static_cast<int>(alter.value_or(0)), static_cast<int>(*octave)};
}

void read_fingering(JsonFields& fields, model::Tone& tone) {
  const base::JsonValue* sign = fields.find("sign");
  const auto half = word_field(fields, "half", kHalfHoles);
  const auto bend = fields.whole("bend", -model::kMostBendCents, model::kMostBendCents);
  if (sign == nullptr) {
    if (half || bend) fields.find("sign", Presence::required);
    return;
  }
  tone.fingering = model::Fingering{};
  tone.fingering->half = half.value_or(model::HalfHole::none);
  tone.fingering->bend_cents = static_cast<int>(bend.value_or(0));
  if (sign->is_null()) return;
  if (const std::string* printed = fields.text("sign"))
    tone.fingering->sign = model::Sign(*printed);
}

model::Tone read_tone(JsonFields& fields) {
  model::Tone tone;
  read_pitch(fields, tone);
  read_spelling(fields, tone);
  read_fingering(fields, tone);
  tone.holes = holes_field(fields, "holes");
  return tone;
}

// Reads the notes and rests, whose members share the place in the score and the marks.
class NoteReader {
 public:
  NoteReader(const std::vector<model::Rational>& starts, model::Score& score,
             base::Diagnostics& diagnostics)
      : starts_(starts), score_(score), diagnostics_(diagnostics) {}

  void note(const base::JsonValue& value) {
    JsonFields fields(value, base::message("note {}", score_.notes.size()), diagnostics_);
    model::Note note;
    note.source = value.where;
    place(fields, note);
    const auto duration = time_field(fields, "duration", Presence::required);
    note.duration = duration.value_or(0);
    note.tone = read_tone(fields);
    if (const auto* list = fields.array("marks")) {
      for (const base::JsonValue& one : *list) mark(one, fields.what(), note);
      std::sort(note.marks.begin(), note.marks.end());
    }
    note.slur_to_next = fields.boolean("slur").value_or(false);
    if (const auto* list = fields.array("verses")) {
      for (const base::JsonValue& one : *list) syllable(one, fields.what(), note);
    }
    // Only played-out scores have it; it follows from the score that was played.
    fields.whole("source", 0, std::numeric_limits<std::int64_t>::max());
    fields.report_unknown();
    score_.notes.push_back(std::move(note));
  }

  void rest(const base::JsonValue& value) {
    JsonFields fields(value, base::message("rest {}", score_.rests.size()), diagnostics_);
    model::Note marked;
    place(fields, marked);
    if (const auto* list = fields.array("marks", Presence::required)) {
      for (const base::JsonValue& one : *list) plain_mark(one, fields.what(), marked.marks);
      std::sort(marked.marks.begin(), marked.marks.end());
    }
    fields.report_unknown();
    score_.rests.push_back({marked.measure, marked.onset, std::move(marked.marks), value.where});
  }

 private:
  void place(JsonFields& fields, model::Note& note) {
    const auto last = static_cast<std::int64_t>(starts_.size()) - 1;
    const auto measure = fields.whole("measure", 0, last, Presence::required);
    const auto onset = time_field(fields, "onset", Presence::required);
    if (!measure || !onset) return;
    note.measure = static_cast<std::size_t>(*measure);
    note.onset = *onset - starts_[note.measure];
  }

  void plain_mark(const base::JsonValue& value, const std::string& owner,
                  std::vector<model::Mark>& marks) {
    JsonFields fields(value, base::message("a mark of {}", owner), diagnostics_);
    const auto mark = word_field(fields, "name", model::kMarkWords, Presence::required);
    if (mark) marks.push_back(*mark);
    fields.report_unknown();
  }

  void mark(const base::JsonValue& value, const std::string& owner, model::Note& note) {
    const base::JsonValue* name = value.find("name");
    const std::string* text = name == nullptr ? nullptr : name->as<std::string>();
    const bool has_value =
        text != nullptr && (*text == kGraceBefore || *text == kGraceAfter || *text == kAskedHoles);
    if (!has_value) return plain_mark(value, owner, note.marks);
    JsonFields fields(value, base::message("the mark {} of {}", *text, owner), diagnostics_);
    fields.find("name");
    if (*text == kGraceBefore) {
      grace(fields, note.grace_before);
    } else if (*text == kGraceAfter) {
      grace(fields, note.grace_after);
    } else {
      auto pattern = holes_field(fields, "value", Presence::required);
      if (note.asked_holes) {
        fields.report_value("name", base::message("{} stands here twice", fields.what()));
      }
      note.asked_holes = std::move(pattern);
    }
    fields.report_unknown();
  }

  // The tones say everything; the text is for other programs, or stands alone.
  void grace(JsonFields& fields, std::vector<model::Tone>& tones) {
    const base::JsonArray* list = fields.array("tones");
    const std::string* text =
        fields.text("value", list == nullptr ? Presence::required : Presence::optional);
    if (!tones.empty()) {
      fields.report_value("name", base::message("{} stands here twice", fields.what()));
      return;
    }
    if (list != nullptr) {
      for (const base::JsonValue& one : *list) {
        JsonFields members(one, base::message("a tone of {}", fields.what()), diagnostics_);
        tones.push_back(read_tone(members));
        members.report_unknown();
      }
    }
    if (text == nullptr) return;
    if (list == nullptr) {
      tones_from_text(fields, *text, tones);
    } else if (*text != tones_text(tones)) {
      fields.report_value(
          "value", base::message("{}: the value is \"{}\", but the tones are \"{}\"", fields.what(),
                                 *text, tones_text(tones)));
    }
  }

  static void tones_from_text(JsonFields& fields, std::string_view text,
                              std::vector<model::Tone>& tones) {
    while (!text.empty()) {
      const std::string_view word = text.substr(0, text.find(' '));
      text.remove_prefix(std::min(text.size(), word.size() + 1));
      if (auto tone = parse_tone_text(word)) {
        tones.push_back(std::move(*tone));
        continue;
      }
      fields.report_value("value",
                          base::message("{}: \"{}\" is no printed sign", fields.what(), word),
                          base::message("write signs such as \"六 七メ\", with one space between"));
      return;
    }
  }

  void syllable(const base::JsonValue& value, const std::string& owner, model::Note& note) {
    JsonFields fields(value, base::message("a syllable of {}", owner), diagnostics_);
    model::Syllable syllable;
    if (const std::string* verse = fields.text("verse", Presence::required)) {
      syllable.verse = *verse;
      if (!model::is_verse_name(*verse)) {
        fields.report_value("verse",
                            base::message("{}: there is no verse \"{}\"", fields.what(), *verse),
                            base::message("number the verses 1, 2 …, or write shoga"));
      }
    }
    syllable.extends = fields.boolean("extend").value_or(false);
    const std::string* text =
        fields.text("text", syllable.extends ? Presence::optional : Presence::required);
    if (text != nullptr) syllable.text = *text;
    syllable.kind =
        word_field(fields, "kind", model::kSyllableKindWords).value_or(model::SyllableKind::single);
    fields.report_unknown();
    note.syllables.push_back(std::move(syllable));
  }

  const std::vector<model::Rational>& starts_;
  model::Score& score_;
  base::Diagnostics& diagnostics_;
};

}  // namespace

void read_notes(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics) {
  NoteReader reader(starts, score, diagnostics);
  score.notes.reserve(array.size());
  for (const base::JsonValue& value : array) reader.note(value);
}

void read_rests(const base::JsonArray& array, const std::vector<model::Rational>& starts,
                model::Score& score, base::Diagnostics& diagnostics) {
  NoteReader reader(starts, score, diagnostics);
  for (const base::JsonValue& value : array) reader.rest(value);
}

}  // namespace yubifu::scorejson
