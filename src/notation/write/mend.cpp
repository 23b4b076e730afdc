#include <algorithm>
#include <set>
#include <utility>
#include <vector>

#include "base/findings.h"
#include "base/message.h"
#include "notation/characters.h"
#include "notation/rules.h"
#include "notation/write/text.h"
#include "notation/write/writable.h"

namespace yubifu::notation {
namespace {

using model::Direction;
using model::Note;
using model::Rational;

const model::Sign kZero("0");

// Visits each text that a user may have written over several lines, with its measure if it has one.
template <typename Score, typename Visit>
void for_each_text(Score& score, const Visit& visit) {
  auto& header = score.header;
  for (auto* text : {&header.title, &header.subtitle, &header.composer, &header.lyricist,
                     &header.source, &header.rights}) {
    visit(*text, std::nullopt);
  }
  for (auto& field : header.unknown) visit(field.value, std::nullopt);
  for (auto& comment : header.comments) visit(comment, std::nullopt);
  for (std::size_t i = 0; i < score.measures.size(); ++i) {
    for (auto& comment : score.measures[i].comments) visit(comment.text, i);
  }
  for (auto& note : score.notes) {
    for (auto& syllable : note.syllables) visit(syllable.text, note.measure);
  }
  for (auto& direction : score.directions) {
    if (auto* text = model::free_text(direction.value)) visit(*text, direction.measure);
  }
}

bool holds_zero(const Note& note) {
  return any_tone(note, [](const model::Tone& tone) {
    return tone.fingering && tone.fingering->sign == kZero;
  });
}

class Mender {
 public:
  explicit Mender(const model::Score& score) : score_(score) {}

  Mended run() {
    zero();
    fields();
    texts();
    repeats();
    directions();
    flutes();
    syllables();
    return std::move(mended_);
  }

 private:
  using Measures = std::vector<std::size_t>;

  // The score as it is so far.
  const model::Score& now() const { return mended_.score ? *mended_.score : score_; }

  model::Score& edit() {
    if (!mended_.score) mended_.score = score_;
    return *mended_.score;
  }

  void add(const base::Rule& rule, std::string message, std::string hint,
           const Measures& measures) {
    const std::size_t cases = std::max<std::size_t>(1, measures.size());  // without bars: one
    base::tell(mended_.diagnostics,
               {base::report(rule, {}, std::move(message), std::move(hint)), cases, measures},
               model::BarNumbers{score_});
  }

  void zero() {
    if (score_.header.zero == model::ZeroSign::cross) return;
    if (std::none_of(score_.notes.begin(), score_.notes.end(), holds_zero)) return;
    edit().header.zero = model::ZeroSign::cross;
    add(rule::zero_is_taken,
        base::message("`zero: tube` is left out, since a note is the cross-fingering 0"),
        base::message("the tube tones are written 筒"), {});
  }

  void fields() {
    const model::Header& header = score_.header;
    std::vector<model::HeaderField> good;
    for (const model::HeaderField& field : header.unknown) {
      if (is_writable_field(header, field)) {
        good.push_back(field);
        continue;
      }
      edit().header.comments.push_back(field.key + ": " + field.value);
      add(rule::unwritable_header,
          base::message("the header field {} is kept as a comment", shown(field.key)),
          base::message("rename it to one word of its own"), {});
    }
    if (good.size() != header.unknown.size()) edit().header.unknown = std::move(good);
  }

  void texts() {
    bool found = false;
    Measures measures;
    for_each_text(now(), [&](const std::string& text, std::optional<std::size_t> measure) {
      if (!has_line_end(text)) return;
      found = true;
      if (measure) measures.push_back(*measure);
    });
    if (!found) return;
    for_each_text(edit(), [](std::string& text, auto) { text = on_one_line(text); });
    add(rule::text_on_one_line, base::message("the lines of a text are joined to one"), {},
        measures);
  }

