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

using Measures = std::vector<std::size_t>;

void tell(base::Diagnostics& to, const model::Score& score, std::size_t cases,
          const Measures& measures, base::Diagnostic told) {
  base::tell(to, {std::move(told), cases, measures}, model::BarNumbers{score});
}

// The name of a flute so that it is read as the same flute: a path may look like a size.
std::string flute_text(const model::FluteName& name) {
  std::string text = model::to_text(name);
  const bool path = std::holds_alternative<model::FlutePath>(name);
  const auto read = model::parse_flute_name(text);
  const bool read_as_path = read && std::holds_alternative<model::FlutePath>(*read);
  return path && !read_as_path ? "./" + text : text;
}

std::string header_line(std::string_view key, std::string_view value) {
  return fmt::format("{}:{}{}\n", key, value.empty() ? "" : " ", value);
}

constexpr std::string_view kLineEnds = "\r\n";

// A text with its line ends made into single spaces: everything is written on one line.
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

// True when a field that nobody knows can stand in the header as it is.
bool is_writable_field(const model::Header& header, const model::HeaderField& field) {
  if (!may_be_header_key(field.key) || header_key(folded(field.key))) return false;
  const auto same = [&](const model::HeaderField& other) { return other.key == field.key; };
  const auto first = std::find_if(header.unknown.begin(), header.unknown.end(), same);
  return first == header.unknown.end() || &*first == &field;
}

// What keeps a score from being written at all.
class Check {
 public:
  Check(const model::Score& score, Alphabet alphabet) : score_(score), alphabet_(alphabet) {}

  base::Diagnostics run() {
    fingers();
    sizes();
    marks();
    directions();
    return std::move(found_);
  }

 private:
  // Nothing where no measure is concerned.
  void add(const base::Rule& rule, std::string message, std::string hint,
           const Measures& measures) {
    tell(found_, score_, measures.size(), measures,
         base::report(rule, {}, std::move(message), std::move(hint)));
  }

  // What concerns the whole.
  void refuse(const base::Rule& rule, std::string message, std::string hint) {
    found_.push_back(base::report(rule, std::nullopt, std::move(message), std::move(hint)));
  }

  void fingers() {
    Measures unfingered;
    Measures unwritable;
    std::string first;  // sign that cannot be written
    for (const Note& note : score_.notes) {
      model::for_each_tone(note, [&](const model::Tone& tone) {
        if (!tone.fingering || (tone.fingering->is_gap() && !tone.spelling)) {
          unfingered.push_back(note.measure);
        } else if (!tone.fingering->is_gap() && !is_writable(tone)) {
          if (unwritable.empty()) first = tone.fingering->sign->printed();
          unwritable.push_back(note.measure);
        }
      });
    }
    add(rule::unfingered_note, base::message("{} notes have no fingering", unfingered.size()),
        base::message("name the flute that shall play them"), unfingered);
    add(rule::unwritable_sign, base::message("the sign {} cannot be written", shown(first)),
        base::message("rename it in the flute file, to one letter or digit of its own"),
        unwritable);
  }

  // Whether the text has a way to write the sign of a tone.
  bool is_writable(const model::Tone& tone) const {
    const model::Sign& sign = *tone.fingering->sign;
    return (model::standard_place(sign) || model::is_own_sign(sign.printed())) &&
           tone_text(tone, alphabet_).size() <= kLongestToken;
  }

  void sizes() {
    const bool any = std::any_of(score_.measures.begin(), score_.measures.end(),
                                 [](const auto& measure) { return measure.length > Rational(0); });
    if (!any) {
      refuse(rule::no_words, base::message("the score has nothing to write: no bar of any length"),
             base::message("write at least one bar of rest"));
    }
    const std::size_t bars = score_.measures.size();
    std::size_t notes = score_.rests.size();
    for (const Note& note : score_.notes) notes += 1 + note.grace_count();
    const std::string hint = base::message("cut the score into several files");
    if (bars > kMostBars) {
      refuse(rule::size_limit, base::message("{} bars; a text holds {}", bars, kMostBars), hint);
    }
    if (notes > kMostNotes) {
      refuse(rule::size_limit, base::message("{} notes; a text holds {}", notes, kMostNotes), hint);
    }
  }

  void marks() {
    const auto is_long = [&](ValuedMark mark, const std::vector<model::Tone>& tones) {
      return !tones.empty() && grace_text(mark, tones, alphabet_).size() > kLongestToken;
    };
    Measures graces;
    Measures patterns;
    std::size_t holes = 0;
    for (const Note& note : score_.notes) {
      if (is_long(ValuedMark::pre, note.grace_before) ||
          is_long(ValuedMark::post, note.grace_after)) {
        graces.push_back(note.measure);
      }
      if (!note.asked_holes || note.asked_holes->holes.size() <= kMostHoles) continue;
      if (patterns.empty()) holes = note.asked_holes->holes.size();
      patterns.push_back(note.measure);
    }
    add(rule::size_limit,
        base::message("the grace notes of one note take more than {} bytes", kLongestToken),
        base::message("leave some of them out"), graces);
    add(rule::bad_mark_value, base::message("a pattern of {} holes", holes),
        base::message("a pattern has at most {}", kMostHoles), patterns);
  }

