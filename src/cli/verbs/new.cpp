// The verb new: a text to begin a tune with, that says in comments how it is written.
#include <algorithm>
#include <cstddef>
#include <system_error>

#include <fmt/ranges.h>

#include "base/message.h"
#include "cli/loading.h"
#include "cli/verbs.h"
#include "notation/read/reader.h"

namespace yubifu::cli {
namespace {

using base::message;

// So many beats of a phrase in free time stand in for a bar.
constexpr int kFreeBeats = 4;
// The starter climbs from 一 to 五.
constexpr std::size_t kMostSteps = 5;

// The plain signs of the low register, upwards; all plain signs of a flute that has none there.
std::vector<std::string> easy_signs(const flute::Flute& flute) {
  std::vector<const flute::Entry*> plain;
  for (const flute::Entry& entry : flute.entries()) {
    if (entry.half == model::HalfHole::none) plain.push_back(&entry);
  }
  const auto is_high = [](const auto* entry) { return entry->in != model::Register::low; };
  if (!std::all_of(plain.begin(), plain.end(), is_high)) std::erase_if(plain, is_high);
  std::stable_sort(plain.begin(), plain.end(),
                   [](const auto* a, const auto* b) { return a->cents < b->cents; });
  std::vector<std::string> signs;
  for (const flute::Entry* entry : plain) signs.push_back(printed(*entry));
  return signs;
}

// Four bars up and down the lowest signs, with a group, holds and rests; a word for each note.
std::string music_of(std::vector<std::string> signs, int beats) {
  constexpr int kFewBeats = 4;
  signs.resize(std::min(signs.size(), kMostSteps));
  std::string text;
  std::string song;
  std::size_t at = 0;
  const auto notes = [&](int count) {
    for (int i = 0; i < count; ++i) {
      const std::size_t turn = std::max<std::size_t>(1, 2 * (signs.size() - 1));
      const std::size_t step = at++ % turn;
      text += signs[std::min(step, turn - step) % signs.size()] + ' ';
      song += ' ' + message("la");
    }
  };
  const auto bar = [&](int count, bool rests) {
    notes(count);
    text += rests ? "・ | " : "| ";
  };
  // Long bars want a breath each.
  const bool rests = beats > kFewBeats;
  bar(beats - rests, rests);
  text += '(';
  notes(2);
  text.back() = ')';
  text += ' ';
  bar(beats > 2 ? beats - 2 : beats - 1, beats > 2);
  bar(beats - rests, rests);
  at = 0;
  notes(1);
  for (int beat = 2; beat < beats; ++beat) text += "- ";
  if (beats > 1) text += beats > 2 ? "・ " : "- ";
  return text + "|=\n>" + song + '\n';
}

std::string comment_on_signs(const std::vector<std::string>& signs) {
  if (model::standard_place(model::Sign(signs.front()))) {
    return message(
        "One word lasts one beat: 一…七 (or r1…r7) are the low register, 0…7 the second, 8 2̇…5̇ (or "
        "8 d2…d5) the third");
  }
  return message("One word lasts one beat; the signs of this flute, upwards: {}",
                 fmt::join(signs, " "));
}

std::string raw_text(const std::string& title, const model::FluteName& name,
                     const flute::Flute& flute, const Options& options) {
  const auto& [meter, tempo] = options.starter;
  const std::vector<std::string> signs = easy_signs(flute);
  std::string text;
  for (const std::string& line :
       {message("A line that begins with # is a comment; take these out when you like"),
        message("First the header: the flute, the meter, the beats a minute"),
        comment_on_signs(signs),
        message("- holds a note for another beat, ・ (or .) is a rest, words in ( ) share one "
                "beat, | ends a bar"),
        message("Behind > stands the song, a word for each note that is struck"),
        message("'yubifu help notation' shows the rest, 'yubifu check' finds what is wrong")}) {
    text += fmt::format("# {}\n", line);
  }
  text += fmt::format("title: {}\nflute: {}\n", title, to_text(name));
  const auto tuning =
      options.resolve.tuning_hz ? options.resolve.tuning_hz : options.settings.tuning_hz;
  if (tuning) text += fmt::format("tuning: {}\n", *tuning);
  text += fmt::format("meter: {}\ntempo: {}\n\n", to_text(meter), tempo);
  return text + music_of(signs, meter.is_free() ? kFreeBeats : meter.beats);
}

void write_starter(const Options& options, Log& log) {
  const std::string output = output_name(options.output);
  const model::FluteName name = flute_given(options, options.settings.flutes, log);
  const auto flute = named_flute(name, options.tuning_hz(), log);
  if (!flute) return;
  const std::string title =
      without_control_characters(fmt::format("{}", fmt::join(options.inputs, " ")));
  const base::SourceText raw(
      output, raw_text(title, moved(name, ".", folder_of(options.output)), *flute, options));
  auto read = notation::read_notation(raw);
  log.add(read.diagnostics, raw);
  if (!read.value || log.failed()) return log.raise(ExitStatus::unusable);
  const auto text = notation::write_notation(*read.value, options.alphabet);
  log.add(text.diagnostics, raw);
  if (text.value) log.write(options.output, *text.value);
}

std::optional<std::string> wrong_new_usage(const Options& options) {
  if (options.inputs.empty()) {
    return message("new needs the title of the tune; 'yubifu help new' shows how it is used");
  }
  if (options.flutes.size() > 1) return message("new takes one flute at a time");
  if (auto refusal = wrong_ending(options.output, {"text"})) return refusal;
  std::error_code error;
  if (options.output != "-" && std::filesystem::exists(options.output, error)) {
    return message("{} is there already, and new writes over nothing; choose another name",
                   options.output);
  }
  return std::nullopt;
}

}  // namespace

ExitStatus run_new(const Options& options) {
  if (const auto complaint = wrong_new_usage(options)) return refuse(*complaint);
  Log log(options.strictness);
  write_starter(options, log);
  return log.finish();
}

}  // namespace yubifu::cli
