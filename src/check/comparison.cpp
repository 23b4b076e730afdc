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

// Where one side has a difference: "bar 3, beat 2" and its source, as far as it has them.
struct Spot {
  std::string place = {};
  base::SourceRange source = {};
};

base::Diagnostic difference(Aspect aspect, const std::string& text, const Spot& a, const Spot& b,
                            const base::SourceText& b_source) {
  std::string there = b_source.name();
  if (b.source.end > 0 && !b_source.text().empty()) {
    const base::Position at = b_source.position(b.source.begin);
    there += fmt::format(":{}:{}", at.line, at.column);
  }
  if (!b.place.empty()) there += ", " + b.place;
  return base::report(*comparison_rules()[static_cast<std::size_t>(aspect)],
                      a.source.end > 0 ? std::optional(a.source) : std::nullopt,
                      a.place.empty() ? text : a.place + ": " + text, message("there: {}", there));
}

struct Comparer {
  using Place = std::pair<std::size_t, Rational>;  // a measure and an onset in it

  const Score& first;
  const Score& second;
  const CompareOptions& options;
  const base::SourceText& second_source;
  std::vector<double> first_starts = measure_starts(first);
  std::vector<double> second_starts = measure_starts(second);
  double shift = 0;      // how much later the second score is by now, in quarters
  double explained = 0;  // by how much the differences since the last pair change that
  std::map<Rational, std::int64_t> lengths = {};
  std::multimap<Place, base::Diagnostic> found = {};  // those at one place as they were found

  base::Diagnostics run() {
    if (wants(Aspect::header)) compare_headers();
    if (wants(Aspect::form)) {
      compare_forms();
    } else if (wants(Aspect::header)) {
      compare_tempos();
    }
    compare_notes();
    base::Diagnostics differences;
    for (auto& [place, told] : found) differences.push_back(std::move(told));
    return differences;
  }

  bool wants(Aspect aspect) const { return options.aspects.contains(aspect); }