  // What the reader would say of a direction, or of a tempo or beat.
  void directions() {
    Measures too_long;
    Measures refused;
    std::optional<Fault> first;
    const auto check = [&](std::size_t measure, const model::DirectionValue& value) {
      const model::Measure& here = score_.measures[measure];
      const model::Rational unit = model::felt_beat(here.meter, here.beat);
      const std::string text = on_one_line(direction_text(value, unit));
      if (text.size() > kLongestToken) return too_long.push_back(measure);
      auto meaning = read_direction(take_apart(text), unit);
      auto* fault = std::get_if<Fault>(&meaning);
      if (fault == nullptr) return;
      if (!first) first = std::move(*fault);
      refused.push_back(measure);
    };
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      const bool known = i > 0 && score_.measures[i].beat == score_.measures[i - 1].beat;
      if (!known) check(i, model::BeatChange{score_.measures[i].beat});
      if (i == 0 && score_.header.tempo) check(i, model::TempoChange{*score_.header.tempo});
    }
    for (const model::Direction& direction : score_.directions) {
      check(direction.measure, direction.value);
    }
    add(rule::size_limit, base::message("a direction is longer than {} bytes", kLongestToken),
        base::message("shorten it"), too_long);
    if (first) add(*first->rule, std::move(first->message), std::move(first->hint), refused);
  }

  const model::Score& score_;
  Alphabet alphabet_;
  base::Diagnostics found_;
};

// Visits each text that a user may have written over several lines, with its measure if it has one.
template <typename Score, typename Visit>
void for_each_text(Score& score, const Visit& visit) {
  auto& header = score.header;
  for (auto* text : {&header.title, &header.subtitle, &header.composer, &header.lyricist,
                     &header.source, &header.rights}) {
    visit(*text, std::nullopt);
  }
  for (auto& field : header.unknown) visit(field.value, std::nullopt);
  for (auto& comment : header.comments) visit(comment, std::nullopt);
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    for (auto& comment : score.measures[i].comments) visit(comment.text, i);
  }
  for (auto& note : score.notes) {
    for (auto& syllable : note.syllables) visit(syllable.text, note.measure);
  }
  for (auto& direction : score.directions) {
    if (auto* text = model::free_text(direction.value)) visit(*text, direction.measure);
  }
}

// Makes the nearest score that the text can say.
class Mender {
 public:
  explicit Mender(const model::Score& score) : score_(score) {}

  base::Outcome<model::Score> run() {
    zero();
    fields();
    texts();
    repeats();
    directions();
    flutes();
    syllables();
    return std::move(mended_);
  }

 private:
  // The score as it is so far.
  const model::Score& now() const { return mended_.value ? *mended_.value : score_; }

  model::Score& edit() {
    if (!mended_.value) mended_.value = score_;
    return *mended_.value;
  }

  void add(const base::Rule& rule, std::string message, std::string hint,
           const Measures& measures) {
    const std::size_t cases = std::max<std::size_t>(1, measures.size());  // without bars: one
    tell(mended_.diagnostics, score_, cases, measures,
         base::report(rule, {}, std::move(message), std::move(hint)));
  }

  void zero() {
    if (score_.header.zero == model::ZeroSign::cross) return;
    const auto is_zero = [](const model::Tone& tone) {
      return tone.fingering && tone.fingering->sign == model::Sign("0");
    };
    const bool taken = std::any_of(score_.notes.begin(), score_.notes.end(),
                                   [&](const Note& note) { return any_tone(note, is_zero); });
    if (!taken) return;
    edit().header.zero = model::ZeroSign::cross;
    add(rule::zero_is_taken,
        base::message("`zero: tube` is left out, since a note is the cross-fingering 0"),
        base::message("the tube tones are written 筒"), {});
  }

  void fields() {
    const model::Header& header = score_.header;
    std::vector<model::HeaderField> good;
    for (const model::HeaderField& field : header.unknown) {
      if (is_writable_field(header, field)) {
        good.push_back(field);
        continue;
      }
      edit().header.comments.push_back(field.key + ": " + field.value);
      add(rule::unwritable_header,
          base::message("the header field {} is kept as a comment", shown(field.key)),
          base::message("rename it to one word of its own"), {});
    }
    if (good.size() != header.unknown.size()) edit().header.unknown = std::move(good);
  }

