#include "notation/write/writable.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/findings.h"
#include "base/message.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::Direction;
using model::Note;
using model::Rational;

// The name of a flute so that it is read as the same flute: a path may look like a size.
std::string flute_text(const model::FluteName& name) {
  std::string text = model::to_text(name);
  const bool path = std::holds_alternative<model::FlutePath>(name);
  const auto read = model::parse_flute_name(text);
  const bool read_as_path = read && std::holds_alternative<model::FlutePath>(*read);
  return path && !read_as_path ? "./" + text : text;
}

std::string header_line(std::string_view key, std::string_view value) {
  return fmt::format("{}:{}{}\n", key, value.empty() ? "" : " ", on_one_line(value));
}

constexpr std::string_view kLineEnds = "\r\n";

// Tells what was found in measures, if it was.
void tell(base::Diagnostics& to, const model::Score& score, base::Finding found,
          const base::Rule& rule, std::string message, std::string hint = {}) {
  found.told = base::report(rule, {}, std::move(message), std::move(hint));
  base::tell(to, std::move(found), model::BarNumbers{score});
}

// Whether the text has a way to write the sign of a tone.
bool is_writable(const model::Tone& tone, Alphabet alphabet) {
  const model::Sign& sign = *tone.fingering->sign;
  return (model::standard_place(sign) || model::is_own_sign(sign.printed())) &&
         model::printed(tone, alphabet).size() <= kLongestToken;
}

void check_fingers(const model::Score& score, Alphabet alphabet, base::Diagnostics& found) {
  base::Finding unfingered;
  base::Finding unwritable;
  for (const Note& note : score.notes) {
    model::for_each_tone(note, [&](const model::Tone& tone) {
      if (!tone.fingering || (tone.fingering->is_gap() && !tone.spelling)) {
        unfingered.add(note.measure);
      } else if (!tone.fingering->is_gap() && !is_writable(tone, alphabet)) {
        unwritable.add(
            note.measure,
            base::report(
                rule::unwritable_sign, {},
                base::message("the sign {} cannot be written",
                              shown(tone.fingering->sign->printed())),
                base::message("rename it in the flute file, to one letter or digit of its own")));
      }
    });
  }
  const std::size_t count = unfingered.count;
  tell(found, score, std::move(unfingered), rule::unfingered_note,
       base::message("{} notes have no fingering", count),
       base::message("name the flute that shall play them"));
  base::tell(found, std::move(unwritable), model::BarNumbers{score});
}

void check_sizes(const model::Score& score, base::Diagnostics& found) {
  const auto refuse = [&](const base::Rule& rule, std::string message, std::string hint) {
    found.push_back(base::report(rule, {}, std::move(message), std::move(hint)));
  };
  const bool any = std::any_of(score.measures.begin(), score.measures.end(),
                               [](const auto& measure) { return measure.length > Rational(0); });
  if (!any) {
    refuse(rule::no_words, base::message("the score has nothing to write: no bar of any length"),
           base::message("write at least one bar of rest"));
  }
  const std::size_t bars = score.measures.size();
  std::size_t notes = score.rests.size();
  for (const Note& note : score.notes) notes += 1 + note.grace_count();
  const std::string hint = base::message("cut the score into several files");
  if (bars > kMostBars) {
    refuse(rule::size_limit, base::message("{} bars; a text holds {}", bars, kMostBars), hint);
  }
  if (notes > kMostNotes) {
    refuse(rule::size_limit, base::message("{} notes; a text holds {}", notes, kMostNotes), hint);
  }
}

