#include "model/words.h"

#include <type_traits>

#include "base/word_table.h"

namespace yubifu::model {
namespace {

constexpr auto kMarks = base::word_table<Mark>({
    {Mark::fermata, "fermata"},
    {Mark::breath, "breath"},
    {Mark::optional_breath, "breath?"},
    {Mark::uchi, "uchi"},
    {Mark::age, "age"},
    {Mark::suri, "suri"},
    {Mark::yuri, "yuri"},
    {Mark::trill, "trill"},
    {Mark::accent, "accent"},
    {Mark::staccato, "staccato"},
    {Mark::tenuto, "tenuto"},
});

constexpr auto kCues = base::word_table<Cue>({
    {Cue::segno, "segno"},
    {Cue::coda, "coda"},
    {Cue::fine, "fine"},
    {Cue::da_capo, "dc"},
    {Cue::dal_segno, "ds"},
    {Cue::to_coda, "to-coda"},
    {Cue::until_cue, "until-cue"},
    {Cue::rit, "rit"},
    {Cue::accel, "accel"},
    {Cue::a_tempo, "a-tempo"},
    {Cue::caesura, "caesura"},
});

constexpr auto kSyllableKinds = base::word_table<SyllableKind>({
    {SyllableKind::single, "single"},
    {SyllableKind::begin, "begin"},
    {SyllableKind::middle, "middle"},
    {SyllableKind::end, "end"},
});

constexpr auto kStaffModes = base::word_table<StaffMode>({
    {StaffMode::in_c, "in-c"},
    {StaffMode::sounding, "sounding"},
});

constexpr auto kZeroSigns = base::word_table<ZeroSign>({
    {ZeroSign::cross, "cross"},
    {ZeroSign::tube, "tube"},
});

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

std::string_view word_of(Mark mark) {
  return kMarks.word_of(mark);
}

std::optional<Mark> mark_named(std::string_view word) {
  return kMarks.value_of(word);
}

std::vector<std::string_view> mark_words() {
  return kMarks.words();
}

std::string_view word_of(Cue cue) {
  return kCues.word_of(cue);
}

std::optional<Cue> cue_named(std::string_view word) {
  return kCues.value_of(word);
}

std::vector<std::string_view> cue_words() {
  return kCues.words();
}

std::string_view word_of(const DirectionValue& value) {
  return std::visit(
      [](const auto& direction) {
        using T = std::decay_t<decltype(direction)>;
        if constexpr (std::is_same_v<T, Cue>) {
          return word_of(direction);
        } else {
          return T::kWord;
        }
      },
      value);
}

std::string_view word_of(SyllableKind kind) {
  return kSyllableKinds.word_of(kind);
}

std::optional<SyllableKind> syllable_kind_named(std::string_view word) {
  return kSyllableKinds.value_of(word);
}

std::vector<std::string_view> syllable_kind_words() {
  return kSyllableKinds.words();
}

std::string_view word_of(StaffMode mode) {
  return kStaffModes.word_of(mode);
}

std::optional<StaffMode> staff_mode_named(std::string_view word) {
  return kStaffModes.value_of(word);
}

std::string_view word_of(ZeroSign zero) {
  return kZeroSigns.word_of(zero);
}

std::optional<ZeroSign> zero_sign_named(std::string_view word) {
  return kZeroSigns.value_of(word);
}

std::optional<DynamicMeaning> dynamic_meaning(std::string_view level) {
  return kDynamics.value_of(level).value_or(std::nullopt);
}

std::vector<std::string_view> dynamic_words() {
  return kDynamics.words();
}

PlaceInMeasure place_in_measure(Cue cue) {
  switch (cue) {
    case Cue::segno:
    case Cue::coda:
      return PlaceInMeasure::start;
    case Cue::fine:
    case Cue::da_capo:
    case Cue::dal_segno:
    case Cue::to_coda:
    case Cue::until_cue:
      return PlaceInMeasure::end;
    case Cue::rit:
    case Cue::accel:
    case Cue::a_tempo:
    case Cue::caesura:
      return PlaceInMeasure::anywhere;
  }
  return PlaceInMeasure::anywhere;
}

PlaceInMeasure place_in_measure(const DirectionValue& value) {
  if (std::holds_alternative<FluteChange>(value)) return PlaceInMeasure::start;
  if (std::holds_alternative<SectionStart>(value)) return PlaceInMeasure::start;
  if (std::holds_alternative<BeatChange>(value)) return PlaceInMeasure::inside;
  const auto* cue = std::get_if<Cue>(&value);
  return cue == nullptr ? PlaceInMeasure::anywhere : place_in_measure(*cue);
}

}  // namespace yubifu::model
