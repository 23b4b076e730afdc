#include "check/form_checks.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/message.h"
#include "check/rules.h"
#include "model/measure_report.h"
#include "model/play_out.h"

namespace yubifu::check {
namespace {

using base::message;
using model::Measure;
using model::Note;
using model::Rational;
using model::Score;

bool is_short(const Measure& measure) {
  return !measure.meter.is_free() && !measure.irregular && measure.length < measure.meter.length();
}

bool ends_passage(const Score& score, std::size_t index) {
  const Measure& here = score.measures[index];
  return here.repeat_end || here.right != model::BarStyle::regular ||
         index + 1 == score.measures.size() || ending_stops(score, index);
}

class ShortBars {
 public:
  explicit ShortBars(const Score& score) : score_(score) {}

  base::Diagnostics run() {
    std::size_t passage = 0;
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      if (score_.measures[i].repeat_start) passage = i;
      if (!ends_passage(score_, i)) continue;
      if (is_short(score_.measures[i])) check(i, passage);
      // Endings of one repeat lead back to the same start.
      if (score_.measures[i].ending.empty()) passage = i + 1;
    }
    return std::move(found_);
  }

 private:
  // The rest of the bar stands behind the sign, at the start of the passage or at that of the
  // score; another ending is no rest of this one.
  void check(std::size_t end, std::size_t passage) {
    std::optional<std::size_t> partner;
    for (const std::size_t candidate : {end + 1, passage, std::size_t{0}}) {
      if (candidate == end || candidate >= score_.measures.size()) continue;
      if (candidate > end && ending_starts(score_, candidate)) continue;
      const Measure& other = score_.measures[candidate];
      if (!is_short(other)) continue;
      if (adds_up(score_.measures[end], other)) return;
      if (!partner) partner = candidate;
    }
    if (!partner) return;
    const Measure& here = score_.measures[end];
    const Measure& other = score_.measures[*partner];
    base::Diagnostic found = model::report_measure(
        rule::short_bars, here,
        message("bar {} lasts {} of a whole note and bar {} {}: together not a bar of {}",
                other.number, beat_text(other.length), here.number, beat_text(here.length),
                to_text(here.meter)),
        message("lengthen or shorten one of them, if they are meant to make one bar"));
    found_.push_back(std::move(found));
  }

  static bool adds_up(const Measure& a, const Measure& b) {
    try {
      return a.length + b.length == a.meter.length();
    } catch (const model::TimeOverflow&) {
      return false;
    }
  }

  const Score& score_;
  base::Diagnostics found_;
};

std::string called(const std::string& verse) {
  return verse == model::kShogaVerse ? message("the shoga") : message("verse {}", verse);
}

class SongChecks {
 public:
  explicit SongChecks(const Score& score) : score_(score) {}

  base::Diagnostics run(fingering::Origin origin) {
    for (const std::string& verse : score_.verses) {
      unfinished(verse);
      if (origin == fingering::Origin::staff) gaps(verse);
    }
    return std::move(found_);
  }

 private:
  static const model::Syllable* syllable_of(const Note& note, const std::string& verse) {
    for (const model::Syllable& syllable : note.syllables) {
      if (syllable.verse == verse) return &syllable;
    }
    return nullptr;
  }

  base::Diagnostic at_note(const base::Rule& rule, const Note& note, std::string text,
                           std::string hint) const {
    base::Diagnostic found = base::report(rule, note.source, std::move(text), std::move(hint));
    found.measures.push_back(score_.measures[note.measure].number);
    return found;
  }

  void unfinished(const std::string& verse) {
    const Note* open = nullptr;
    const auto report_open = [&] {
      if (open == nullptr) return;
      found_.push_back(at_note(rule::syllable_unfinished, *open,
                               message("\"{}-\" in {} has no next syllable",
                                       syllable_of(*open, verse)->text, called(verse)),
                               message("add the rest of the word, or take the hyphen out")));
    };
    for (const Note& note : score_.notes) {
      const model::Syllable* syllable = syllable_of(note, verse);
      if (syllable == nullptr || syllable->extends) continue;
      if (!continues_word(syllable->kind)) report_open();
      open = word_goes_on(syllable->kind) ? &note : nullptr;
    }
    report_open();
  }

  void gaps(const std::string& verse) {
    std::optional<base::Diagnostic> gap;
    std::vector<const Note*> waiting;  // since the last syllable
    std::size_t count = 0;
    bool begun = false;
    bool slurred = false;
    for (const Note& note : score_.notes) {
      const model::Syllable* syllable = syllable_of(note, verse);
      const bool carried = slurred;
      slurred = note.slur_to_next;
      if (syllable == nullptr) {
        if (begun && !carried) waiting.push_back(&note);
        continue;
      }
      begun = true;
      for (const Note* empty : waiting) {
        ++count;
        if (!gap) gap = at_note(rule::song_gap, *empty, {}, {});
        const std::string& number = score_.measures[empty->measure].number;
        if (gap->measures.back() != number) gap->measures.push_back(number);
      }
      waiting.clear();
    }
    if (!gap) return;
    gap->message = count == 1 ? message("{} leaves a note without text", called(verse))
                              : message("{} leaves {} notes without text", called(verse), count);
    gap->hint = message("extend the syllable before them, or slur the notes it is sung to");
    found_.push_back(*std::move(gap));
  }

  const Score& score_;
  base::Diagnostics found_;
};

}  // namespace

base::Diagnostics check_bars(const Score& score) {
  base::Diagnostics found = ShortBars(score).run();
  base::append(found, model::played_order(score).diagnostics);
  return found;
}

base::Diagnostics check_song(const Score& score, fingering::Origin origin) {
  return SongChecks(score).run(origin);
}

}  // namespace yubifu::check
