#include <algorithm>
#include <utility>

#include "base/message.h"
#include "notation/characters.h"
#include "notation/read/direction_placer.h"
#include "notation/read/sign_reader.h"
#include "notation/read/steps.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::Rational;
using Follows = DirectionPlacer::Follows;

class Builder {
 public:
  Builder(const base::SourceText& source, const Tree& tree, const HeaderReading& header,
          const SignsOf& signs_of, Reports& reports)
      : source_(source),
        tree_(tree),
        header_(header),
        signs_of_(signs_of),
        reports_(reports),
        placer_(source, header, built_.score, built_.facts, reports_) {
    built_.score.header = header.header;
    built_.score.notes.reserve(std::min(tree.word_count, kMostNotes));
    built_.score.measures.reserve(tree.bars.size());
    built_.facts.reserve(tree.bars.size());
  }

  BuiltScore run() {
    for (bar_ = 0; bar_ < tree_.bars.size() && !full_; ++bar_) bar(tree_.bars[bar_]);
    if (!full_ && !built_.score.measures.empty()) {
      for (const FreeBrace& brace : tree_.trailing) placer_.trailing(brace);
    }
    end_score();
    report(look_alikes_, reports_);
    return std::move(built_);
  }

 private:
  // What a hold would hold.
  enum class Before { nothing, note, rest, unknown };

  BarFacts& facts() { return built_.facts.back(); }
  model::Measure& measure() { return built_.score.measures.back(); }
  std::size_t measure_index() const { return built_.score.measures.size() - 1; }

  void bar(const Bar& bar) {
    built_.score.measures.emplace_back();
    built_.facts.emplace_back();
    measure().source = bar.range;
    measure().break_before = bar.break_before;
    facts().broken = bar.broken;
    bar_has_start_ = false;
    segment_line_ = tree_.music_lines.size();
    now_ = 0;
    try {
      placer_.start_bar(bar);
      words(bar);
    } catch (const model::TimeOverflow&) {
      overflow();
    }
    measure().length = now_;
    repeat(bar);
    measure().right = bar.end.style;
    measure().repeat_end = bar.end.repeat_end;
    measure().times = bar.end.times;
    placer_.close_bar();
  }

  void overflow() {
    reports_.add(rule::bar_overflow, measure().source,
                 base::message("the durations of bar {} are too fine to be held exactly",
                               built_.score.measures.size()),
                 base::message("divide the beat into fewer parts"));
    now_ = 0;
    broken_word(measure().source, measure().meter.is_free() ? 1 : measure().meter.length());
  }

  void repeat(const Bar& bar) {
    if (bar.repeat_start) {
      if (open_repeat_) {
        reports_.add(rule::nested_repeat, bar.start_sign,
                     base::message("a repeat begins here, and the one from line {} is still open",
                                   source_.position(open_repeat_->begin).line),
                     base::message("close the first one with `:|`"));
      }
      open_repeat_ = bar.start_sign;
      measure().repeat_start = true;
    }
    if (bar.end.repeat_end) open_repeat_.reset();
  }

  void words(const Bar& bar) {
    const auto first = std::find_if(bar.items.begin(), bar.items.end(), is_word);
    const auto last = std::find_if(bar.items.rbegin(), bar.items.rend(), is_word).base() - 1;
    flute_changed_ = false;
    for (const auto& said : model::in_measure(built_.score.directions, measure_index())) {
      if (std::holds_alternative<model::FluteChange>(said.value)) flute_changed_ = true;
    }
    const auto alone = first == last ? std::get_if<Word>(&first->value) : nullptr;
    if (alone != nullptr && folded(text_of(source_, alone->range)) == "%") {
      same_bar(*alone);
      if (!full_) placer_.end_word(now_, follows(true));
    } else {
      for (auto item = first; item != last + 1 && !full_; ++item) {
        row_item(*item, item == first, item == last);
      }
    }
    for (auto item = last + 1; item != bar.items.end() && !full_; ++item) {
      placer_.end_bar(std::get<FreeBrace>(item->value), now_, follows(true));
    }
  }

  Follows follows(bool last_word) const {
    if (!last_word) return Follows::word;
    return bar_ + 1 < tree_.bars.size() ? Follows::bar : Follows::nothing;
  }

  void row_item(const Item& item, bool first, bool last) {
    if (const auto* brace = std::get_if<FreeBrace>(&item.value)) {
      placer_.inside(*brace, now_, DirectionPlacer::Inside::row);
      return;
    }
    Rational length = 1;
    if (const auto* group = std::get_if<Group>(&item.value)) {
      length = group->length;
      if (length < Rational(1)) facts().fractions.push_back({group->range, first, last});
    }
    word_item(item, length * placer_.beat());
    placer_.end_word(now_, follows(last));
  }

