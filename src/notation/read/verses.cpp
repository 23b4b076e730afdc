#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/message.h"
#include "base/utf8.h"
#include "notation/characters.h"
#include "notation/read/lexer.h"
#include "notation/read/steps.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

constexpr int kMostVerses = 99;

// A word of a song line, escapes undone.
struct SongWord {
  enum class Kind { syllable, carry_on, skip, bar };
  Kind kind = Kind::syllable;
  std::string text;
  bool joins = false;  // a hyphen ends it
  base::SourceRange range;
};

// What one verse knows from line to line.
struct VerseState {
  bool joined = false;    // the syllable before goes on in the next one
  bool has_text = false;  // a syllable has come that `~` can carry on
};

class SongReader {
 public:
  SongReader(const base::SourceText& source, const Tree& tree, BuiltScore& built, Reports& reports)
      : source_(source), tree_(tree), built_(built), reports_(reports), broken_(built.broken) {
    std::sort(broken_.begin(), broken_.end(),
              [](base::SourceRange a, base::SourceRange b) { return a.begin < b.begin; });
    std::size_t end = 0;
    for (base::SourceRange& range : broken_) range.end = end = std::max(end, range.end);
  }

  void run() {
    for (std::size_t i = 0; i < tree_.songs.size(); ++i) line(i);
    for (model::Note& note : built_.score.notes) {
      std::sort(note.syllables.begin(), note.syllables.end(), [](const auto& a, const auto& b) {
        return model::verse_rank(a.verse) < model::verse_rank(b.verse);
      });
    }
    built_.score.verses = model::verses_in_use(built_.score);
  }

 private:
  void line(std::size_t index) {
    const SongLine& song = tree_.songs[index];
    const std::string_view text = text_of(source_, song.range);
    const std::string_view label = first_word(text);
    const base::SourceRange label_range{song.range.begin, song.range.begin + label.size()};
    const auto verse = verse_of_label(folded(label));
    const int rank = verse ? model::verse_rank(*verse) : 0;
    if (rank == 0 || (rank > kMostVerses && *verse != model::kShogaVerse)) {
      return reports_.add(rule::unknown_verse, label_range,
                          base::message("{} is no verse", shown(label)),
                          base::message("write `>` and a space for the first verse, `>2` to `>{}` "
                                        "or `>{}` for others",
                                        kMostVerses, model::kShogaVerse));
    }
    if (!song.music) {
      return reports_.add(rule::song_without_music, label_range,
                          base::message("no line of music stands above this song line"),
                          base::message("write the song line under its music"));
    }
    const std::vector<SongWord> words = words_of(song.range, label_range.end);
    if (is_second(index, *verse, label_range, words)) return;
    if (!is_broken(*song.music)) place(words, *verse, *song.music, label_range);
  }

  // The words between a place and the end of the line.
  std::vector<SongWord> words_of(base::SourceRange line, std::size_t at) {
    std::vector<SongWord> words;
    while (at < line.end) {
      const std::string_view rest = text_of(source_, {at, line.end});
      const base::CodePoint point = base::first_code_point(rest);
      // A bar sign of the music, copied whole, stands for one bar line.
      const std::string_view run = first_word(rest);
      const bool copied = bar_sign_length(run) == run.size();
      if (is_space(point.value)) {
        at += point.size;
      } else if (copied || point.value == '|') {
        const std::string_view sign = copied ? run : run.substr(0, 1);
        words.push_back({SongWord::Kind::bar, std::string(sign), false, {at, at + sign.size()}});
        at = words.back().range.end;
      } else {
        words.push_back(word_at(rest, at));
        at = words.back().range.end;
      }
    }
    return words;
  }