  void texts() {
    bool found = false;
    Measures measures;
    for_each_text(now(), [&](const std::string& text, std::optional<std::size_t> measure) {
      if (text.find_first_of(kLineEnds) == std::string::npos) return;
      found = true;
      if (measure) measures.push_back(*measure);
    });
    if (!found) return;
    for_each_text(edit(), [](std::string& text, auto) { text = on_one_line(text); });
    add(rule::text_on_one_line, base::message("the lines of a text are joined to one"), {},
        measures);
  }

  // Repeats do not nest: playing goes back to the nearest start, so one before that does nothing.
  void repeats() {
    Measures idle;
    bool start_follows = false;
    for (std::size_t i = score_.measures.size(); i-- > 0;) {
      const model::Measure& measure = score_.measures[i];
      if (measure.repeat_end) start_follows = false;
      if (!measure.repeat_start) continue;
      if (start_follows) idle.push_back(i);
      start_follows = true;
    }
    if (idle.empty()) return;
    model::Score& score = edit();
    for (const std::size_t i : idle) score.measures[i].repeat_start = false;
    model::mark_irregular(score);
    add(rule::idle_repeat, base::message("a repeat begins again before it has ended"),
        base::message("end the first one, or take its start out"), idle);
  }

  void directions() {
    Measures measures;
    std::vector<Direction> kept;
    const auto& all = now().directions;
    for (auto here = all.begin(); here != all.end(); ++here) {
      const auto elsewhere = std::find_if(here, all.end(), [&](const Direction& other) {
        return other.measure != here->measure || other.onset != here->onset;
      });
      const bool undone = model::kind_of(here->value).at_one_place == model::AtOnePlace::one &&
                          std::any_of(here + 1, elsewhere, [&](const Direction& later) {
                            return later.value.index() == here->value.index();
                          });
      undone ? measures.push_back(here->measure) : kept.push_back(*here);
    }
    if (measures.empty()) return;
    edit().directions = std::move(kept);
    add(rule::undone_direction,
        base::message("of two tempos, keys, beats or flutes at one place the last is kept"), {},
        measures);
  }

  void flutes() {
    std::set<std::size_t> changes;
    for (const auto& [measure, onset, value, source] : score_.directions) {
      if (std::holds_alternative<model::FluteChange>(value)) changes.insert(measure);
    }
    if (changes.empty()) return;
    Measures measures;
    std::vector<Note> notes;
    for (const Note& whole : now().notes) {
      notes.push_back(whole);
      Rational left = whole.onset + whole.duration;
      for (std::size_t m = whole.measure; left > score_.measures[m].length; ++m) {
        left -= score_.measures[m].length;
        if (changes.count(m + 1) == 0) continue;
        measures.push_back(m + 1);
        notes.back().duration -= left;
        notes.push_back(struck_anew(notes.back(), m + 1, left));
        notes[notes.size() - 2].slur_to_next = false;
      }
    }
    if (measures.empty()) return;
    edit().notes = std::move(notes);
    add(rule::held_over_flute,
        base::message("a note is held while the flute changes; it is struck anew"),
        base::message("end the note before the change"), measures);
  }

  static Note struck_anew(const Note& first, std::size_t measure, Rational duration) {
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

  void syllables() {
    std::set<std::string> begun;
    const auto carries_nothing = [&](const model::Syllable& syllable) {
      if (!syllable.extends) begun.insert(syllable.verse);
      return syllable.extends && begun.count(syllable.verse) == 0;
    };
    Measures measures;
    for (const Note& note : now().notes) {
      for (const model::Syllable& syllable : note.syllables) {
        if (carries_nothing(syllable)) measures.push_back(note.measure);
      }
      // Verses begin with a syllable nearly always; the set need not be asked for every note.
      if (begun.size() == score_.verses.size()) break;
    }
    if (measures.empty()) return;
    begun.clear();
    for (Note& note : edit().notes) std::erase_if(note.syllables, carries_nothing);
    add(rule::carried_nothing, base::message("a syllable is carried on before there is one"), {},
        measures);
  }

  const model::Score& score_;
  base::Outcome<model::Score> mended_;
};

}  // namespace

std::string tone_text(const model::Tone& tone, Alphabet alphabet) {
  return alphabet == Alphabet::ascii ? model::ascii(tone) : model::printed(tone);
}

std::string grace_text(ValuedMark mark, const std::vector<model::Tone>& tones, Alphabet alphabet) {
  std::string value;
  for (const model::Tone& tone : tones) {
    if (!value.empty()) value += ' ';
    value += tone_text(tone, alphabet);
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
  const std::string text = model::value_text(value);
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
  return text.empty() ? "#" : "# " + text;
}

base::Diagnostics check_writable(const model::Score& score, Alphabet alphabet) {
  return Check(score, alphabet).run();
}

base::Outcome<model::Score> mend(const model::Score& score) {
  return Mender(score).run();
}

}  // namespace yubifu::notation