  void compare_headers() {
    auto lines_a = header_lines(first);
    auto lines_b = header_lines(second);
    if (same_speed(first.header.tempo.value_or(model::kDefaultTempo),
                   second.header.tempo.value_or(model::kDefaultTempo))) {
      lines_a.erase("tempo");
      lines_b.erase("tempo");
    }
    const auto add = [&](const std::string& key, const std::string& here,
                         const std::string& there) {
      const auto shown = [](const std::string& value) {
        return value.empty() ? message("nothing") : fmt::format("\"{}\"", value);
      };
      const std::string told = message("{}: {} here, {} there", key, shown(here), shown(there));
      const Spot spot{message("header"), {}};
      found.emplace(Place(0, -1), difference(Aspect::header, told, spot, spot, second_source));
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
    const std::vector<FormItem> items_a = form_items(first);
    const std::vector<FormItem> items_b = form_items(second);
    std::map<std::string, std::int64_t> numbers;
    const auto tokens = [&](const std::vector<FormItem>& items) {
      std::vector<Token> list;
      list.reserve(items.size());
      for (const FormItem& item : items) {
        list.push_back({number_of(item.text, numbers), 0, static_cast<std::int64_t>(item.measure)});
      }
      return list;
    };
    std::int64_t bars = 0;  // by which the second is later, told when it changes
    for (const Pairing& pair : align(tokens(items_a), tokens(items_b))) {
      const FormItem* here = pair.a ? &items_a[*pair.a] : nullptr;
      const FormItem* there = pair.b ? &items_b[*pair.b] : nullptr;
      if (here == nullptr || there == nullptr || here->text != there->text) {
        add_form(here, there);
        continue;
      }
      const std::int64_t now =
          static_cast<std::int64_t>(there->measure) - static_cast<std::int64_t>(here->measure);
      if (now != bars || here->onset != there->onset) add_form(here, there);
      bars = now;
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
  void add(Aspect aspect, const std::string& text, const Thing* here, const Thing* there) {
    const auto spot = [](const Score& score, const Thing* thing) {
      return thing == nullptr
                 ? Spot()
                 : Spot{place_text(score, thing->measure, thing->onset), thing->source};
    };
    const Thing& at = here != nullptr ? *here : *there;
    found.emplace(Place(at.measure, at.onset),
                  difference(aspect, text, spot(first, here), spot(second, there), second_source));
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
    const std::vector<const model::Direction*> here = speeds(first);
    const std::vector<const model::Direction*> there = speeds(second);
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
    return second_starts[there.measure] + there.onset.as_double() -
           (first_starts[here.measure] + here.onset.as_double());
  }

  std::vector<Token> note_tokens(const Score& score) {
    std::vector<Token> tokens;
    tokens.reserve(score.notes.size());
    for (const Note& note : score.notes) {
      tokens.push_back({std::llround(sounding_cents(note) / 100), number_of(note.duration, lengths),
                        number_of(note.onset, lengths)});
    }
    return tokens;
  }

  void compare_notes() {
    for (const Pairing& pair : align(note_tokens(first), note_tokens(second))) {
      const Note* here = pair.a ? &first.notes[*pair.a] : nullptr;
      const Note* there = pair.b ? &second.notes[*pair.b] : nullptr;
      if (here != nullptr && there != nullptr) {
        compare_pair(*here, *there);
        continue;
      }
      const Note& alone = here != nullptr ? *here : *there;
      const double length = alone.duration.as_double();
      explained += here != nullptr ? -length : length;
      add(Aspect::pitch,
          here != nullptr ? message("{} only here", whole_text(alone))
                          : message("{} only there", whole_text(alone)),
          here, there);
    }
  }

  // Whether a pair begins at another time than the pairs before let expect.
  bool is_shifted(const Note& here, const Note& there) {
    const double now = later_by(here, there);
    const double change = now - shift;
    const bool told = std::abs(change) < kSameTime || std::abs(change - explained) < kSameTime;
    shift = now;
    explained = 0;
    return !told;
  }

  std::string shift_text() const {
    if (std::abs(shift) < kSameTime) return message("begins at its time again there");
    return shift > 0 ? message("begins {:g} quarters later there", shift)
                     : message("begins {:g} quarters earlier there", -shift);
  }

  void compare_pair(const Note& here, const Note& there) {
    const auto add = [&](Aspect aspect, const std::string& text) {
      this->add(aspect, text, &here, &there);
    };
    const auto compare_texts = [&](Aspect aspect, std::string_view what, const std::string& x,
                                   const std::string& y) {
      if (!wants(aspect) || x == y) return;
      add(aspect, message("{}: {} here, {} there", what, x.empty() ? message("none") : x,
                          y.empty() ? message("none") : y));
    };
    if (is_shifted(here, there) && wants(Aspect::onset)) add(Aspect::onset, shift_text());
    const double apart = sounding_cents(there) - sounding_cents(here);
    const bool other_pitch = wants(Aspect::pitch) && std::abs(apart) > options.cents;
    if (other_pitch) {
      add(Aspect::pitch, message("{} here, {} there", whole_text(here), whole_text(there)));
    }
    if (wants(Aspect::duration) && here.duration != there.duration) {
      add(Aspect::duration, message("length: {} here, {} there, in quarters",
                                    to_text(here.duration), to_text(there.duration)));
      explained += there.duration.as_double() - here.duration.as_double();
    }
    // Another pitch has other fingers; that is one difference.
    if (!other_pitch) {
      compare_texts(Aspect::fingering, message("fingering"), fingering_text(here),
                    fingering_text(there));
    }
    compare_texts(Aspect::marks, message("marks"), marks_text(here), marks_text(there));
    compare_texts(Aspect::lyrics, message("song text"), lyrics_text(here), lyrics_text(there));
  }
};

}  // namespace

Aspects every_aspect() {
  Aspects all;
  for (const std::string_view word : kAspects.words()) all.insert(*kAspects.value_of(word));
  return all;
}

base::Diagnostics compare(const model::Score& a, const model::Score& b,
                          const CompareOptions& options, const base::SourceText& b_source) {
  const bool of_fingers =
      options.aspects.contains(Aspect::pitch) && options.aspects.contains(Aspect::fingering);
  const auto moved = of_fingers ? on_flute_of(a, b, options.cents) : std::nullopt;
  if (!moved) return Comparer{a, b, options, b_source}.run();
  base::Diagnostics found = Comparer{a, moved->score, options, b_source}.run();
  found.insert(found.begin(), difference(Aspect::pitch, moved->told, {}, {}, b_source));
  return found;
}

}  // namespace yubifu::check