void check_marks(const model::Score& score, Alphabet alphabet, base::Diagnostics& found) {
  const auto is_long = [&](ValuedMark mark, const std::vector<model::Tone>& tones) {
    return !tones.empty() && grace_text(mark, tones, alphabet).size() > kLongestToken;
  };
  base::Finding graces;
  base::Finding patterns;
  for (const Note& note : score.notes) {
    if (is_long(ValuedMark::pre, note.grace_before) ||
        is_long(ValuedMark::post, note.grace_after)) {
      graces.add(note.measure);
    }
    const std::size_t holes = note.asked_holes ? note.asked_holes->holes.size() : 0;
    if (holes <= kMostHoles) continue;
    patterns.add(note.measure, base::report(rule::bad_mark_value, {},
                                            base::message("a pattern of {} holes", holes),
                                            base::message("a pattern has at most {}", kMostHoles)));
  }
  tell(found, score, std::move(graces), rule::size_limit,
       base::message("the grace notes of one note take more than {} bytes", kLongestToken),
       base::message("leave some of them out"));
  base::tell(found, std::move(patterns), model::BarNumbers{score});
}

// What the reader would say of a direction, or of a tempo or beat.
void check_directions(const model::Score& score, base::Diagnostics& found) {
  base::Finding too_long;
  base::Finding refused;
  const auto check = [&](std::size_t measure, const model::DirectionValue& value) {
    const model::Measure& here = score.measures[measure];
    const model::Rational unit = model::felt_beat(here.meter, here.beat);
    const std::string text = direction_text(value, unit);
    if (text.size() > kLongestToken) return too_long.add(measure);
    auto meaning = read_direction(take_apart(text), unit);
    if (auto* fault = std::get_if<Fault>(&meaning)) {
      refused.add(measure, base::report(*fault->rule, {}, std::move(fault->message),
                                        std::move(fault->hint)));
    }
  };
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    const bool known = i > 0 && score.measures[i].beat == score.measures[i - 1].beat;
    if (!known) check(i, model::BeatChange{score.measures[i].beat});
    if (i == 0 && score.header.tempo) check(i, model::TempoChange{*score.header.tempo});
  }
  for (const model::Direction& direction : score.directions) {
    check(direction.measure, direction.value);
  }
  tell(found, score, std::move(too_long), rule::size_limit,
       base::message("a direction is longer than {} bytes", kLongestToken),
       base::message("shorten it"));
  base::tell(found, std::move(refused), model::BarNumbers{score});
}

// Visits each text that a user may have written over several lines, with its measure if it has one.
template <typename Visit>
void for_each_text(const model::Score& score, const Visit& visit) {
  const model::Header& header = score.header;
  for (const std::string* text : {&header.title, &header.subtitle, &header.composer,
                                  &header.lyricist, &header.source, &header.rights}) {
    visit(*text, base::kNoBar);
  }
  for (const model::HeaderField& field : header.unknown) visit(field.value, base::kNoBar);
  for (const std::string& comment : header.comments) visit(comment, base::kNoBar);
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    for (const model::Comment& comment : score.measures[i].comments) visit(comment.text, i);
  }
  for (const Note& note : score.notes) {
    for (const model::Syllable& syllable : note.syllables) visit(syllable.text, note.measure);
  }
  for (const Direction& direction : score.directions) {
    const std::string* text = model::free_text(direction.value);
    if (text != nullptr) visit(*text, direction.measure);
  }
}

// A score that is being mended: a copy from the first change on, since few scores need any.
struct Draft {
  const model::Score& written;
  std::optional<model::Score> mended = {};
  base::Diagnostics told = {};

  const model::Score& now() const { return mended ? *mended : written; }
  model::Score& edit() { return mended ? *mended : mended.emplace(written); }
};

void mend_zero(Draft& draft) {
  if (draft.written.header.zero == model::ZeroSign::cross) return;
  const auto is_zero = [](const model::Tone& tone) {
    return tone.fingering && tone.fingering->sign == model::Sign("0");
  };
  const bool taken = std::any_of(draft.written.notes.begin(), draft.written.notes.end(),
                                 [&](const Note& note) { return any_tone(note, is_zero); });
  if (!taken) return;
  draft.edit().header.zero = model::ZeroSign::cross;
  draft.told.push_back(
      base::report(rule::zero_is_taken, {},
                   base::message("`zero: tube` is left out, since a note is the cross-fingering 0"),
                   base::message("the tube tones are written 筒")));
}

