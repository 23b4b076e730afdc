#include "check/comparison.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "base/message.h"
#include "check/alignment.h"
#include "check/rules.h"
#include "check/sounding.h"
#include "model/header.h"
#include "model/rational.h"
#include "model/words.h"

namespace yubifu::check {
namespace {

using base::message;
using model::Measure;
using model::Note;
using model::Rational;
using model::Score;

constexpr double kSameTime = 1e-6;   // in quarters
constexpr double kNearTempo = 0.01;  // of a change of tempo, which a MIDI file has on a tick

// A MIDI file has whole microseconds a quarter.
bool same_speed(const model::Tempo& a, const model::Tempo& b) {
  constexpr double kNear = 1e-4;
  const double speed = a.quarters_per_minute().as_double();
  return std::abs(speed - b.quarters_per_minute().as_double()) <= kNear * speed;
}

// A small number for a value that is only compared.
template <typename T>
std::int64_t number_of(const T& value, std::map<T, std::int64_t>& numbers) {
  return numbers.try_emplace(value, static_cast<std::int64_t>(numbers.size())).first->second;
}

double sounding_cents(const Note& note) {
  return note.tone.pitch ? note.tone.pitch->total_cents() : 0;
}

std::string pitch_text(const Note& note) {
  if (!note.tone.pitch) return message("no pitch");
  const model::Pitch& pitch = *note.tone.pitch;
  const std::string name = to_text(note.tone.spelling.value_or(model::spell_in_key(pitch.key, {})));
  return std::abs(pitch.cents) < 0.5 ? name : message("{}{:+.0f}c", name, pitch.cents);
}

std::string fingering_text(const Note& note) {
  if (!note.tone.fingering) return message("no fingering");
  if (note.tone.fingering->is_gap()) return "?" + pitch_text(note);
  std::string text = printed(*note.tone.fingering);
  if (note.asked_holes) text += " " + printed(*note.asked_holes);
  return text;
}

std::string tone_text(const model::Tone& tone) {
  if (tone.fingering && !tone.fingering->is_gap()) return printed(*tone.fingering);
  return tone.spelling ? to_text(*tone.spelling) : std::string("?");
}

// "三 (D5)": what the player reads and what is heard.
std::string whole_text(const Note& note) {
  if (!note.tone.fingering || note.tone.fingering->is_gap()) return pitch_text(note);
  return fmt::format("{} ({})", printed(*note.tone.fingering), pitch_text(note));
}

std::string marks_text(const Note& note) {
  std::string text;
  for (const model::Mark mark : note.marks) text += fmt::format("{} ", word_of(mark));
  for (const model::Tone& tone : note.grace_before) text += fmt::format("<{} ", tone_text(tone));
  for (const model::Tone& tone : note.grace_after) text += fmt::format(">{} ", tone_text(tone));
  if (note.slur_to_next) text += "~ ";
  if (!text.empty()) text.pop_back();
  return text;
}

std::string lyrics_text(const Note& note) {
  std::string text;
  for (const model::Syllable& syllable : note.syllables) {
    text += fmt::format("{}{}:{}{}{}", text.empty() ? "" : " ", syllable.verse, syllable.text,
                        word_goes_on(syllable.kind) ? "-" : "", syllable.extends ? "~" : "");
  }
  return text;
}

// One thing that shapes the music: a bar's length, a repeat sign, an ending, a direction.
struct FormItem {
  std::size_t measure = 0;
  model::Rational onset;
  std::string text;  // "repeat to here, 3 times", "tempo 96", "section \"A\""
  base::SourceRange source;
};

// What is said of directions in messages, in the order of the variant.
using Said = std::string (*)(const std::string& value);
constexpr std::array<Said, 7> kSaid{
    [](const std::string& value) { return message("tempo {}", value); },
    [](const std::string& value) { return message("beat {}", value); },
    [](const std::string& value) { return message("key {}", value); },
    [](const std::string& value) { return message("flute {}", value); },
    [](const std::string& value) { return message("section \"{}\"", value); },
    [](const std::string& value) { return message("text \"{}\"", value); },
    [](const std::string& value) { return message("dynamic {}", value); },
};
static_assert(kSaid.size() + 1 == std::variant_size_v<model::DirectionValue>);

std::string direction_text(const model::DirectionValue& value) {
  if (std::holds_alternative<model::Cue>(value)) return std::string(model::word_of(value));
  const auto* change = std::get_if<model::TempoChange>(&value);
  const std::string text =
      change == nullptr ? model::value_text(value) : to_text(change->tempo, Rational(0));
  return kSaid[value.index()](text);
}

// In the order of the music.
std::vector<FormItem> form_items(const Score& score) {
  std::vector<FormItem> items;
  std::size_t next = 0;
  for (std::size_t index = 0; index < score.measures.size(); ++index) {
    const Measure& here = score.measures[index];
    const auto add = [&](Rational onset, std::string text) {
      items.push_back({index, onset, std::move(text), here.source});
    };
    if (index == 0 || score.measures[index - 1].meter != here.meter) {
      add(0, message("meter {}", to_text(here.meter)));
    }
    if (index > 0 && score.measures[index - 1].beat != here.beat) {
      add(0, message("beat {}", model::beat_text(here.beat)));
    }
    if (here.repeat_start) add(0, message("repeat from here"));
    if (ending_starts(score, index)) {
      add(0, message("ending {}", fmt::format("{}", fmt::join(here.ending, ","))));
    }
    if (!here.meter.is_free() && here.length != here.meter.length()) {
      add(0, message("a bar of {} quarters", to_text(here.length)));
    }
    for (; next < score.directions.size() && score.directions[next].measure == index; ++next) {
      const model::Direction& direction = score.directions[next];
      items.push_back({index, direction.onset, direction_text(direction.value), direction.source});
    }
    if (here.repeat_end) {
      add(here.length, here.times == 2 ? message("repeat to here")
                                       : message("repeat to here, {} times", here.times));
    }
    if (here.right == model::BarStyle::section) add(here.length, message("section bar"));
    if (here.right == model::BarStyle::final) add(here.length, message("final bar"));
    if (ending_stops(score, index)) add(here.length, message("end of ending"));
  }
  return items;
}

// Header lines by key; what says nothing is left out. Flute, tuning and tempo are those in use.
std::map<std::string, std::string> header_lines(const Score& score) {
  const model::Header& header = score.header;
  std::map<std::string, std::string> lines;
  const auto add = [&](const std::string& key, std::string value) {
    if (!value.empty()) lines[key] = std::move(value);
  };
  for (const model::HeaderKey key : model::header_keys()) {
    if (model::holds_any_text(key)) {
      add(std::string(word_of(key)), model::field_text(header, key).value_or(std::string()));
    }
  }
  // What is played, whether the score says so or leaves it to the default.
  if (!score.flutes.empty()) {
    add("flute", score.flutes.front().title);
    add("tuning", fmt::format("{:g} Hz", score.flutes.front().tuning_hz));
  }
  const model::Tempo tempo = header.tempo.value_or(model::kDefaultTempo);
  add("tempo", to_text(model::Tempo{tempo.quarters_per_minute(), Rational(1)}, Rational(0)));
  if (header.key) add("key", to_text(*header.key));
  for (const model::HeaderField& field : header.unknown) add(field.key, field.value);
  return lines;
}

// "bar 3, beat 2", with the fraction of the beat where there is one: "beat 2 1/2".
std::string place_text(const Score& score, std::size_t measure, Rational onset) {
  const Measure& here = score.measures[measure];
  try {
    const Rational beats = onset / here.beat;
    const Rational rest = beats - beats.floor();
    std::string text = message("bar {}, beat {}", here.number, beats.floor() + 1);
    if (rest != Rational(0)) text += " " + to_text(rest);
    return text;
  } catch (const model::TimeOverflow&) {
    return message("bar {}, beat {}", here.number, onset.as_double() / here.beat.as_double() + 1);
  }
}

class Comparer {
 public:
  Comparer(const Score& a, const Score& b, const CompareOptions& options)
      : a_(a), b_(b), options_(options) {}

