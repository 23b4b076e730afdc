#include "support/same_music.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <type_traits>
#include <utility>

#include <fmt/format.h>

#include "model/note.h"
#include "model/words.h"

namespace yubifu::support {
namespace {

using namespace model;

// Two pitches this far apart are still the same.
constexpr double kCentsApart = 1.0;

std::string told(bool value) {
  return value ? "yes" : "no";
}
std::string told(const std::string& value) {
  return '"' + value + '"';
}
std::string told(Rational value) {
  return to_text(value);
}
std::string told(std::size_t value) {
  return std::to_string(value);
}
std::string told(int value) {
  return std::to_string(value);
}
std::string told(double value) {
  return fmt::format("{}", value);
}
std::string told(const Meter& value) {
  return to_text(value);
}
std::string told(const Tempo& value) {
  return to_text(value, 0);
}
std::string told(const Key& value) {
  return to_text(value);
}
std::string told(const FluteName& value) {
  return to_text(value);
}
std::string told(const HolePattern& value) {
  return printed(value);
}
std::string told(const HeaderField& value) {
  return fmt::format("\"{}: {}\"", value.key, value.value);
}
std::string told(StaffMode value) {
  return std::string(word_of(value));
}
std::string told(ZeroSign value) {
  return std::string(word_of(value));
}
std::string told(BarStyle value) {
  return value == BarStyle::regular ? "regular" : value == BarStyle::section ? "section" : "final";
}
std::string told(Mark value) {
  return std::string(word_of(value));
}

std::string told(const DirectionValue& value) {
  return std::visit(
      [](const auto& direction) -> std::string {
        using T = std::decay_t<decltype(direction)>;
        if constexpr (std::is_same_v<T, TempoChange>) {
          return "tempo " + told(direction.tempo);
        } else if constexpr (std::is_same_v<T, BeatChange>) {
          return "beat " + beat_text(direction.beat);
        } else if constexpr (std::is_same_v<T, KeyChange>) {
          return "key " + told(direction.key);
        } else if constexpr (std::is_same_v<T, FluteChange>) {
          return "flute " + told(direction.flute);
        } else if constexpr (std::is_same_v<T, SectionStart>) {
          return "section " + told(direction.name);
        } else if constexpr (std::is_same_v<T, TextDirection>) {
          return "text " + told(direction.text);
        } else if constexpr (std::is_same_v<T, Dynamic>) {
          return "dyn " + told(direction.level);
        } else {
          return std::string(word_of(direction));
        }
      },
      value);
}

std::string told(const Syllable& value) {
  return fmt::format("{} ({}, verse {})", value.extends ? "~" : told(value.text),
                     word_of(value.kind), value.verse);
}

std::string told(const Pitch& value) {
  return fmt::format("key {} {:+.1f} cents", value.key, value.cents);
}

// What of a tone the fingering text holds: the fingering, for a gap the spelling, and for a note
// not yet fingered the pitch.
std::string told(const Tone& value) {
  if (!value.fingering) return value.pitch ? told(*value.pitch) : "no fingering";
  return printed(value);
}

bool same_pitch(const std::optional<Pitch>& a, const std::optional<Pitch>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return std::abs(a->total_cents() - b->total_cents()) <= kCentsApart;
}

template <typename T>
std::string told(const std::optional<T>& value) {
  return value ? told(*value) : "nothing";
}

template <typename T>
bool same(const T& a, const T& b) {
  return a == b;
}

bool same(const Tone& a, const Tone& b) {
  if (a.fingering != b.fingering) return false;
  if (!a.fingering) return same_pitch(a.pitch, b.pitch);
  return !a.fingering->is_gap() || a.spelling == b.spelling;
}

// Walks both scores and keeps the first difference; later ones are ignored.
class Comparison {
 public:
  Comparison(const Score& a, const Score& b) : a_(a), b_(b) {}

  std::optional<std::string> everything() {
    header();
    for (std::size_t i = 0; i < std::min(a_.measures.size(), b_.measures.size()); ++i) measure(i);
    value("score", "number of measures", a_.measures.size(), b_.measures.size());
    list("score", "verse", a_.verses, b_.verses);
    notes();
    rests();
    directions();
    return found_;
  }

  std::optional<std::string> pitch_and_time() {
    Rational start_a;
    Rational start_b;
    std::size_t measure_a = 0;
    std::size_t measure_b = 0;
    for (std::size_t i = 0; i < std::min(a_.notes.size(), b_.notes.size()) && !found_; ++i) {
      const Note& a = a_.notes[i];
      const Note& b = b_.notes[i];
      for (; measure_a < a.measure; ++measure_a) start_a += a_.measures[measure_a].length;
      for (; measure_b < b.measure; ++measure_b) start_b += b_.measures[measure_b].length;
      // Only how far the two starts are apart matters, and that stays small.
      const Rational common = std::min(start_a, start_b);
      start_a -= common;
      start_b -= common;
      const std::string where = place("note", i, a.measure);
      value(where, "onset", start_a + a.onset, start_b + b.onset);
      value(where, "duration", a.duration, b.duration);
      pitch(where, a.tone, b.tone);
    }
    value("score", "number of notes", a_.notes.size(), b_.notes.size());
    return found_;
  }