  // The word at the front of a text that begins at `begin`.
  SongWord word_at(std::string_view line, std::size_t begin) {
    std::string text;
    std::size_t at = 0;
    bool escaped = false;  // the last character was
    while (at < line.size()) {
      const base::CodePoint point = base::first_code_point(line.substr(at));
      if (is_space(point.value) || point.value == '|') break;
      escaped = point.value == '\\';
      if (escaped) ++at;
      const base::SourceRange range{begin, begin + at};
      if (at == line.size()) {
        reports_.add(rule::bad_syllable, {range.end - 1, range.end},
                     base::message("nothing follows this backslash"),
                     base::message("write `\\\\` for the character itself"));
        return {SongWord::Kind::skip, {}, false, range};
      }
      const std::size_t size = base::first_code_point(line.substr(at)).size;
      text += line.substr(at, size);
      at += size;
    }
    const std::string_view written = line.substr(0, at);
    const base::SourceRange range{begin, begin + at};
    auto kind = written == kCarryOn    ? SongWord::Kind::carry_on
                : written == kSkipNote ? SongWord::Kind::skip
                                       : SongWord::Kind::syllable;
    const bool joins = !escaped && text.ends_with(kJoin);
    if (joins) text.resize(text.size() - kJoin.size());
    if (joins && text.empty()) {
      reports_.add(rule::bad_syllable, range, base::message("a hyphen alone is no syllable"),
                   base::message("write `~` to carry the syllable before it on, `\\-` for the "
                                 "character itself"));
      kind = SongWord::Kind::skip;
    }
    return {kind, std::move(text), joins, range};
  }

  bool is_second(std::size_t index, const std::string& verse, base::SourceRange label,
                 const std::vector<SongWord>& words) {
    if (index == 0 || tree_.songs[index - 1].music != tree_.songs[index].music) {
      verses_here_.clear();
    }
    if (verses_here_.insert(verse).second) return false;
    // "> 2 ka ze": the number stands apart.
    const bool apart = !words.empty() && verse_of_label(std::string(kSongLine) + words[0].text);
    reports_.add(
        rule::verse_twice, label,
        base::message("a second song line of verse {} under the same music", verse),
        apart ? base::message("write `>{}` without a space", words[0].text)
              : base::message("give it another number, such as `>{}`", verses_here_.size() + 1));
    return true;
  }

  // True when a word of the music line could not be read.
  bool is_broken(base::SourceRange music) const {
    const auto behind =
        std::lower_bound(broken_.begin(), broken_.end(), music.end,
                         [](base::SourceRange word, std::size_t end) { return word.begin < end; });
    return behind != broken_.begin() && std::prev(behind)->end > music.begin;
  }

  // The first notes of the bars of a line of music, and the end of the last one; empty without
  // bars.
  std::vector<std::size_t> bounds_of(base::SourceRange music) const {
    const auto& segments = built_.segments;
    auto segment = std::lower_bound(
        segments.begin(), segments.end(), music.begin,
        [](const Segment& candidate, std::size_t offset) { return candidate.offset < offset; });
    std::vector<std::size_t> bounds;
    for (; segment != segments.end() && segment->offset < music.end; ++segment) {
      bounds.push_back(segment->first_note);
    }
    if (bounds.empty()) return bounds;
    bounds.push_back(segment == segments.end() ? built_.score.notes.size() : segment->first_note);
    return bounds;
  }

  void place(const std::vector<SongWord>& words, const std::string& verse, base::SourceRange music,
             base::SourceRange label) {
    const std::vector<std::size_t> bounds = bounds_of(music);
    const std::vector<SongWord> own = without_extra_bars(words, music);
    const auto lines =
        static_cast<std::size_t>(std::count_if(own.begin(), own.end(), [](const SongWord& word) {
          return word.kind == SongWord::Kind::bar;
        }));
    if (lines > 0) built_.score.song_bars = model::SongBars::written;
    std::size_t bar = 0;
    std::size_t note = bounds.empty() ? 0 : bounds.front();
    base::SourceRange short_at = label;
    bool told_long = false;
    std::size_t bar_begin = note;
    std::vector<std::string> sung;  // in this bar
    const auto end_of_bar = [&] {
      if (bar + 1 >= bounds.size()) return note;
      return bar < lines ? bounds[bar + 1] : bounds.back();
    };
    const auto check_left = [&](base::SourceRange where) {
      const std::size_t end = end_of_bar();
      if (note < end) too_short(where, verse, end - note, sung, end - bar_begin);
    };
    for (const SongWord& word : own) {
      if (word.kind == SongWord::Kind::bar) {
        check_left(word.range);
        bar_begin = note = end_of_bar();
        sung.clear();
        ++bar;
        told_long = false;
        short_at = word.range;
      } else if (note < end_of_bar()) {
        sung.push_back(word.text);
        sing(note++, word, verse);
      } else if (!std::exchange(told_long, true)) {
        too_long(word.range, verse, lines);
      }
    }
    check_left(short_at);
  }

