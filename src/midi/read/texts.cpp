#include "midi/read/texts.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "base/encoding.h"
#include "base/message.h"
#include "base/utf8.h"
#include "midi/own_text.h"
#include "midi/read/rules.h"
#include "midi/smf/events.h"

namespace yubifu::midi {
namespace {

constexpr std::string_view kLatin1 = "ISO-8859-1";
constexpr char32_t kReplacement = 0xFFFD;

bool is_utf8(std::string_view bytes) {
  return !base::first_invalid_utf8(bytes);
}

bool is_shift_jis(std::string_view bytes) {
  return !base::to_utf8(bytes, base::kShiftJis).stopped_at;
}

// The bytes that can be converted, with one replacement character for each of the others.
std::string convert_what_fits(std::string_view bytes, std::string_view encoding) {
  std::string text;
  while (!bytes.empty()) {
    base::Conversion part = base::to_utf8(bytes, encoding);
    text += part.text;
    if (!part.stopped_at) break;
    base::append_utf8(text, kReplacement);
    bytes.remove_prefix(std::min(bytes.size(), *part.stopped_at + 1));
  }
  return text;
}

std::string valid_utf8(std::string_view bytes) {
  if (bytes.starts_with(base::kByteOrderMark)) bytes.remove_prefix(base::kByteOrderMark.size());
  std::string text;
  while (!bytes.empty()) {
    const base::CodePoint next = base::first_code_point(bytes);
    base::append_utf8(text, next.value);
    bytes.remove_prefix(next.size);
  }
  return text;
}

void blank_control_characters(std::string& text) {
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
  std::replace_if(text.begin(), text.end(), is_control, ' ');
}

constexpr int kReachParts = 4;           // of a quarter note
constexpr std::size_t kSpacedShare = 8;  // one text in so many has a space where words have them

// Lines of words begin with a stroke in karaoke files, and the encoding may stand in braces (MIDI
// recommended practice 26). What is left keeps its spaces, and has one where a line ends.
void bare_words(std::string& text) {
  if (text.starts_with("{@")) {
    const std::size_t close = text.find('}');
    text.erase(0, close == std::string::npos ? text.size() : close + 1);
  }
  if (text.starts_with('/') || text.starts_with('\\')) text.front() = ' ';
  blank_control_characters(text);
}

bool has_word(const std::string& text) {
  return text.find_first_not_of(' ') != std::string::npos;
}

bool carries_on(const std::string& text) {
  return text == "-" || text == "_";
}

// 01 to 0F are kept for texts (SMF 1.1).
bool is_text(const MetaEvent& meta) {
  return meta.type >= 0x01 && meta.type <= 0x0F;
}

}  // namespace

Charset charset_of(const ScannedFile& file, Charset asked, base::Diagnostics& diagnostics) {
  std::vector<std::string_view> texts;
  for (const MetaEvent& meta : file.metas) {
    if (is_text(meta)) texts.push_back(meta.data);
  }
  const auto all = [&](auto fits) { return std::all_of(texts.begin(), texts.end(), fits); };
  const Charset charset = asked != Charset::automatic ? asked
                          : all(is_utf8)              ? Charset::utf8
                          : all(is_shift_jis)         ? Charset::shift_jis
                                                      : Charset::latin1;
  // Every text is Latin-1 where that is asked for; as a last resort it is in doubt.
  if (asked == Charset::latin1) return charset;
  const auto odd = std::find_if_not(texts.begin(), texts.end(),
                                    charset == Charset::shift_jis ? is_shift_jis : is_utf8);
  if (odd == texts.end()) return charset;
  const std::string shown = one_line_of(decoded(*odd, charset));
  diagnostics.push_back(base::report(
      rule::text_encoding, {},
      charset == Charset::latin1
          ? base::message(
                "the texts are neither UTF-8 nor Shift_JIS and were read as Latin-1: “{}”", shown)
          : base::message("a text is not in the encoding asked for: “{}”", shown),
      base::message("name the encoding: utf-8, shift-jis or latin-1")));
  return charset;
}

std::string decoded(std::string_view bytes, Charset charset) {
  if (charset == Charset::shift_jis) return convert_what_fits(bytes, base::kShiftJis);
  if (charset == Charset::latin1) return convert_what_fits(bytes, kLatin1);
  return valid_utf8(bytes);
}

std::string one_line_of(std::string_view text) {
  std::string line(text);
  blank_control_characters(line);
  const std::size_t first = line.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return line.substr(first, line.find_last_not_of(' ') - first + 1);
}

TrackWords track_words(const ScannedFile& file, Charset charset) {
  const std::size_t tracks = file.track_ends.size();
  TrackWords words{std::vector<std::string>(tracks), std::vector<std::vector<MetaEvent>>(tracks)};
  std::vector<std::vector<MetaEvent>> texts = words.sung;
  bool karaoke = false;
  bool any_lyric = false;
  for (const MetaEvent& meta : file.metas) {
    if (meta.type == kTrackName || meta.type == kInstrumentName) {
      const std::string name = one_line_of(decoded(meta.data, charset));
      std::string& known = words.names[meta.track];
      if (!name.empty()) known += (known.empty() ? "" : ", ") + name;
    }
    any_lyric = any_lyric || meta.type == kLyric;
    if (meta.type == kLyric) words.sung[meta.track].push_back(meta);
    if (meta.type != kText) continue;
    karaoke = karaoke || meta.data.starts_with("@K");
    const bool is_word = !meta.data.starts_with('@') && !meta.data.starts_with(kOwnPrefix);
    if (is_word) texts[meta.track].push_back(meta);
  }
  if (!any_lyric && karaoke) words.sung = std::move(texts);
  return words;
}

std::vector<std::string> join_lyrics(const std::vector<MetaEvent>& lyrics, Lyrics kind,
                                     const std::vector<PairedNote>& notes, int ppq, Charset charset,
                                     base::Findings& findings) {
  std::vector<std::string> words(notes.size());
  std::size_t note = 0;
  for (const MetaEvent& lyric : lyrics) {
    std::string text = decoded(lyric.data, charset);
    if (kind == Lyrics::none) bare_words(text);
    if (!has_word(text)) continue;
    const auto distance = [&](std::size_t i) { return std::abs(notes[i].begin - lyric.tick); };
    while (note + 1 < notes.size() && distance(note + 1) <= distance(note)) ++note;
    if (distance(note) * kReachParts > ppq) {
      findings.add(
          base::report(rule::lyric_alone, {}, base::message("a lyric has no note and is left out")),
          lyric.tick);
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

Surroundings read_surroundings(const ScannedFile& file, const std::vector<bool>& listened,
                               const std::vector<MetaEvent>& sung, Charset charset) {
  Surroundings found;
  std::set<std::string> rights;
  for (const MetaEvent& meta : file.metas) {
    if (meta.type == kKey) {
      const auto mode = meta.data[1] == 1 ? model::Mode::minor : model::Mode::major;
      found.keys.push_back({meta.tick, {static_cast<std::int8_t>(meta.data[0]), mode}});
    }
    if (!is_text(meta)) continue;
    if (const auto own = own_text(meta)) {
      found.own_fields.push_back(
          {meta.tick,
           {one_line_of(decoded(own->key, charset)), one_line_of(decoded(own->value, charset))}});
      continue;
    }
    const std::string text = one_line_of(decoded(meta.data, charset));
    if (text.empty()) continue;
    if (meta.type == kCopyright && rights.insert(text).second) {
      found.rights += (found.rights.empty() ? "" : "; ") + text;
    }
    if (meta.type == kTrackName && meta.track == 0 && found.title.empty()) found.title = text;
    const bool marker = meta.type == kMarker || meta.type == kCuePoint;
    const bool is_sung =
        !sung.empty() && sung.front().type == meta.type && sung.front().track == meta.track;
    if ((!marker && meta.type != kText) || !listened[meta.track] || is_sung) continue;
    found.texts.push_back({meta.tick, {meta.type, text}});
  }
  found.keys = changes_only(std::move(found.keys));
  sort_by_tick(found.texts);
  sort_by_tick(found.own_fields);
  return found;
}

}  // namespace yubifu::midi
