#include "midi/lyric_reading.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <optional>
#include <string_view>
#include <utility>

#include "base/message.h"
#include "midi/messages.h"
#include "midi/rules.h"

namespace yubifu::midi {
namespace {

constexpr int kReachParts = 4;           // of a quarter note
constexpr std::size_t kSpacedShare = 8;  // one text in so many has a space where words have them

bool is_karaoke(const std::vector<MetaEvent>& metas) {
  return std::any_of(metas.begin(), metas.end(), [](const MetaEvent& meta) {
    return meta.type == kText && meta.data.starts_with("@K");
  });
}

bool is_lyric(const MetaEvent& meta) {
  return meta.type == kLyric;
}

bool is_karaoke_text(const MetaEvent& meta) {
  return meta.type == kText && !meta.data.starts_with('@') && !meta.data.starts_with(kOwnPrefix);
}

// The track that has most of the events that `wanted` takes; the melody's own if it has any.
template <typename Wanted>
std::vector<MetaEvent> from_best_track(const std::vector<MetaEvent>& metas, std::uint16_t melody,
                                       Wanted wanted) {
  std::map<std::uint16_t, std::size_t> counts;
  for (const MetaEvent& meta : metas) {
    if (wanted(meta)) ++counts[meta.track];
  }
  if (counts.empty()) return {};
  auto best = counts.find(melody);
  if (best == counts.end()) {
    best = std::max_element(counts.begin(), counts.end(),
                            [](const auto& a, const auto& b) { return a.second < b.second; });
  }
  std::vector<MetaEvent> events;
  std::copy_if(metas.begin(), metas.end(), std::back_inserter(events),
               [&](const MetaEvent& meta) { return meta.track == best->first && wanted(meta); });
  return events;
}

// Lines of words begin with a stroke in karaoke files, and the encoding may stand in braces (MIDI
// recommended practice 26). What is left keeps its spaces, and has one where a line ends.
void bare_words(std::string& text) {
  if (text.starts_with("{@")) {
    const std::size_t close = text.find('}');
    text.erase(0, close == std::string::npos ? text.size() : close + 1);
  }
  if (text.starts_with('/') || text.starts_with('\\')) text.front() = ' ';
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
  }
}

bool has_word(const std::string& text) {
  return text.find_first_not_of(' ') != std::string::npos;
}

bool carries_on(const std::string& text) {
  return text == "-" || text == "_";
}

}  // namespace

std::vector<MetaEvent> lyric_events(const std::vector<MetaEvent>& metas, std::uint16_t melody) {
  auto lyrics = from_best_track(metas, melody, is_lyric);
  if (lyrics.empty() && is_karaoke(metas)) lyrics = from_best_track(metas, melody, is_karaoke_text);
  return lyrics;
}

std::vector<std::vector<std::int64_t>> sung_ticks(const std::vector<MetaEvent>& metas,
                                                  std::size_t tracks) {
  std::vector<std::vector<std::int64_t>> ticks(tracks);
  const bool has_lyrics = std::any_of(metas.begin(), metas.end(), is_lyric);
  if (!has_lyrics && !is_karaoke(metas)) return ticks;
  for (const MetaEvent& meta : metas) {
    const bool is_sung = has_lyrics ? is_lyric(meta) : is_karaoke_text(meta);
    if (is_sung) ticks[meta.track].push_back(meta.tick);
  }
  return ticks;
}

std::vector<std::string> join_lyrics(const std::vector<MetaEvent>& lyrics, LyricSigns signs,
                                     const std::vector<PairedNote>& notes, int ppq,
                                     const TextDecoder& decoder, Findings& findings) {
  std::vector<std::string> words(notes.size());
  std::size_t note = 0;
  for (const MetaEvent& lyric : lyrics) {
    std::string text = decoder.decode(lyric.data);
    if (signs == LyricSigns::karaoke) bare_words(text);
    if (!has_word(text)) continue;
    const auto distance = [&](std::size_t i) { return std::abs(notes[i].begin - lyric.tick); };
    while (note + 1 < notes.size() && distance(note + 1) <= distance(note)) ++note;
    if (distance(note) * kReachParts > ppq) {
      findings.add(rule::lyric_alone, lyric.tick,
                   base::message("a lyric has no note and is left out"));
    } else if (words[note].empty()) {
      words[note] = text;
    } else {
      words[note].append(model::kElision).append(text);
    }
  }
  return words;
}

std::vector<std::optional<model::Syllable>> to_syllables(const std::vector<std::string>& lyrics) {
  std::vector<std::optional<model::Syllable>> syllables(lyrics.size());
  std::vector<std::size_t> sung;
  std::size_t spaced = 0;
  bool hyphens = false;
  for (std::size_t i = 0; i < lyrics.size(); ++i) {
    if (!has_word(lyrics[i])) continue;
    sung.push_back(i);
    // Behind a hyphen the space only says that the hyphen is part of the word.
    const bool spared = lyrics[i].ends_with("- ");
    if (!spared && (lyrics[i].starts_with(' ') || lyrics[i].ends_with(' '))) ++spaced;
    hyphens = hyphens || (lyrics[i].ends_with('-') && !carries_on(one_line_of(lyrics[i])));
  }
  const bool by_space = !hyphens && spaced * kSpacedShare >= sung.size() && spaced > 0;
  bool word_open = false;
  for (std::size_t s = 0; s < sung.size(); ++s) {
    const std::string& lyric = lyrics[sung[s]];
    model::Syllable& syllable = syllables[sung[s]].emplace();
    const std::string text = one_line_of(lyric);
    if (s > 0 && carries_on(text)) {
      syllable.extends = true;
      continue;
    }
    const bool more = s + 1 < sung.size();
    const bool hyphen = lyric.ends_with('-') && text.size() > 1;
    const bool goes_on =
        more &&
        (by_space ? !lyric.ends_with(' ') && !lyrics[sung[s + 1]].starts_with(' ') : hyphen);
    syllable.text = hyphen ? text.substr(0, text.size() - 1) : text;
    syllable.kind = model::syllable_kind(word_open, goes_on);
    word_open = goes_on;
  }
  return syllables;
}

}  // namespace yubifu::midi