  // As the bar before, but for its directions.
  void same_bar(const Word& word) {
    read_attached(source_, word, WordKind::same_bar, zero(), reports_, look_alikes_);
    if (measure_index() == 0) {
      reports_.add(rule::same_bar_place, word.range, base::message("`%` has no bar before it"),
                   base::message("write the first bar out"));
      return broken_word(word.range, placer_.beat());
    }
    model::Score& score = built_.score;
    const BarFacts& before = built_.facts[measure_index() - 1];
    if (before.broken) facts().broken = true;
    const Rational length = score.measures[measure_index() - 1].length;
    const auto here_too = [&](const auto& list) {
      const auto bar_before = model::in_measure(list, measure_index() - 1);
      std::vector copies(bar_before.begin(), bar_before.end());
      for (auto& copy : copies) {
        copy.measure = measure_index();
        copy.source = word.range;
      }
      return copies;
    };
    auto notes = here_too(score.notes);
    auto rests = here_too(score.rests);
    const Before ends_with = before_;
    touch(word.range);
    if (before.held_in > Rational(0)) hold(word.range, before.held_in);
    for (model::Note& note : notes) add_note(std::move(note));
    for (model::Rest& rest : rests) add_rest(std::move(rest));
    before_ = ends_with;
    flute_changed_ = false;
    now_ = length;
  }

  void word_item(const Item& item, Rational length) {
    if (const auto* single = std::get_if<Word>(&item.value)) {
      word(*single, length);
    } else if (const auto* brackets = std::get_if<Group>(&item.value)) {
      group(*brackets, length);
    } else {
      broken_word(range_of(item), length);
    }
  }

  void group(const Group& group, Rational length) {
    Rational shares;
    for (const Item& item : group.items) {
      if (is_word(item)) shares += share_of(item);
    }
    if (shares == Rational(0)) return broken_word(group.range, length);
    const Rational share = length / shares;
    const Rational end = now_ + length;
    for (const Item& item : group.items) {
      if (full_) return;
      if (const auto* brace = std::get_if<FreeBrace>(&item.value)) {
        placer_.inside(*brace, now_, DirectionPlacer::Inside::group);
      } else {
        word_item(item, share * share_of(item));
      }
    }
    now_ = end;
  }

  // How many shares of its group an item takes; a fraction has no place in a group.
  Rational share_of(const Item& item) {
    const auto* group = std::get_if<Group>(&item.value);
    if (group == nullptr || group->length >= Rational(1)) {
      return group == nullptr ? Rational(1) : group->length;
    }
    if (!facts().broken) {
      reports_.add(rule::fraction_place, group->range,
                   base::message("a fraction of a word stands inside a group"),
                   base::message("only the first or last word of a bar may be incomplete"));
    }
    facts().broken = true;
    return 1;
  }

  void word(const Word& word, Rational length) {
    placer_.pass_word();
    WordMeaning meaning = read_word(text_of(source_, word.range), zero());
    if (auto* fault = std::get_if<Fault>(&meaning)) {
      if (fault->hint.empty() && !reports_.is_full()) fault->hint = signs_hint();
      if (fault->rule == &rule::dot_on_digit && now_ == Rational(0)) begins_ending(word, *fault);
      reports_.add(std::move(*fault), word.range);
      return broken_word(word.range, length);
    }
    auto& read = std::get<ReadWord>(meaning);
    if (read.kind == WordKind::same_bar) {
      reports_.add(rule::same_bar_place, word.range,
                   base::message("`%` does not stand alone in its bar"),
                   base::message("write the bar out, or `%` and nothing else"));
      return broken_word(word.range, length);
    }
    touch(word.range);
    const bool is_hold = read.kind == WordKind::hold;
    count(look_alikes_, read.look_alikes, word.range);
    model::Note note = read_attached(source_, word, read.kind, zero(), reports_, look_alikes_,
                                     is_hold ? held() : std::string_view());
    note.measure = measure_index();
    note.onset = now_;
    note.source = {word.range.begin,
                   word.attached.empty() ? word.range.end : word.attached.back().range.end};
    if (is_hold) {
      hold(word.range, length);
    } else if (read.kind == WordKind::rest) {
      before_ = Before::rest;
      bar_has_start_ = true;
      if (!note.marks.empty()) {
        add_rest({note.measure, note.onset, std::move(note.marks), note.source});
      }
    } else {
      note.duration = length;
      note.tone = std::move(read.tone);
      add_note(std::move(note));
    }
    flute_changed_ = false;
    now_ += length;
  }

  // The signs that there are on the flute in force.
  std::string signs_hint() const {
    model::FluteName flute = header_.header.flute.value_or(model::kDefaultFluteSize);
    for (const model::Direction& direction : built_.score.directions) {
      const auto* change = std::get_if<model::FluteChange>(&direction.value);
      if (change != nullptr) flute = change->flute;
    }
    const std::string signs = signs_of_ ? signs_of_(flute) : std::string();
    if (signs.empty()) {
      return base::message(
          "signs are 筒, 一 to 七, 0 to 8 and 2̇ to 5̇ (in ASCII 筒 is `rt`, 一 `r1`, 2̇ `d2`); `-` "
          "holds, `・` rests");
    }
    return base::message(
        "signs of this flute are {} (in ASCII 筒 is `rt`, 一 `r1`, 2̇ `d2`); `-` holds, `・` rests",
        signs);
  }