void mend_fields(Draft& draft) {
  model::Header header = draft.now().header;
  std::set<std::string> keys;
  const auto moved = std::erase_if(header.unknown, [&](const model::HeaderField& field) {
    const bool is_good = may_be_header_key(field.key) && !header_key(folded(field.key));
    if (is_good && keys.insert(field.key).second) return false;
    header.comments.push_back(field.key + ": " + field.value);
    draft.told.push_back(
        base::report(rule::unwritable_header, {},
                     base::message("the header field {} is kept as a comment", shown(field.key)),
                     base::message("rename it to one word of its own")));
    return true;
  });
  if (moved > 0) draft.edit().header = std::move(header);
}

// Only told: every text is written on one line.
void mend_texts(Draft& draft) {
  base::Finding joined;
  for_each_text(draft.now(), [&](const std::string& text, base::Place place) {
    if (text.find_first_of(kLineEnds) != std::string::npos) joined.add(place);
  });
  tell(draft.told, draft.written, std::move(joined), rule::text_on_one_line,
       base::message("the lines of a text are joined to one"));
}

// Repeats do not nest: playing goes back to the nearest start, so one before that does nothing.
void mend_repeats(Draft& draft) {
  base::Finding idle;
  bool start_follows = false;
  for (std::size_t i = draft.written.measures.size(); i-- > 0;) {
    const model::Measure& measure = draft.written.measures[i];
    if (measure.repeat_end) start_follows = false;
    if (!measure.repeat_start) continue;
    if (start_follows) idle.add(i);
    start_follows = true;
  }
  for (const base::Place i : idle.places) draft.edit().measures[i].repeat_start = false;
  if (idle.count > 0) model::mark_irregular(draft.edit());
  tell(draft.told, draft.written, std::move(idle), rule::idle_repeat,
       base::message("a repeat begins again before it has ended"),
       base::message("end the first one, or take its start out"));
}

void mend_directions(Draft& draft) {
  base::Finding undone;
  std::vector<Direction> all = draft.now().directions;
  std::erase_if(all, [&](const Direction& here) {
    if (model::kind_of(here.value).at_one_place == model::AtOnePlace::many) return false;
    // Those behind it still stand where they stood.
    const auto* const end = all.data() + all.size();
    const auto* later = &here + 1;
    const auto is_here = [&] {
      return later->measure == here.measure && later->onset == here.onset;
    };
    while (later != end && is_here() && later->value.index() != here.value.index()) ++later;
    if (later == end || !is_here()) return false;
    undone.add(here.measure);
    return true;
  });
  if (undone.count > 0) draft.edit().directions = std::move(all);
  tell(draft.told, draft.written, std::move(undone), rule::undone_direction,
       base::message("of two tempos, keys, beats or flutes at one place the last is kept"));
}

Note struck_anew(const Note& first, std::size_t measure, Rational duration) {
  Note note;
  note.measure = measure;
  note.duration = duration;
  note.tone = first.tone;
  note.slur_to_next = first.slur_to_next;
  for (const model::Syllable& syllable : first.syllables) {
    note.syllables.push_back({syllable.verse, "", model::SyllableKind::single, true});
  }
  return note;
}

void mend_flutes(Draft& draft) {
  std::set<std::size_t> changes;
  for (const auto& [measure, onset, value, source] : draft.now().directions) {
    if (std::holds_alternative<model::FluteChange>(value)) changes.insert(measure);
  }
  if (changes.empty()) return;
  base::Finding anew;
  std::vector<Note> notes;
  const auto& measures = draft.now().measures;
  for (const Note& whole : draft.now().notes) {
    notes.push_back(whole);
    Rational left = whole.onset + whole.duration;
    for (std::size_t m = whole.measure; left > measures[m].length; ++m) {
      left -= measures[m].length;
      if (changes.count(m + 1) == 0) continue;
      anew.add(m + 1);
      notes.back().duration -= left;
      notes.push_back(struck_anew(notes.back(), m + 1, left));
      notes[notes.size() - 2].slur_to_next = false;
    }
  }
  if (anew.count > 0) draft.edit().notes = std::move(notes);
  tell(draft.told, draft.written, std::move(anew), rule::held_over_flute,
       base::message("a note is held while the flute changes; it is struck anew"),
       base::message("end the note before the change"));
}

