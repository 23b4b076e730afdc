#include "model/words.h"

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

}  // namespace yubifu::model