  std::vector<Difference> run() {
    if (wants(Aspect::header)) compare_headers();
    if (wants(Aspect::form)) {
      compare_forms();
    } else if (wants(Aspect::header)) {
      compare_tempos();
    }
    compare_notes();
    std::vector<Difference> differences;
    for (auto& [place, difference] : found_) differences.push_back(std::move(difference));
    return differences;
  }

 private:
  using Place = std::pair<std::size_t, Rational>;  // a measure and an onset in it

  bool wants(Aspect aspect) const { return options_.aspects.contains(aspect); }

  void compare_headers() {
    auto lines_a = header_lines(a_);
    auto lines_b = header_lines(b_);
    if (same_speed(a_.header.tempo.value_or(model::kDefaultTempo),
                   b_.header.tempo.value_or(model::kDefaultTempo))) {
      lines_a.erase("tempo");
      lines_b.erase("tempo");
    }
    const auto add = [&](const std::string& key, const std::string& here,
                         const std::string& there) {
      const auto shown = [](const std::string& value) {
        return value.empty() ? message("nothing") : fmt::format("\"{}\"", value);
      };
      const std::string told = message("{}: {} here, {} there", key, shown(here), shown(there));
      const std::string place = message("header");
      found_.emplace(Place(0, -1), Difference{Aspect::header, told, place, place, {}, {}});
    };
    for (const auto& [key, value] : lines_a) {
      const auto other = lines_b.find(key);
      const std::string there = other == lines_b.end() ? std::string() : other->second;
      if (value != there) add(key, value, there);
    }
    for (const auto& [key, value] : lines_b) {
      if (!lines_a.contains(key)) add(key, {}, value);
    }
  }