void mend_syllables(Draft& draft) {
  base::Finding carried;
  std::set<std::string> begun;
  const auto carries_nothing = [&](const model::Syllable& syllable) {
    if (!syllable.extends) begun.insert(syllable.verse);
    return syllable.extends && begun.count(syllable.verse) == 0;
  };
  for (const Note& note : draft.now().notes) {
    for (const model::Syllable& syllable : note.syllables) {
      if (carries_nothing(syllable)) carried.add(note.measure);
    }
    // Verses begin with a syllable nearly always; the set need not be asked for every note.
    if (begun.size() == draft.written.verses.size()) break;
  }
  if (carried.count == 0) return;
  begun.clear();
  for (Note& note : draft.edit().notes) std::erase_if(note.syllables, carries_nothing);
  tell(draft.told, draft.written, std::move(carried), rule::carried_nothing,
       base::message("a syllable is carried on before there is one"));
}

}  // namespace

std::string on_one_line(std::string_view text) {
  std::string line;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(kLineEnds, at), text.size());
    line += text.substr(at, end - at);
    if (end == text.size()) break;
    line += ' ';
    at = end + (text.substr(end).starts_with("\r\n") ? 2 : 1);
  }
  return line;
}

std::string grace_text(ValuedMark mark, const std::vector<model::Tone>& tones, Alphabet alphabet) {
  std::string value;
  for (const model::Tone& tone : tones) {
    if (!value.empty()) value += ' ';
    value += model::printed(tone, alphabet);
  }
  return braced(kValuedMarks.word_of(mark), value);
}

std::string direction_text(const model::DirectionValue& value, model::Rational usual_unit) {
  const std::string_view word = model::word_of(value);
  if (const auto* change = std::get_if<model::TempoChange>(&value)) {
    return braced(word, model::to_text(change->tempo, usual_unit));
  }
  if (const auto* change = std::get_if<model::FluteChange>(&value)) {
    return braced(word, bare_or_quoted(flute_text(change->flute)));
  }
  const std::string text = on_one_line(model::value_text(value));
  if (std::holds_alternative<model::Dynamic>(value)) return braced(word, bare_or_quoted(text));
  return braced(word, model::free_text(value) == nullptr ? text : quoted(text));
}

std::string header_text(const model::Header& header) {
  std::string out;
  for (const std::string& comment : header.comments) out.append(comment_text(comment)).append("\n");
  for (const HeaderKey key : model::header_keys()) {
    const auto text = key == HeaderKey::flute && header.flute ? flute_text(*header.flute)
                                                              : model::field_text(header, key);
    if (text && !trimmed(*text).empty()) out += header_line(word_of(key), trimmed(*text));
  }
  for (const auto& [key, value] : header.unknown) out += header_line(key, trimmed(value));
  return out;
}

std::string comment_text(const std::string& text) {
  return text.empty() ? "#" : "# " + on_one_line(text);
}

base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet) {
  base::Diagnostics found;
  check_fingers(score, alphabet, found);
  check_sizes(score, found);
  check_marks(score, alphabet, found);
  check_directions(score, found);
  return found;
}

base::Outcome<model::Score> mend(const model::Score& score) {
  Draft draft{score};
  mend_zero(draft);
  mend_fields(draft);
  mend_texts(draft);
  mend_repeats(draft);
  mend_directions(draft);
  mend_flutes(draft);
  mend_syllables(draft);
  return {std::move(draft.mended), std::move(draft.told)};
}

}  // namespace yubifu::notation
