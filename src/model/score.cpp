#include "model/score.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "base/numbers.h"

namespace yubifu::model {
namespace {

bool is_boundary(const Measure& measure) {
  return measure.repeat_end || measure.right != BarStyle::regular;
}

constexpr int kKeysOfOctave = 12;

// What parts a score, from the finest parts to the whole. A place is that before the measure of
// its number.
constexpr std::array<bool (*)(const Score&, std::size_t), 3> kBoundaries{
    [](const Score& score, std::size_t place) {
      return is_boundary(score.measures[place - 1]) || score.measures[place].repeat_start;
    },
    [](const Score& score, std::size_t place) {
      return score.measures[place - 1].right != BarStyle::regular;
    },
    [](const Score&, std::size_t) { return false; },
};

// A meter or an ending that begins or closes between two measures.
bool may_break_bars(const Score& score, std::size_t place) {
  const Measure& before = score.measures[place - 1];
  return before.meter != score.measures[place].meter || ending_starts(score, place) ||
         (ending_stops(score, place - 1) && !is_boundary(before));
}

}  // namespace

std::size_t flute_index(const Score& score, std::size_t measure) {
  const auto after =
      std::upper_bound(score.flutes.begin(), score.flutes.end(), measure,
                       [](std::size_t at, const FluteInUse& flute) { return at < flute.measure; });
  const auto count = static_cast<std::size_t>(after - score.flutes.begin());
  return count == 0 ? 0 : count - 1;
}

std::vector<double> measure_starts(const Score& score) {
  std::vector<double> starts;
  starts.reserve(score.measures.size());
  double now = 0;
  for (const Measure& measure : score.measures) {
    starts.push_back(now);
    now += measure.length.as_double();
  }
  return starts;
}

bool ending_starts(const Score& score, std::size_t measure) {
  const Measure& here = score.measures[measure];
  if (here.ending.empty()) return false;
  if (measure == 0) return true;
  const Measure& before = score.measures[measure - 1];
  return before.ending != here.ending || is_boundary(before);
}

bool ending_stops(const Score& score, std::size_t measure) {
  const Measure& here = score.measures[measure];
  if (here.ending.empty()) return false;
  return measure + 1 == score.measures.size() || is_boundary(here) ||
         score.measures[measure + 1].ending != here.ending;
}

bool lasts_less(const Measure& measure) {
  return !measure.meter.is_free() && measure.length < measure.meter.length();
}

bool is_short(const Measure& measure) {
  return !measure.irregular && lasts_less(measure);
}

bool complete_each_other(const Measure& a, const Measure& b) {
  if (!lasts_less(a) || !lasts_less(b) || a.meter != b.meter) return false;
  try {
    return a.length + b.length == a.meter.length();
  } catch (const TimeOverflow&) {
    return false;  // a sum so fine is no bar
  }
}

std::vector<std::size_t> partners_of_short(const Score& score, std::size_t measure) {
  const std::size_t count = score.measures.size();
  std::vector<std::size_t> partners;
  for (const auto is_boundary_at : kBoundaries) {
    const auto parted = [&](std::size_t place) {
      return place == 0 || place == count || is_boundary_at(score, place);
    };
    if (parted(measure)) {
      if (measure > 0) partners.push_back(measure - 1);
      std::size_t end = measure + 1;
      while (!parted(end)) ++end;
      partners.push_back(end - 1);
    }
    if (parted(measure + 1)) {
      if (measure + 1 < count) partners.push_back(measure + 1);
      std::size_t first = measure;
      while (!parted(first)) --first;
      partners.push_back(first);
    }
  }
  std::erase_if(partners, [&](std::size_t partner) {
    return partner == measure || !lasts_less(score.measures[partner]);
  });
  std::sort(partners.begin(), partners.end());
  partners.erase(std::unique(partners.begin(), partners.end()), partners.end());
  return partners;
}

bool may_be_short(const Score& score, std::size_t measure) {
  if (measure == 0 || may_break_bars(score, measure)) return true;
  if (measure + 1 < score.measures.size() && may_break_bars(score, measure + 1)) return true;
  const std::vector<std::size_t> partners = partners_of_short(score, measure);
  return std::any_of(partners.begin(), partners.end(), [&](std::size_t partner) {
    return complete_each_other(score.measures[measure], score.measures[partner]);
  });
}

bool needs_irregular(const Score& score, std::size_t measure) {
  const Measure& here = score.measures[measure];
  if (here.meter.is_free() || here.length == here.meter.length()) return false;
  return !lasts_less(here) || !may_be_short(score, measure);
}

void mark_irregular(Score& score) {
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    score.measures[i].irregular = needs_irregular(score, i);
  }
}