  void compare_forms() {
    const std::vector<FormItem> items_a = form_items(a_);
    const std::vector<FormItem> items_b = form_items(b_);
    std::map<std::string, std::int64_t> numbers;
    const auto tokens = [&](const std::vector<FormItem>& items) {
      std::vector<Token> list;
      list.reserve(items.size());
      for (const FormItem& item : items) {
        list.push_back({number_of(item.text, numbers), 0, static_cast<std::int64_t>(item.measure)});
      }
      return list;
    };
    std::int64_t shift = 0;  // of bars, told when it changes
    for (const Pairing& pair : align(tokens(items_a), tokens(items_b))) {
      const FormItem* here = pair.a ? &items_a[*pair.a] : nullptr;
      const FormItem* there = pair.b ? &items_b[*pair.b] : nullptr;
      if (here == nullptr || there == nullptr || here->text != there->text) {
        add_form(here, there);
        continue;
      }
      const std::int64_t now =
          static_cast<std::int64_t>(there->measure) - static_cast<std::int64_t>(here->measure);
      if (now != shift || here->onset != there->onset) add_form(here, there);
      shift = now;
    }
  }

  void add_form(const FormItem* here, const FormItem* there) {
    add(Aspect::form,
        here == nullptr             ? message("{} only there", there->text)
        : there == nullptr          ? message("{} only here", here->text)
        : here->text == there->text ? message("{} at another place", here->text)
                                    : message("{} here, {} there", here->text, there->text),
        here, there);
  }

  // `here` and `there` are what differs, of which one may be null.
  template <typename Thing>
  void add(Aspect aspect, std::string text, const Thing* here, const Thing* there) {
    Difference difference{aspect, std::move(text), {}, {}, {}, {}};
    if (here != nullptr) {
      difference.place_a = place_text(a_, here->measure, here->onset);
      difference.where_a = here->source;
    }
    if (there != nullptr) {
      difference.place_b = place_text(b_, there->measure, there->onset);
      difference.where_b = there->source;
    }
    const Thing& first = here != nullptr ? *here : *there;
    found_.emplace(Place(first.measure, first.onset), std::move(difference));
  }

  // Where the speed changes, for a score that has tempos and no form beside them.
  static std::vector<const model::Direction*> speeds(const Score& score) {
    std::vector<const model::Direction*> speeds;
    model::Tempo last = score.header.tempo.value_or(model::kDefaultTempo);
    for (const model::Direction& direction : score.directions) {
      const auto* change = std::get_if<model::TempoChange>(&direction.value);
      if (change == nullptr || same_speed(change->tempo, last)) continue;
      last = change->tempo;
      speeds.push_back(&direction);
    }
    return speeds;
  }

  // The first difference; what follows it may be the same one.
  void compare_tempos() {
    const std::vector<const model::Direction*> here = speeds(a_);
    const std::vector<const model::Direction*> there = speeds(b_);
    const auto tempo_of = [](const model::Direction* direction) {
      return std::get<model::TempoChange>(direction->value).tempo;
    };
    const auto [x, y] = std::mismatch(
        here.begin(), here.end(), there.begin(), there.end(), [&](const auto* a, const auto* b) {
          return std::abs(later_by(*a, *b)) < kNearTempo && same_speed(tempo_of(a), tempo_of(b));
        });
    const model::Direction* one = x == here.end() ? nullptr : *x;
    const model::Direction* other = y == there.end() ? nullptr : *y;
    if (one == nullptr && other == nullptr) return;
    const auto told = [&](const model::Direction* change) {
      if (change == nullptr) return message("none");
      return to_text({tempo_of(change).quarters_per_minute(), Rational(1)}, Rational(0));
    };
    add(Aspect::header, message("change of tempo: {} here, {} there", told(one), told(other)), one,
        other);
  }

  // By how many quarters from the start `there` begins later.
  template <typename Thing>
  double later_by(const Thing& here, const Thing& there) const {
    return starts_b_[there.measure] + there.onset.as_double() -
           (starts_a_[here.measure] + here.onset.as_double());
  }

  std::vector<Token> note_tokens(const Score& score) {
    std::vector<Token> tokens;
    tokens.reserve(score.notes.size());
    for (const Note& note : score.notes) {
      tokens.push_back({std::llround(sounding_cents(note) / 100),
                        number_of(note.duration, lengths_), number_of(note.onset, lengths_)});
    }
    return tokens;
  }

