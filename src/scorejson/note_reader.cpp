#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "model/pitch.h"
#include "model/words.h"
#include "scorejson/parts.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

constexpr int kMostAlter = 2;

std::optional<model::Step> step_named(std::string_view text) {
  return text.size() == 1 ? model::step_from_letter(text.front()) : std::nullopt;
}

// ●○◐◎, from the mouth end to the foot.
std::optional<model::HolePattern> holes_field(JsonFields& fields, std::string_view key,
                                              Presence presence) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  auto pattern = model::parse_hole_pattern(*text);
  if (!pattern) {
    fields.report_value(
        key,
        base::message("{}: \"{}\" is \"{}\", which is no hole pattern", fields.what(), key, *text),
        base::message("write one of ● ○ ◐ ◎ for each hole"));
  }
  return pattern;
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
  const JsonValue* sign = fields.find("sign");
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
  tone.holes = holes_field(fields, "holes", Presence::optional);
  return tone;
}

// The place in the score, which notes and rests share.
void read_place(JsonFields& fields, const std::vector<model::Rational>& starts, model::Note& note) {
  const auto last = static_cast<std::int64_t>(starts.size()) - 1;
  const auto measure = fields.whole("measure", 0, last, Presence::required);
  const auto onset = time_field(fields, "onset", Presence::required);
  if (!measure || !onset) return;
  note.measure = static_cast<std::size_t>(*measure);
  note.onset = *onset - starts[note.measure];
}

void read_plain_mark(const JsonValue& value, const std::string& owner,
                     std::vector<model::Mark>& marks, base::Diagnostics& diagnostics) {
  JsonFields fields(value, base::message("a mark of {}", owner), diagnostics);
  const auto mark = word_field(fields, "name", model::kMarkWords, Presence::required);
  if (mark) marks.push_back(*mark);
  fields.report_unknown();
}

void report_twice(JsonFields& fields) {
  fields.report_value("name", base::message("{} stands here twice", fields.what()));
}

void tones_from_text(JsonFields& fields, std::string_view text, std::vector<model::Tone>& tones) {
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(text.size(), word.size() + 1));
    // Also with a sign that only a flute file defines.
    auto tone = model::parse_gap(word);
    if (auto fingering = model::parse_printed_of_any_flute(word); fingering && !tone) {
      tone.emplace().fingering = std::move(fingering);
    }
    if (tone) {
      tones.push_back(*std::move(tone));
      continue;
    }
    fields.report_value("value",
                        base::message("{}: \"{}\" is no printed sign", fields.what(), word),
                        base::message("write signs such as \"六 七メ\", with one space between"));
    return;
  }
}

// The tones say everything; the text is for other programs, or stands alone.
void read_grace(JsonFields& fields, std::vector<model::Tone>& tones,
                base::Diagnostics& diagnostics) {
  const base::JsonArray* list = fields.array("tones");
  const std::string* text =
      fields.text("value", list == nullptr ? Presence::required : Presence::optional);
  if (!tones.empty()) return report_twice(fields);
  if (list == nullptr) {
    if (text != nullptr) tones_from_text(fields, *text, tones);
    return;
  }
  for (const JsonValue& one : *list) {
    JsonFields members(one, base::message("a tone of {}", fields.what()), diagnostics);
    tones.push_back(read_tone(members));
    members.report_unknown();
  }
  if (text != nullptr && *text != tones_text(tones)) {
    fields.report_value("value", base::message("{}: the value is \"{}\", but the tones are \"{}\"",
                                               fields.what(), *text, tones_text(tones)));
  }
}