bool fraction_comes_first(const Score& score, std::size_t measure) {
  const Measure& here = score.measures[measure];
  if (!is_short(here)) return false;
  if (measure == 0) return true;
  const Measure& before = score.measures[measure - 1];
  return is_short(before) && (before.repeat_end || here.repeat_start) && before.meter == here.meter;
}

int verse_rank(std::string_view name) {
  constexpr int kLastVerse = 1'000'000;
  if (name == kShogaVerse) return kLastVerse;
  const auto number = base::whole_number(name).value_or(0);
  return number > 0 && number < kLastVerse && std::to_string(number) == name ? number : 0;
}

std::vector<std::string> verses_in_use(const Score& score) {
  std::set<std::pair<int, std::string>> used;
  for (const Note& note : score.notes) {
    for (const Syllable& syllable : note.syllables) {
      used.emplace(verse_rank(syllable.verse), syllable.verse);
    }
  }
  std::vector<std::string> names;
  for (const auto& [rank, name] : used) names.push_back(name);
  return names;
}

const Syllable* sung_in_pass(const Note& note, int pass) {
  const Syllable* found = nullptr;
  for (const Syllable& syllable : note.syllables) {
    if (syllable.verse == kShogaVerse) continue;
    if (found == nullptr || verse_rank(syllable.verse) <= pass) found = &syllable;
  }
  return found;
}

void number_measures(Score& score) {
  int number = !score.measures.empty() && is_short(score.measures[0]) ? 0 : 1;
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    const bool second_half = i > 1 && fraction_comes_first(score, i) &&
                             complete_each_other(score.measures[i - 1], score.measures[i]);
    if (second_half) --number;
    score.measures[i].number = std::to_string(number++);
  }
}

std::string measure_name(const Score& score, std::size_t measure) {
  const std::string& number = score.measures[measure].number;
  return number.empty() ? std::to_string(measure + 1) : number;
}

bool move_octaves(std::vector<Note>& notes, int octaves) {
  const int keys = kKeysOfOctave * octaves;
  const auto fits = [&](const Tone& tone) { return !tone.pitch || is_key(tone.pitch->key + keys); };
  for (const Note& note : notes) {
    if (!all_tones(note, fits)) return false;
  }
  const auto move = [&](Tone& tone) {
    if (tone.pitch) tone.pitch->key += keys;
    if (tone.spelling) tone.spelling->octave += octaves;
  };
  for (Note& note : notes) for_each_tone(note, move);
  return true;
}

void move_keys(Score& score, int semitones) {
  if (score.header.key) score.header.key = moved_key(*score.header.key, semitones);
  for (Direction& direction : score.directions) {
    auto* change = std::get_if<KeyChange>(&direction.value);
    if (change != nullptr) change->key = moved_key(change->key, semitones);
  }
}

void gather_start_into_header(Score& score) {
  if (score.measures.empty()) return;
  const Measure& first = score.measures[0];
  score.header.meter = first.meter;
  score.header.beat.reset();
  if (first.beat != default_beat(first.meter)) score.header.beat = first.beat;
  const auto moved = [&](const Direction& direction) {
    if (direction.measure != 0 || direction.onset != Rational(0)) return false;
    if (const auto* tempo = std::get_if<TempoChange>(&direction.value)) {
      score.header.tempo = tempo->tempo;
    } else if (const auto* key = std::get_if<KeyChange>(&direction.value)) {
      score.header.key = key->key;
    } else if (const auto* flute = std::get_if<FluteChange>(&direction.value)) {
      score.header.flute = flute->flute;
    } else {
      return false;
    }
    return true;
  };
  std::erase_if(score.directions, moved);
}

std::optional<base::SourceRange> place_of(const Measure& measure) {
  return measure.source == base::SourceRange{} ? std::nullopt : std::optional(measure.source);
}

base::Diagnostic report_measure(const base::Rule& rule, const Measure& measure, std::string message,
                                std::string hint) {
  std::vector<std::string> measures;
  if (!measure.number.empty()) measures.push_back(measure.number);
  return base::report(rule, place_of(measure), std::move(message), std::move(hint),
                      std::move(measures));
}

}  // namespace yubifu::model
