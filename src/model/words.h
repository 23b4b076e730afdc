// The words for values that every format spells alike: one two-way table each.
#pragma once

#include <string_view>

#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::model {

/// In the order of the enumeration.
inline constexpr auto kMarkWords = base::word_table<Mark>({
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
inline constexpr auto kSyllableKindWords = base::word_table<SyllableKind>({
    {SyllableKind::single, "single"},
    {SyllableKind::begin, "begin"},
    {SyllableKind::middle, "middle"},
    {SyllableKind::end, "end"},
});
inline constexpr auto kStaffModeWords = base::word_table<StaffMode>({
    {StaffMode::in_c, "in-c"},
    {StaffMode::sounding, "sounding"},
});
inline constexpr auto kZeroSignWords = base::word_table<ZeroSign>({
    {ZeroSign::cross, "cross"},
    {ZeroSign::tube, "tube"},
});

/// The word of a value in its table.
constexpr std::string_view word_of(Mark mark) {
  return kMarkWords.word_of(mark);
}
constexpr std::string_view word_of(SyllableKind kind) {
  return kSyllableKindWords.word_of(kind);
}
constexpr std::string_view word_of(StaffMode mode) {
  return kStaffModeWords.word_of(mode);
}
constexpr std::string_view word_of(ZeroSign zero) {
  return kZeroSignWords.word_of(zero);
}

}  // namespace yubifu::model