  // "1." at the start of a bar, as printed music numbers its endings.
  void begins_ending(const Word& word, Fault& fault) const {
    const std::string written = folded(text_of(source_, word.range));
    const std::string_view number = std::string_view(written).substr(0, 1);
    if (written.size() != 2 || written[1] != '.' || number > "4") return;  // endings are few
    fault.hint = base::message(
        "an ending begins with `{{ending {}}}`; a note and a rest are `{} ・`", number, number);
  }

  void broken_word(base::SourceRange range, Rational length) {
    built_.broken.push_back(range);
    facts().broken = true;
    before_ = Before::unknown;
    flute_changed_ = false;
    now_ += length;
  }

  void add_note(model::Note note) {
    if (!has_room_for(1 + note.grace_count(), note.source)) return;
    built_.score.notes.push_back(std::move(note));
    before_ = Before::note;
    bar_has_start_ = true;
  }

  // Bars that repeat the one before could make a short text long without end.
  bool has_room_for(std::size_t tones, base::SourceRange where) {
    if (full_) return false;
    tones_ += tones;
    full_ = tones_ > kMostNotes;
    if (full_) {
      reports_.add(rule::size_limit, where,
                   base::message("more than {} notes; the rest is not read", kMostNotes),
                   base::message("cut the text into several files"));
    }
    return !full_;
  }

  void add_rest(model::Rest rest) {
    if (has_room_for(1, rest.source)) built_.score.rests.push_back(std::move(rest));
  }

  // The sign that a hold here would hold, as it is written.
  std::string_view held() const {
    if (before_ != Before::note) return {};
    const std::string_view sign = text_of(source_, built_.score.notes.back().source);
    return sign == "%" ? std::string_view() : sign;
  }

  void hold(base::SourceRange range, Rational length) {
    if (!bar_has_start_) facts().held_in += length;
    if (before_ == Before::note && !flute_changed_) {
      built_.score.notes.back().duration += length;
      return;
    }
    if (before_ == Before::unknown) return;
    std::string message = base::message("this hold has no note to hold: it stands after a rest");
    std::string hint = base::message("write `・` for each beat of a rest");
    if (before_ == Before::note) {
      message = base::message("a note is not held over a change of flute");
      hint = base::message("write the note again for the new flute");
    } else if (before_ == Before::nothing) {
      message = base::message("this hold has no note to hold: the score begins here");
    }
    reports_.add(rule::hold_without_note, range, std::move(message), std::move(hint));
    before_ = Before::unknown;  // the holds after it are not told of again
  }

  model::ZeroSign zero() const { return header_.header.zero; }

  // Notes where the notes of a bar begin in a line of music.
  void touch(base::SourceRange range) {
    while (line_ + 1 < tree_.music_lines.size() &&
           tree_.music_lines[line_ + 1].begin <= range.begin) {
      ++line_;
    }
    if (segment_line_ == line_) return;
    segment_line_ = line_;
    built_.segments.push_back({range.begin, built_.score.notes.size()});
  }

  void end_score() {
    if (built_.score.notes.empty()) return;
    model::Note& last = built_.score.notes.back();
    const bool slide = last.has(model::Mark::suri);
    if (!slide && !last.slur_to_next) return;
    const bool told = !built_.broken.empty() && built_.broken.back().begin > last.source.begin;
    if (!told && !full_) {
      reports_.add(rule::no_next_note, last.source,
                   slide ? base::message("no note follows to slide to")
                         : base::message("no note follows to slur to"),
                   base::message("take `{}` out", slide ? "{suri}" : "~"));
    }
    last.slur_to_next = false;
    std::erase(last.marks, model::Mark::suri);
  }

  const base::SourceText& source_;
  const Tree& tree_;
  const HeaderReading& header_;
  const SignsOf& signs_of_;
  BuiltScore built_;
  Reports& reports_;
  LookAlikes look_alikes_;
  DirectionPlacer placer_;
  std::size_t bar_ = 0;  // of the tree
  Rational now_;         // from the start of the bar
  Before before_ = Before::nothing;
  bool bar_has_start_ = false;    // a note or rest has begun in this bar
  bool flute_changed_ = false;    // and nothing sounded since
  std::size_t line_ = 0;          // of music, at the last word
  std::size_t segment_line_ = 0;  // of the last segment, if it is of this bar
  std::optional<base::SourceRange> open_repeat_;
  std::size_t tones_ = 0;
  bool full_ = false;
};

}  // namespace

BuiltScore build_score(const base::SourceText& source, const Tree& tree,
                       const HeaderReading& header, const SignsOf& signs_of, Reports& reports) {
  return Builder(source, tree, header, signs_of, reports).run();
}

}  // namespace yubifu::notation
