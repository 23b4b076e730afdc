#include "model/direction.h"

#include <algorithm>
#include <array>
#include <type_traits>

#include "base/word_table.h"

namespace yubifu::model {
namespace {

// The value around what a parser made of the text, if it made anything.
template <typename Direction, typename Parsed>
std::optional<DirectionValue> wrapped(const std::optional<Parsed>& parsed) {
  std::optional<DirectionValue> value;
  if (parsed) value.emplace(Direction{*parsed});
  return value;
}

// A kind with a value: how that is written and read.
struct ValuedKind {
  DirectionKind kind;
  std::string (*text)(const DirectionValue&);
  std::optional<DirectionValue> (*parse)(const std::string&, Rational tempo_unit);
};

template <typename Direction, std::string Direction::*member>
constexpr ValuedKind free_kind(PlaceInMeasure place) {
  return {
      {Direction::kWord, place, AtOnePlace::many},
      [](const DirectionValue& value) { return std::get<Direction>(value).*member; },
      [](const std::string& text, Rational) { return wrapped<Direction>(std::optional(text)); }};
}

// In the order of the variant.
constexpr std::array kValued = std::to_array<ValuedKind>({
    {{TempoChange::kWord, PlaceInMeasure::anywhere, AtOnePlace::one},
     [](const DirectionValue& value) { return exact_text(std::get<TempoChange>(value).tempo); },
     [](const std::string& text, Rational unit) {
       return wrapped<TempoChange>(parse_exact_tempo(text, unit));
     }},
    {{BeatChange::kWord, PlaceInMeasure::inside, AtOnePlace::one},
     [](const DirectionValue& value) { return beat_text(std::get<BeatChange>(value).beat); },
     [](const std::string& text, Rational) { return wrapped<BeatChange>(parse_beat(text)); }},
    {{KeyChange::kWord, PlaceInMeasure::anywhere, AtOnePlace::one},
     [](const DirectionValue& value) { return to_text(std::get<KeyChange>(value).key); },
     [](const std::string& text, Rational) { return wrapped<KeyChange>(parse_key(text)); }},
    {{FluteChange::kWord, PlaceInMeasure::start, AtOnePlace::one},
     [](const DirectionValue& value) { return to_text(std::get<FluteChange>(value).flute); },
     [](const std::string& text, Rational) {
       return wrapped<FluteChange>(parse_flute_name(text));
     }},
    free_kind<SectionStart, &SectionStart::name>(PlaceInMeasure::start),
    free_kind<TextDirection, &TextDirection::text>(PlaceInMeasure::anywhere),
    free_kind<Dynamic, &Dynamic::level>(PlaceInMeasure::anywhere),
});
static_assert(kValued.size() + 1 == std::variant_size_v<DirectionValue>);

struct CueKind {
  Cue cue;
  std::string_view word;
  PlaceInMeasure place;
  std::string_view printed;
};

constexpr std::array kCues = std::to_array<CueKind>({
    {Cue::segno, "segno", PlaceInMeasure::start, ""},
    {Cue::coda, "coda", PlaceInMeasure::start, ""},
    {Cue::fine, "fine", PlaceInMeasure::end, "Fine"},
    {Cue::da_capo, "dc", PlaceInMeasure::end, "D.C."},
    {Cue::dal_segno, "ds", PlaceInMeasure::end, "D.S."},
    {Cue::to_coda, "to-coda", PlaceInMeasure::end, "To Coda"},
    {Cue::until_cue, "until-cue", PlaceInMeasure::end, "until cue"},
    {Cue::rit, "rit", PlaceInMeasure::anywhere, "rit."},
    {Cue::accel, "accel", PlaceInMeasure::anywhere, "accel."},
    {Cue::a_tempo, "a-tempo", PlaceInMeasure::anywhere, "a tempo"},
    {Cue::caesura, "caesura", PlaceInMeasure::anywhere, "//"},
});

const CueKind& row_of(Cue cue) {
  return *std::find_if(kCues.begin(), kCues.end(),
                       [&](const CueKind& row) { return row.cue == cue; });
}

template <typename Value>
auto* text_inside(Value& value) {
  using Text = std::conditional_t<std::is_const_v<Value>, const std::string, std::string>;
  Text* text = nullptr;
  if (auto* section = std::get_if<SectionStart>(&value)) text = &section->name;
  if (auto* words = std::get_if<TextDirection>(&value)) text = &words->text;
  if (auto* dynamic = std::get_if<Dynamic>(&value)) text = &dynamic->level;
  return text;
}

using Meaning = std::optional<DynamicMeaning>;

constexpr Meaning level(int steps) {
  return DynamicMeaning{steps, false};
}
constexpr Meaning kForced = DynamicMeaning{std::nullopt, true};
constexpr Meaning kForcedThenPiano = DynamicMeaning{-2, true};
constexpr Meaning kForcedThenPianissimo = DynamicMeaning{-3, true};

// Of two words equally near to a misspelled one the first is offered.
constexpr auto kDynamics = base::word_table<Meaning>({
    {std::nullopt, "n"},
    {level(-5), "pppp"},
    {level(-4), "ppp"},
    {level(-3), "pp"},
    {level(-2), "p"},
    {level(-1), "mp"},
    {level(0), "mf"},
    {level(1), "f"},
    {level(2), "ff"},
    {level(3), "fff"},
    {level(4), "ffff"},
    {kForcedThenPiano, "fp"},
    {std::nullopt, "pf"},
    {kForced, "sf"},
    {kForcedThenPiano, "sfp"},
    {kForcedThenPianissimo, "sfpp"},
    {kForced, "sfz"},
    {kForced, "sffz"},
    {kForcedThenPiano, "sfzp"},
    {kForced, "fz"},
    {kForced, "rf"},
    {kForced, "rfz"},
    {level(-6), "ppppp"},
    {level(-7), "pppppp"},
    {level(5), "fffff"},
    {level(6), "ffffff"},
});

}  // namespace

DirectionKind kind_of(const DirectionValue& value) {
  if (const auto* cue = std::get_if<Cue>(&value)) {
    const CueKind& row = row_of(*cue);
    return {row.word, row.place, AtOnePlace::many};
  }
  return kValued[value.index()].kind;
}

std::optional<DirectionKind> direction_kind(std::string_view word) {
  if (const auto cue = cue_named(word)) return kind_of(*cue);
  for (const ValuedKind& valued : kValued) {
    if (valued.kind.word == word) return valued.kind;
  }
  return std::nullopt;
}

std::string_view word_of(const DirectionValue& value) {
  return kind_of(value).word;
}

std::string_view word_of(Cue cue) {
  return row_of(cue).word;
}

std::optional<Cue> cue_named(std::string_view word) {
  for (const CueKind& row : kCues) {
    if (row.word == word) return row.cue;
  }
  return std::nullopt;
}

std::vector<std::string_view> direction_words() {
  std::vector<std::string_view> words;
  for (const ValuedKind& valued : kValued) words.push_back(valued.kind.word);
  for (const CueKind& row : kCues) words.push_back(row.word);
  return words;
}

std::string value_text(const DirectionValue& value) {
  return std::holds_alternative<Cue>(value) ? std::string() : kValued[value.index()].text(value);
}

std::optional<DirectionValue> parse_direction(std::string_view word, const std::string& text,
                                              Rational tempo_unit) {
  for (const ValuedKind& valued : kValued) {
    if (valued.kind.word == word) return valued.parse(text, tempo_unit);
  }
  std::optional<DirectionValue> value;
  if (const auto cue = cue_named(word); cue && text.empty()) value.emplace(*cue);
  return value;
}

std::string* free_text(DirectionValue& value) {
  return text_inside(value);
}

const std::string* free_text(const DirectionValue& value) {
  return text_inside(value);
}

std::string_view printed(Cue cue) {
  return row_of(cue).printed;
}

std::optional<DynamicMeaning> dynamic_meaning(std::string_view level) {
  return kDynamics.value_of(level).value_or(std::nullopt);
}

std::vector<std::string_view> dynamic_words() {
  return kDynamics.words();
}

}  // namespace yubifu::model