 private:
  template <typename T>
  void value(const std::string& where, std::string_view what, const T& a, const T& b) {
    if (found_ || same(a, b)) return;
    found_ =
        fmt::format("{}: the {} is {} in one and {} in the other", where, what, told(a), told(b));
  }

  template <typename T>
  void list(const std::string& where, std::string_view what, const std::vector<T>& a,
            const std::vector<T>& b) {
    for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) {
      value(where, fmt::format("{} {}", what, i + 1), a[i], b[i]);
    }
    value(where, fmt::format("count of each {}", what), a.size(), b.size());
  }

  std::string place(std::string_view what, std::size_t index, std::size_t measure) const {
    const std::string name = fmt::format("{} {}", what, index + 1);
    if (measure >= a_.measures.size()) return name;
    const std::string& number = a_.measures[measure].number;
    return number.empty() ? name : fmt::format("measure {}, {}", number, name);
  }

  void header() {
    const Header& a = a_.header;
    const Header& b = b_.header;
    const std::string where = "header";
    value(where, "title", a.title, b.title);
    value(where, "subtitle", a.subtitle, b.subtitle);
    value(where, "composer", a.composer, b.composer);
    value(where, "lyricist", a.lyricist, b.lyricist);
    value(where, "source", a.source, b.source);
    value(where, "rights", a.rights, b.rights);
    value(where, "flute", a.flute, b.flute);
    value(where, "tuning", a.tuning_hz, b.tuning_hz);
    value(where, "meter", a.meter, b.meter);
    value(where, "beat", a.beat, b.beat);
    value(where, "tempo", a.tempo, b.tempo);
    value(where, "key", a.key, b.key);
    value(where, "staff", a.staff, b.staff);
    value(where, "zero", a.zero, b.zero);
    list(where, "further field", a.unknown, b.unknown);
  }

  void measure(std::size_t i) {
    const Measure& a = a_.measures[i];
    const Measure& b = b_.measures[i];
    const std::string where = a.number.empty() ? fmt::format("measure {} of the score", i + 1)
                                               : fmt::format("measure {}", a.number);
    value(where, "length", a.length, b.length);
    value(where, "meter", a.meter, b.meter);
    value(where, "beat", a.beat, b.beat);
    value(where, "irregular length", a.irregular, b.irregular);
    value(where, "start of a repeat", a.repeat_start, b.repeat_start);
    value(where, "end of a repeat", a.repeat_end, b.repeat_end);
    value(where, "number of times", a.times, b.times);
    value(where, "bar line", a.right, b.right);
    list(where, "ending number", a.ending, b.ending);
  }

  // What stands in measures, one by one: its place, and what `further` compares.
  template <typename T, typename Further>
  void placed(std::string_view what, const std::vector<T>& all_a, const std::vector<T>& all_b,
              const Further& further) {
    for (std::size_t i = 0; i < std::min(all_a.size(), all_b.size()) && !found_; ++i) {
      const T& a = all_a[i];
      const T& b = all_b[i];
      const std::string where = place(what, i, a.measure);
      value(where, "measure index", a.measure, b.measure);
      value(where, "onset", a.onset, b.onset);
      further(where, a, b);
    }
    value("score", fmt::format("number of {}s", what), all_a.size(), all_b.size());
  }

  void notes() {
    placed("note", a_.notes, b_.notes, [this](const auto& where, const Note& a, const Note& b) {
      value(where, "duration", a.duration, b.duration);
      value(where, "sign", a.tone, b.tone);
      value(where, "asked pattern", a.asked_holes, b.asked_holes);
      list(where, "mark", a.marks, b.marks);
      list(where, "grace note before", a.grace_before, b.grace_before);
      list(where, "grace note after", a.grace_after, b.grace_after);
      value(where, "slur", a.slur_to_next, b.slur_to_next);
      list(where, "syllable", a.syllables, b.syllables);
    });
  }

  void rests() {
    placed("marked rest", a_.rests, b_.rests,
           [this](const auto& where, const Rest& a, const Rest& b) {
             list(where, "mark", a.marks, b.marks);
           });
  }

  void directions() {
    placed("direction", a_.directions, b_.directions,
           [this](const auto& where, const Direction& a, const Direction& b) {
             value(where, "direction", a.value, b.value);
           });
  }

  // A note without a pitch cannot be told to be the same, not even when both lack it.
  void pitch(const std::string& where, const Tone& a, const Tone& b) {
    if (found_) return;
    if (!a.pitch || !b.pitch) {
      found_ = fmt::format("{}: no pitch is known for it", where);
    } else if (!same_pitch(a.pitch, b.pitch)) {
      found_ = fmt::format("{}: the pitch is {} in one and {} in the other", where, told(*a.pitch),
                           told(*b.pitch));
    }
  }

  const Score& a_;
  const Score& b_;
  std::optional<std::string> found_;
};

}  // namespace

std::optional<std::string> first_difference(const Score& a, const Score& b, Sameness sameness) {
  Comparison comparison(a, b);
  return sameness == Sameness::everything ? comparison.everything() : comparison.pitch_and_time();
}

}  // namespace yubifu::support