  // A bar line at the start stands for a sign at the start of the music; `:| |:` is one line.
  std::vector<SongWord> without_extra_bars(const std::vector<SongWord>& words,
                                           base::SourceRange music) const {
    const std::string_view text = text_of(source_, music);
    std::vector<SongWord> own;
    for (std::size_t i = 0; i < words.size(); ++i) {
      const bool bar = words[i].kind == SongWord::Kind::bar;
      const bool at_start = i == 0 && bar_sign_length(text) != 0;
      const bool starts_repeat = i > 0 && words[i].text == kRepeatStart &&
                                 words[i - 1].kind == SongWord::Kind::bar &&
                                 words[i - 1].text.front() == ':';
      if (!bar || !(at_start || starts_repeat)) own.push_back(words[i]);
    }
    return own;
  }

  void too_long(base::SourceRange where, const std::string& verse, std::size_t lines) {
    reports_.add(
        rule::verse_too_long, where,
        base::message("verse {} has more words than {} notes", verse,
                      lines == 0 ? base::message("the line has") : base::message("this bar has")),
        base::message("holds, rests and grace notes take no word; `‿` joins two syllables "
                      "on one note"));
  }

  // Words in kana, cut into their syllables: a small kana belongs to the one before it.
  static std::vector<std::string> kana_of(const std::vector<std::string>& words) {
    constexpr std::u32string_view kSmall = U"ぁぃぅぇぉゃゅょゎァィゥェォャュョヮ";
    std::vector<std::string> kana;
    for (std::string_view rest : words) {
      while (!rest.empty()) {
        const base::CodePoint point = base::first_code_point(rest);
        const bool is_kana = point.value >= 0x3041 && point.value <= 0x30FF;
        if (!is_kana) return {};
        const bool joins = kSmall.find(point.value) != std::u32string_view::npos && !kana.empty();
        if (!joins) kana.emplace_back();
        kana.back() += rest.substr(0, point.size);
        rest.remove_prefix(point.size);
      }
    }
    return kana;
  }

  // `sung` are the words of the bar or line that has `notes` notes.
  void too_short(base::SourceRange where, const std::string& verse, std::size_t missing,
                 const std::vector<std::string>& sung, std::size_t notes) {
    const std::vector<std::string> kana = kana_of(sung);
    const std::string parted = fmt::format("{}", fmt::join(kana, " "));
    reports_.add(
        rule::verse_too_short, where,
        missing == 1 ? base::message("verse {} leaves 1 note without a word", verse)
                     : base::message("verse {} leaves {} notes without a word", verse, missing),
        kana.size() == notes ? base::message("a space parts the syllables: `{}`", parted)
                             : base::message("`~` carries a syllable on, `/` skips a note"));
  }

  void sing(std::size_t note, const SongWord& word, const std::string& verse) {
    VerseState& state = states_[verse];
    auto& syllables = built_.score.notes[note].syllables;
    if (word.kind == SongWord::Kind::syllable) {
      syllables.push_back(
          {verse, word.text, model::syllable_kind(state.joined, word.joins), false});
      state = {word.joins, true};
    } else if (word.kind == SongWord::Kind::carry_on && state.has_text) {
      syllables.push_back({verse, {}, model::SyllableKind::single, true});
    } else if (word.kind == SongWord::Kind::carry_on) {
      reports_.add(rule::bad_syllable, word.range,
                   base::message("`~` has no syllable before it to carry on"),
                   base::message("write `/` to skip a note"));
    }
  }

  const base::SourceText& source_;
  const Tree& tree_;
  BuiltScore& built_;
  Reports& reports_;
  std::vector<base::SourceRange> broken_;  // in order, each end the last one up to there
  std::map<std::string, VerseState> states_;
  std::set<std::string> verses_here_;  // under the same line of music
};

}  // namespace

void add_song_text(const base::SourceText& source, const Tree& tree, BuiltScore& built,
                   Reports& reports) {
  SongReader(source, tree, built, reports).run();
}

}  // namespace yubifu::notation