  void compare_notes() {
    for (const Pairing& pair : align(note_tokens(a_), note_tokens(b_))) {
      const Note* here = pair.a ? &a_.notes[*pair.a] : nullptr;
      const Note* there = pair.b ? &b_.notes[*pair.b] : nullptr;
      if (here != nullptr && there != nullptr) {
        compare_pair(*here, *there);
        continue;
      }
      const Note& alone = here != nullptr ? *here : *there;
      const double length = alone.duration.as_double();
      explained_ += here != nullptr ? -length : length;
      add(Aspect::pitch,
          here != nullptr ? message("{} only here", whole_text(alone))
                          : message("{} only there", whole_text(alone)),
          here, there);
    }
  }

  // Whether a pair begins at another time than the pairs before let expect.
  bool is_shifted(const Note& here, const Note& there) {
    const double now = later_by(here, there);
    const double change = now - shift_;
    const bool told = std::abs(change) < kSameTime || std::abs(change - explained_) < kSameTime;
    shift_ = now;
    explained_ = 0;
    return !told;
  }

  std::string shift_text() const {
    if (std::abs(shift_) < kSameTime) return message("begins at its time again there");
    return shift_ > 0 ? message("begins {:g} quarters later there", shift_)
                      : message("begins {:g} quarters earlier there", -shift_);
  }

  void compare_pair(const Note& here, const Note& there) {
    const auto add = [&](Aspect aspect, std::string text) {
      this->add(aspect, std::move(text), &here, &there);
    };
    const auto compare_texts = [&](Aspect aspect, std::string_view what, const std::string& x,
                                   const std::string& y) {
      if (!wants(aspect) || x == y) return;
      add(aspect, message("{}: {} here, {} there", what, x.empty() ? message("none") : x,
                          y.empty() ? message("none") : y));
    };
    if (is_shifted(here, there) && wants(Aspect::onset)) add(Aspect::onset, shift_text());
    const double apart = sounding_cents(there) - sounding_cents(here);
    const bool other_pitch = wants(Aspect::pitch) && std::abs(apart) > options_.cents;
    if (other_pitch) {
      add(Aspect::pitch, message("{} here, {} there", whole_text(here), whole_text(there)));
    }
    if (wants(Aspect::duration) && here.duration != there.duration) {
      add(Aspect::duration, message("length: {} here, {} there, in quarters",
                                    to_text(here.duration), to_text(there.duration)));
      explained_ += there.duration.as_double() - here.duration.as_double();
    }
    // Another pitch has other fingers; that is one difference.
    if (!other_pitch) {
      compare_texts(Aspect::fingering, message("fingering"), fingering_text(here),
                    fingering_text(there));
    }
    compare_texts(Aspect::marks, message("marks"), marks_text(here), marks_text(there));
    compare_texts(Aspect::lyrics, message("song text"), lyrics_text(here), lyrics_text(there));
  }

  const Score& a_;
  const Score& b_;
  const CompareOptions& options_;
  std::vector<double> starts_a_ = measure_starts(a_);
  std::vector<double> starts_b_ = measure_starts(b_);
  double shift_ = 0;      // how much later the other score is by now, in quarters
  double explained_ = 0;  // by how much the differences since the last pair change that
  std::map<Rational, std::int64_t> lengths_;
  std::multimap<Place, Difference> found_;  // those at one place as they were found
};

}  // namespace

Aspects every_aspect() {
  Aspects all;
  for (const std::string_view word : kAspects.words()) all.insert(*kAspects.value_of(word));
  return all;
}

base::Diagnostics as_diagnostics(const std::vector<Difference>& differences,
                                 const base::SourceText& b) {
  base::Diagnostics found;
  for (const Difference& difference : differences) {
    std::optional<base::SourceRange> where = difference.where_a;
    if (where && where->end == 0) where.reset();
    const std::string here = difference.place_a.empty() ? "" : difference.place_a + ": ";
    std::string there = b.name();
    if (difference.where_b && difference.where_b->end > 0 && !b.text().empty()) {
      const base::Position at = b.position(difference.where_b->begin);
      there += fmt::format(":{}:{}", at.line, at.column);
    }
    if (!difference.place_b.empty()) there += ", " + difference.place_b;
    found.push_back(base::report(*comparison_rules()[static_cast<std::size_t>(difference.aspect)],
                                 where, here + difference.message, message("there: {}", there)));
  }
  return found;
}

std::vector<Difference> compare(const model::Score& a, const model::Score& b,
                                const CompareOptions& options) {
  const bool of_fingers =
      options.aspects.contains(Aspect::pitch) && options.aspects.contains(Aspect::fingering);
  const auto moved = of_fingers ? on_flute_of(a, b, options.cents) : std::nullopt;
  if (!moved) return Comparer(a, b, options).run();
  std::vector<Difference> found = Comparer(a, moved->score, options).run();
  found.insert(found.begin(), {Aspect::pitch, moved->told, {}, {}, {}, {}});
  return found;
}

}  // namespace yubifu::check