void read_mark(const JsonValue& value, const std::string& owner, model::Note& note,
               base::Diagnostics& diagnostics) {
  const JsonValue* name = value.find("name");
  const std::string* text = name == nullptr ? nullptr : name->as<std::string>();
  const bool has_value =
      text != nullptr && (*text == kGraceBefore || *text == kGraceAfter || *text == kAskedHoles);
  if (!has_value) return read_plain_mark(value, owner, note.marks, diagnostics);
  JsonFields fields(value, base::message("the mark {} of {}", *text, owner), diagnostics);
  fields.find("name");
  if (*text == kAskedHoles) {
    auto pattern = holes_field(fields, "value", Presence::required);
    if (note.asked_holes) report_twice(fields);
    note.asked_holes = std::move(pattern);
  } else {
    read_grace(fields, *text == kGraceBefore ? note.grace_before : note.grace_after, diagnostics);
  }
  fields.report_unknown();
}

void read_syllable(const JsonValue& value, const std::string& owner, model::Note& note,
                   base::Diagnostics& diagnostics) {
  JsonFields fields(value, base::message("a syllable of {}", owner), diagnostics);
  model::Syllable syllable;
  if (const std::string* verse = fields.text("verse", Presence::required)) {
    syllable.verse = *verse;
    if (model::verse_rank(*verse) == 0) {
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

}  // namespace

void read_note(const JsonValue& value, const std::vector<model::Rational>& starts,
               model::Score& score, base::Diagnostics& diagnostics) {
  JsonFields fields(value, base::message("note {}", score.notes.size()), diagnostics);
  model::Note note;
  note.source = value.where;
  read_place(fields, starts, note);
  note.duration = time_field(fields, "duration", Presence::required).value_or(0);
  note.tone = read_tone(fields);
  for_each_in(fields, "marks",
              [&](const JsonValue& one) { read_mark(one, fields.what(), note, diagnostics); });
  std::sort(note.marks.begin(), note.marks.end());
  note.slur_to_next = fields.boolean("slur").value_or(false);
  for_each_in(fields, "verses",
              [&](const JsonValue& one) { read_syllable(one, fields.what(), note, diagnostics); });
  // Only played-out scores have it; it follows from the score that was played.
  fields.whole("source", 0, std::numeric_limits<std::int64_t>::max());
  fields.report_unknown();
  score.notes.push_back(std::move(note));
}

void read_rest(const JsonValue& value, const std::vector<model::Rational>& starts,
               model::Score& score, base::Diagnostics& diagnostics) {
  JsonFields fields(value, base::message("rest {}", score.rests.size()), diagnostics);
  model::Note marked;
  read_place(fields, starts, marked);
  for_each_in(
      fields, "marks",
      [&](const JsonValue& one) { read_plain_mark(one, fields.what(), marked.marks, diagnostics); },
      Presence::required);
  std::sort(marked.marks.begin(), marked.marks.end());
  fields.report_unknown();
  score.rests.push_back({marked.measure, marked.onset, std::move(marked.marks), value.where});
}

std::optional<model::Rational> time_field(JsonFields& fields, std::string_view key,
                                          Presence presence) {
  const std::string* text = fields.text(key, presence);
  if (text == nullptr) return std::nullopt;
  const auto time = model::parse_rational(*text);
  if (!time) {
    fields.report_value(
        key, base::message("{}: \"{}\" is \"{}\", which is no time", fields.what(), key, *text),
        base::message("write quarter notes such as \"2\" or \"3/2\""));
  }
  return time;
}

std::optional<double> cents_field(JsonFields& fields) {
  constexpr double kMostCents = 50;
  const auto cents = fields.number("cents");
  if (cents && std::abs(*cents) > kMostCents) {
    fields.report_value("cents", base::message("{}: \"cents\" must lie from -{} to {}",
                                               fields.what(), kMostCents, kMostCents));
  }
  return cents;
}

void report_word(JsonFields& fields, std::string_view key, const std::string& text,
                 const std::vector<std::string_view>& words) {
  const auto nearest = base::nearest_word(text, words);
  fields.report_value(
      key, base::message("{}: \"{}\" is \"{}\", which is not known", fields.what(), key, text),
      nearest ? base::message("did you mean \"{}\"?", *nearest)
              : base::message("write one of: {}", fmt::join(words, ", ")));
}

}  // namespace yubifu::scorejson
