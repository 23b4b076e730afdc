#include "model/direction.h"

#include <array>

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
  DirectionKind kind;
  std::string_view printed;
};

constexpr std::array kCues = std::to_array<CueKind>({
    {Cue::segno, {"segno", PlaceInMeasure::start, AtOnePlace::many}, ""},
    {Cue::coda, {"coda", PlaceInMeasure::start, AtOnePlace::many}, ""},
    {Cue::fine, {"fine", PlaceInMeasure::end, AtOnePlace::many}, "Fine"},
    {Cue::da_capo, {"dc", PlaceInMeasure::end, AtOnePlace::many}, "D.C."},
    {Cue::dal_segno, {"ds", PlaceInMeasure::end, AtOnePlace::many}, "D.S."},
    {Cue::to_coda, {"to-coda", PlaceInMeasure::end, AtOnePlace::many}, "To Coda"},
    {Cue::until_cue, {"until-cue", PlaceInMeasure::end, AtOnePlace::many}, "until cue"},
    {Cue::rit, {"rit", PlaceInMeasure::anywhere, AtOnePlace::many}, "rit."},
    {Cue::accel, {"accel", PlaceInMeasure::anywhere, AtOnePlace::many}, "accel."},
    {Cue::a_tempo, {"a-tempo", PlaceInMeasure::anywhere, AtOnePlace::many}, "a tempo"},
    {Cue::caesura, {"caesura", PlaceInMeasure::anywhere, AtOnePlace::many}, "//"},
});
static_assert(base::is_in_order(kCues, &CueKind::cue));

const CueKind& row_of(Cue cue) {
  return kCues[static_cast<std::size_t>(cue)];
}

using Meaning = std::optional<DynamicMeaning>;

constexpr Meaning kForced = DynamicMeaning{std::nullopt, true};
constexpr Meaning kForcedThenPiano = DynamicMeaning{-2, true};
constexpr Meaning kForcedThenPianissimo = DynamicMeaning{-3, true};

// Of two words equally near to a misspelled one the first is offered.
constexpr auto kDynamics = base::word_table<Meaning>({
    {std::nullopt, "n"},
    {DynamicMeaning{-5}, "pppp"},
    {DynamicMeaning{-4}, "ppp"},
    {DynamicMeaning{-3}, "pp"},
    {DynamicMeaning{-2}, "p"},
    {DynamicMeaning{-1}, "mp"},
    {DynamicMeaning{0}, "mf"},
    {DynamicMeaning{1}, "f"},
    {DynamicMeaning{2}, "ff"},
    {DynamicMeaning{3}, "fff"},
    {DynamicMeaning{4}, "ffff"},
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
    {DynamicMeaning{-6}, "ppppp"},
    {DynamicMeaning{-7}, "pppppp"},
    {DynamicMeaning{5}, "fffff"},
    {DynamicMeaning{6}, "ffffff"},
});

}  // namespace

DirectionKind kind_of(const DirectionValue& value) {
  if (const auto* cue = std::get_if<Cue>(&value)) return row_of(*cue).kind;
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
  return row_of(cue).kind.word;
}

std::optional<Cue> cue_named(std::string_view word) {
  for (const CueKind& row : kCues) {
    if (row.kind.word == word) return row.cue;
  }
  return std::nullopt;
}

std::vector<std::string_view> direction_words() {
  std::vector<std::string_view> words;
  for (const ValuedKind& valued : kValued) words.push_back(valued.kind.word);
  for (const CueKind& row : kCues) words.push_back(row.kind.word);
  return words;
}

bool holds_on(const DirectionValue& value) {
  return std::holds_alternative<TempoChange>(value) || std::holds_alternative<KeyChange>(value) ||
         std::holds_alternative<FluteChange>(value);
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

const std::string* free_text(const DirectionValue& value) {
  if (const auto* section = std::get_if<SectionStart>(&value)) return &section->name;
  if (const auto* words = std::get_if<TextDirection>(&value)) return &words->text;
  const auto* dynamic = std::get_if<Dynamic>(&value);
  return dynamic == nullptr ? nullptr : &dynamic->level;
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
