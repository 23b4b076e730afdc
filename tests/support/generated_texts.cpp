#include "support/generated_texts.h"

#include <algorithm>

namespace yubifu::support {

using model::Rational;
using model::Score;
using model::SyllableKind;

namespace {

const std::vector<std::string> kLines{"Ferry Lanterns", "渡しの灯",         "No. 2 in \"blue\"",
                                      "a < b & c > d",  "back\\slash",      "Prélude № 7",
                                      "it's: fine",     "{braces} | bars",  "# not a comment",
                                      "第一　節",       "Zug 🚃 nach Süden", "x"};

const std::vector<std::string> kSyllables{"み",   "な",    "と", "la",  "lo", "ヒャ",
                                          "トヒ", "don't", "é",  "o‿i", "か"};
const std::vector<std::string> kOddSyllables{"a b", "~", "/",   "|",  "-", "x-", "\\",
                                             "#1",  ">", "<b>", "\"", "&", "{q}"};

std::string random_comment(Dice& dice) {
  static const std::vector<std::string> kComments{"slower here", "# twice", "息を整える",
                                                  "x",           "",        "title: no"};
  return dice.pick(kComments);
}

// One verse over all notes: syllables joined to words, carried on, and notes left out.
class Verse {
 public:
  Verse(Score& score, Dice& dice, std::string name)
      : score_(score), dice_(dice), name_(std::move(name)) {}

  void run() {
    const std::size_t count = score_.notes.size();
    const std::size_t end = dice_.percent(25) ? dice_.below(count + 1) : count;
    for (std::size_t i = 0; i < end; ++i) {
      if (dice_.percent(8)) {
        may_extend_ = false;
      } else if (may_extend_ && dice_.percent(12)) {
        add(i, {name_, "", SyllableKind::single, true});
      } else {
        syllable(i);
      }
    }
    if (joined_) last_->kind = first_of_word_ ? SyllableKind::single : SyllableKind::end;
    if (last_ != nullptr) score_.verses.push_back(name_);
  }

 private:
  void add(std::size_t note, model::Syllable syllable) {
    score_.notes[note].syllables.push_back(std::move(syllable));
  }

  void syllable(std::size_t note) {
    const bool was_joined = joined_;
    joined_ = dice_.percent(25);
    first_of_word_ = !was_joined;
    SyllableKind kind = joined_ ? SyllableKind::begin : SyllableKind::single;
    if (was_joined) kind = joined_ ? SyllableKind::middle : SyllableKind::end;
    add(note, {name_, dice_.pick(dice_.percent(10) ? kOddSyllables : kSyllables), kind, false});
    last_ = &score_.notes[note].syllables.back();
    may_extend_ = true;
  }

  Score& score_;
  Dice& dice_;
  std::string name_;
  bool joined_ = false;
  bool first_of_word_ = true;
  bool may_extend_ = false;
  model::Syllable* last_ = nullptr;
};

void add_names(model::Header& header, Dice& dice) {
  for (std::string* field : {&header.title, &header.subtitle, &header.composer, &header.lyricist,
                             &header.source, &header.rights}) {
    if (dice.percent(25)) *field = random_line(dice);
  }
  static const std::vector<std::string> kKeys{"dance", "troupe", "x-code", "編曲", "year"};
  const std::size_t first = dice.below(kKeys.size());
  for (int i = dice.percent(20) ? dice.between(1, 3) : 0; i > 0; --i) {
    const std::string& key = kKeys[(first + static_cast<std::size_t>(i)) % kKeys.size()];
    header.unknown.push_back({key, dice.percent(10) ? "" : random_line(dice)});
  }
}

}  // namespace

std::string random_line(Dice& dice) {
  return dice.pick(kLines);
}

model::FluteName random_flute(Dice& dice, const GeneratorOptions& options) {
  if (options.flute_files && dice.percent(30)) {
    return model::FlutePath{dice.percent(50) ? "village.json" : "../flutes/our own/old.json"};
  }
  const Rational half = dice.percent(10) ? Rational(1, 2) : Rational(0);
  const int cents = dice.percent(10) ? dice.between(-99, 99) : 0;
  return model::FluteSize{Rational(dice.between(1, half == Rational(0) ? 13 : 12)) + half, cents};
}

model::Tempo random_tempo(Dice& dice, Rational usual_unit) {
  static const std::vector<Rational> kUnits{{1, 2}, 1, {3, 2}, 2, {1, 4}, {3, 4}, 3};
  static const std::vector<Rational> kSpeeds{{185, 2}, {401, 4}, 1, 1000, {333, 10}};
  const Rational speed = dice.percent(15) ? dice.pick(kSpeeds) : Rational(dice.between(40, 208));
  return {speed, dice.percent(25) ? dice.pick(kUnits) : usual_unit};
}

model::Key random_key(Dice& dice) {
  return {dice.between(-7, 7), dice.percent(30) ? model::Mode::minor : model::Mode::major};
}

void add_header(Score& score, Dice& dice, const GeneratorOptions& options) {
  model::Header& header = score.header;
  const model::Measure& first = score.measures.front();
  header.meter = first.meter;
  if (first.beat != model::default_beat(first.meter)) header.beat = first.beat;
  if (options.tempos && dice.percent(50)) {
    header.tempo = random_tempo(dice, model::felt_beat(first.meter, first.beat));
  }
  if (dice.percent(70)) header.flute = random_flute(dice, options);
  if (options.comments && dice.percent(10)) {
    for (int i = dice.between(1, 2); i > 0; --i) header.comments.push_back(random_comment(dice));
  }
  if (!options.header_fields) return;
  add_names(header, dice);
  if (dice.percent(20)) header.tuning_hz = dice.pick(std::vector<double>{442, 440, 432.5, 415.3});
  if (dice.percent(25)) header.key = random_key(dice);
  if (dice.percent(15)) {
    header.staff = dice.percent(50) ? model::StaffMode::in_c : model::StaffMode::sounding;
  }
  if (dice.percent(8)) header.zero = model::ZeroSign::tube;
}

void add_song_text(Score& score, Dice& dice) {
  if (dice.percent(50)) return;
  for (const char* name : {"1", "2", "3", "shoga"}) {
    if (dice.percent(name[0] == '1' ? 80 : 20)) Verse(score, dice, name).run();
  }
  if (dice.percent(30)) score.song_bars = model::SongBars::written;
}

void add_layout(Score& score, Dice& dice) {
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    model::Measure& here = score.measures[i];
    if (dice.percent(5)) here.comments.push_back({random_comment(dice), false, false});
    if (dice.percent(5)) here.comments.push_back({random_comment(dice), true, dice.percent(30)});
    if (i == 0) continue;
    const bool must_break = !score.measures[i - 1].comments.empty();
    if (must_break || dice.percent(20)) {
      here.break_before = dice.percent(80) ? model::LineBreak::line : model::LineBreak::blank_line;
    }
  }
}

}  // namespace yubifu::support