  // Repeats do not nest: playing goes back to the nearest start, so one before that does nothing.
  void repeats() {
    Measures idle;
    bool start_follows = false;
    for (std::size_t i = score_.measures.size(); i-- > 0;) {
      const model::Measure& measure = score_.measures[i];
      if (measure.repeat_end) start_follows = false;
      if (!measure.repeat_start) continue;
      if (start_follows) idle.push_back(i);
      start_follows = true;
    }
    if (idle.empty()) return;
    model::Score& score = edit();
    for (const std::size_t i : idle) score.measures[i].repeat_start = false;
    model::mark_irregular(score);
    add(rule::idle_repeat, base::message("a repeat begins again before it has ended"),
        base::message("end the first one, or take its start out"), idle);
  }

  void directions() {
    Measures measures;
    std::vector<bool> undone(score_.directions.size(), false);
    for (std::size_t i = 0; i < score_.directions.size(); ++i) {
      const Direction& here = score_.directions[i];
      if (model::kind_of(here.value).at_one_place != model::AtOnePlace::one) continue;
      for (std::size_t later = i + 1; later < score_.directions.size(); ++later) {
        const Direction& other = score_.directions[later];
        if (other.measure != here.measure || other.onset != here.onset) break;
        if (other.value.index() != here.value.index()) continue;
        undone[i] = true;
        break;
      }
      if (undone[i]) measures.push_back(here.measure);
    }
    if (measures.empty()) return;
    std::vector<Direction> kept;
    for (std::size_t i = 0; i < undone.size(); ++i) {
      if (!undone[i]) kept.push_back(now().directions[i]);
    }
    edit().directions = std::move(kept);
    add(rule::undone_direction,
        base::message("of two tempos, keys, beats or flutes at one place the last is kept"), {},
        measures);
  }

  void flutes() {
    std::set<std::size_t> changes;
    for (const Direction& direction : score_.directions) {
      if (std::holds_alternative<model::FluteChange>(direction.value)) {
        changes.insert(direction.measure);
      }
    }
    if (changes.empty()) return;
    Measures measures;
    std::vector<Note> notes;
    for (const Note& whole : now().notes) {
      notes.push_back(whole);
      Rational left = whole.onset + whole.duration;
      for (std::size_t m = whole.measure; left > score_.measures[m].length; ++m) {
        left -= score_.measures[m].length;
        if (changes.count(m + 1) == 0) continue;
        measures.push_back(m + 1);
        notes.back().duration -= left;
        notes.push_back(struck_anew(notes.back(), m + 1, left));
        notes[notes.size() - 2].slur_to_next = false;
      }
    }
    if (measures.empty()) return;
    edit().notes = std::move(notes);
    add(rule::held_over_flute,
        base::message("a note is held while the flute changes; it is struck anew"),
        base::message("end the note before the change"), measures);
  }

  static Note struck_anew(const Note& first, std::size_t measure, Rational duration) {
    Note note;
    note.measure = measure;
    note.duration = duration;
    note.tone = first.tone;
    note.slur_to_next = first.slur_to_next;
    for (const model::Syllable& syllable : first.syllables) {
      note.syllables.push_back({syllable.verse, "", model::SyllableKind::single, true});
    }
    return note;
  }

  void syllables() {
    std::set<std::string> begun;
    Measures measures;
    for (std::size_t i = 0; i < now().notes.size(); ++i) {
      for (const model::Syllable& syllable : now().notes[i].syllables) {
        if (!syllable.extends) {
          begun.insert(syllable.verse);
        } else if (begun.count(syllable.verse) == 0) {
          measures.push_back(now().notes[i].measure);
        }
      }
      // Verses begin with a syllable nearly always; the set need not be asked for every note.
      if (begun.size() == score_.verses.size()) break;
    }
    if (measures.empty()) return;
    model::Score& score = edit();
    std::set<std::string> sung;
    for (Note& note : score.notes) {
      std::erase_if(note.syllables, [&](const model::Syllable& syllable) {
        if (!syllable.extends) sung.insert(syllable.verse);
        return syllable.extends && sung.count(syllable.verse) == 0;
      });
    }
    add(rule::carried_nothing, base::message("a syllable is carried on before there is one"), {},
        measures);
  }

  const model::Score& score_;
  Mended mended_;
};

}  // namespace

Mended mend(const model::Score& score) {
  return Mender(score).run();
}

}  // namespace yubifu::notation
