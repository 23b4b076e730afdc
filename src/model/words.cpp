#include "model/words.h"

#include <array>

namespace yubifu::model {
namespace {

template <typename T>
struct Row {
  T value;
  std::string_view word;
};

constexpr std::array<Row<Mark>, 11> kMarks{{
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
}};

constexpr std::array<Row<Cue>, 11> kCues{{
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
}};

constexpr std::array<Row<StaffMode>, 2> kStaffModes{{
    {StaffMode::in_c, "in-c"},
    {StaffMode::sounding, "sounding"},
}};

constexpr std::array<Row<ZeroSign>, 2> kZeroSigns{{
    {ZeroSign::cross, "cross"},
    {ZeroSign::tube, "tube"},
}};

// The tables stand in the order of their enumerations.
template <typename T, std::size_t size>
std::string_view word_in(const std::array<Row<T>, size>& table, T value) {
  return table[static_cast<std::size_t>(value)].word;
}

template <typename T, std::size_t size>
std::optional<T> value_in(const std::array<Row<T>, size>& table, std::string_view word) {
  for (const Row<T>& row : table) {
    if (row.word == word) return row.value;
  }
  return std::nullopt;
}

template <typename T, std::size_t size>
std::vector<std::string_view> words_in(const std::array<Row<T>, size>& table) {
  std::vector<std::string_view> words;
  for (const Row<T>& row : table) words.push_back(row.word);
  return words;
}

}  // namespace

std::string_view word_of(Mark mark) {
  return word_in(kMarks, mark);
}

std::optional<Mark> mark_named(std::string_view word) {
  return value_in(kMarks, word);
}

std::vector<std::string_view> mark_words() {
  return words_in(kMarks);
}

std::string_view word_of(Cue cue) {
  return word_in(kCues, cue);
}

std::optional<Cue> cue_named(std::string_view word) {
  return value_in(kCues, word);
}

std::vector<std::string_view> cue_words() {
  return words_in(kCues);
}

std::string_view word_of(StaffMode mode) {
  return word_in(kStaffModes, mode);
}

std::optional<StaffMode> staff_mode_named(std::string_view word) {
  return value_in(kStaffModes, word);
}

std::string_view word_of(ZeroSign zero) {
  return word_in(kZeroSigns, zero);
}

std::optional<ZeroSign> zero_sign_named(std::string_view word) {
  return value_in(kZeroSigns, word);
}

}  // namespace yubifu::model
