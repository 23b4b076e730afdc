#include "fingering/resolve.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "base/message.h"
#include "base/numbers.h"
#include "fingering/flute_line.h"
#include "fingering/melody.h"
#include "fingering/rules.h"
#include "fingering/tones.h"
#include "fingering/wording.h"
#include "model/note.h"
#include "model/pitch.h"
#include "model/strokes.h"

namespace yubifu::fingering {
namespace {

// The pattern that was asked for, where the entry has it; else the preferred one.
std::size_t pattern_of(const flute::Entry& entry, const std::optional<model::HolePattern>& asked) {
  const auto& all = entry.patterns;
  const auto at = asked ? std::find(all.begin(), all.end(), *asked) : all.end();
  return at == all.end() ? 0 : static_cast<std::size_t>(at - all.begin());
}

// The pitch that a gap is spelled with, its bend included.
double spelled_cents(const model::Tone& gap) {
  return model::kSemitoneCents * midi_key(*gap.spelling) + gap.fingering->bend_cents;
}

// Whether the spelling still names the pitch; that of a gap may lie a bend away from it.
bool spelling_fits(const model::Tone& tone) {
  if (!tone.spelling) return false;
  if (!tone.fingering || !tone.fingering->is_gap()) {
    return midi_key(*tone.spelling) == tone.pitch->key;
  }
  return std::abs(spelled_cents(tone) - tone.pitch->total_cents()) < 1;
}

// Whether all fingers are to be found anew.
bool all_anew(const ResolveOptions& options, const std::vector<NamedFlute>& own,
              const std::vector<NamedFlute>& now) {
  if (options.refinger == Refinger::all || options.move_semitones != 0) return true;
  const int* octaves = std::get_if<int>(&options.octave);
  if (octaves && *octaves != 0) return true;
  if (options.origin == Origin::fingers) return false;
  return !std::equal(own.begin(), own.end(), now.begin(), now.end(),
                     [](const NamedFlute& a, const NamedFlute& b) { return a.name == b.name; });
}

// What repeats from note to note is told once; its bars are named where no place tells them.
std::string bars_where_needed(const base::Finding& finding) {
  const base::Diagnostic& told = finding.told;
  return told.where && told.measures.size() == 1 ? told.message : base::bars_last(finding);
}

class Resolver {
 public:
  // `own` are the flutes that the score names, `now` those it will be played on.
  Resolver(model::Score& score, const ResolveOptions& options, const FluteLine& own,
           const FluteLine& now, bool anew)
      : score_(score), options_(options), own_(own), now_(now), anew_(anew) {
    for (const auto& flute : now.flutes) works_.emplace_back(*flute, options.effort);
  }

  // Tells how far the melody was moved, then what was found in it.
  Resolved run(base::Diagnostics& diagnostics) {
    for (const TimedTone& tone : places_) tones_.push_back(melody_tone(tone));
    Resolved resolved;
    const bool octave_is_ours = finds_octave();
    resolved.octave_shift = octave_shift(octave_is_ours, diagnostics);
    shift_cents_ = model::kSemitoneCents * options_.move_semitones +
                   model::kOctaveCents * resolved.octave_shift;
    const FingeredMelody melody = finger(tones_, works_, shift_cents_, options_.allowed);
    resolved.effort = melody.path.total;
    for (std::size_t i = 0; i < tones_.size(); ++i) write_back(i, melody);
    const double moved = now_.at(0).ichi().total_cents() - own_.at(0).ichi().total_cents();
    model::move_keys(score_, anew_ ? options_.move_semitones
                                   : static_cast<int>(std::lround(moved / model::kSemitoneCents)));
    spell();
    using How = FingeredScore;
    const FingeredScore fingered{score_,
                                 places_,
                                 tones_,
                                 works_,
                                 options_,
                                 shift_cents_,
                                 anew_ ? How::Fingers::found : How::Fingers::kept,
                                 octave_is_ours ? How::Octave::found : How::Octave::given};
    report_gaps(fingered, findings_);
    if (options_.explain == Explain::every_tone) {
      resolved.explanation = explanation(fingered, melody);
    }
    base::append(diagnostics, findings_.diagnostics(model::BarNumbers{score_}, bars_where_needed));
    return resolved;
  }

 private:
  void report(const base::Rule& rule, std::size_t note, const Wording& wording) {
    const model::Note& where = score_.notes[note];
    findings_.add(base::report(rule, where.source, wording.message, wording.hint), where.measure);
  }

  const model::Note& note_of(const TonePlace& place) const { return score_.notes[place.note]; }

  bool keeps_fingers(const model::Tone& tone) const { return !anew_ && tone.fingering; }

  // What a tone sounds before anything is changed, in cents.
  std::optional<double> own_cents(const model::Tone& tone, std::size_t measure) const {
    const flute::Flute& flute = own_.at(measure);
    std::optional<model::Pitch> sound;
    if (tone.fingering && tone.fingering->is_gap() && tone.spelling) return spelled_cents(tone);
    if (tone.fingering) sound = flute.sound(*tone.fingering);
    const bool from_pitch = options_.origin != Origin::fingers && tone.pitch;
    const bool differs = sound && from_pitch && !agrees(*tone.pitch, *sound, flute.ichi());
    if (sound && !differs) return sound->total_cents();
    if (!tone.pitch) return std::nullopt;
    const bool nominal = options_.origin == Origin::staff && tone.pitch->cents == 0 &&
                         std::holds_alternative<model::FluteSize>(flute.name());
    return tone.pitch->total_cents() + (nominal ? flute.ichi().cents : 0);
  }

  MelodyTone melody_tone(const TimedTone& timed) {
    const model::Note& note = note_of(timed.place);
    const model::Tone& tone = tone_at(std::as_const(score_), timed.place);
    MelodyTone made;
    made.flute = now_.index_at(note.measure);
    made.haste_into = haste(timed.seconds_into);
    check_agreement(timed.place.note, tone);
    const bool is_main = timed.place.role == ToneRole::main;
    if (is_main) check_asked_holes(timed.place.note, *now_.flutes[made.flute]);
    if (keeps_fingers(tone) && tone.fingering->is_gap()) return made;
    const flute::Flute& played_on =
        keeps_fingers(tone) ? *now_.flutes[made.flute] : own_.at(note.measure);
    std::optional<std::size_t> entry;
    if (tone.fingering && !tone.fingering->is_gap()) {
      entry = played_on.find(*tone.fingering);
      if (!entry) report_missing(timed.place.note, tone, played_on);
    }
    if (keeps_fingers(tone) && entry) {
      made.fixed = {
          *entry,
          pattern_of(played_on.entries()[*entry], is_main ? note.asked_holes : std::nullopt),
          tone.fingering->bend_cents};
      if (!played_on.bend_limit(*entry).allows(tone.fingering->bend_cents)) {
        report(rule::bend_too_far, timed.place.note, far_bend(played_on, *tone.fingering, *entry));
      }
    } else {
      made.wanted = own_cents(tone, note.measure);
    }
    return made;
  }

  void check_agreement(std::size_t note, const model::Tone& tone) {
    if (!tone.fingering || !tone.fingering->sign || !tone.pitch) return;
    const flute::Flute& flute = own_.at(score_.notes[note].measure);
    const auto sound = flute.sound(*tone.fingering);
    if (!sound || agrees(*tone.pitch, *sound, flute.ichi())) return;
    report(rule::fingering_disagrees, note, disagreement(flute, tone, sound->key));
  }

  void check_asked_holes(std::size_t note, const flute::Flute& flute) {
    const auto& asked = score_.notes[note].asked_holes;
    if (!asked || asked->holes.size() == flute.hole_count()) return;
    report(rule::holes_of_another_flute, note,
           {base::message("the pattern {} has {} holes, {} has {}", printed(*asked),
                          asked->holes.size(), called(flute), flute.hole_count()),
            base::message("give one sign a hole, from the mouth end to the foot")});
  }

  void report_missing(std::size_t note, const model::Tone& tone, const flute::Flute& flute) {
    const bool half = tone.fingering->half != model::HalfHole::none &&
                      flute.find({tone.fingering->sign, model::HalfHole::none, 0});
    const auto [message, hint] =
        half ? missing_half_hole(flute, *tone.fingering) : missing_sign(flute, *tone.fingering);
    // With a pitch beside it the note is not lost.
    base::Diagnostic told =
        base::report(half ? rule::half_hole_not_on_flute : rule::sign_not_on_flute,
                     score_.notes[note].source, message, hint);
    told.severity = tone.pitch ? base::Severity::warning : base::Severity::error;
    findings_.add(std::move(told), score_.notes[note].measure);
  }

  // Whether the octave is ours to find; asked before fingers are written back.
  bool finds_octave() const {
    if (std::holds_alternative<int>(options_.octave)) return false;
    return std::none_of(places_.begin(), places_.end(), [&](const TimedTone& timed) {
      return keeps_fingers(tone_at(std::as_const(score_), timed.place));
    });
  }

  int octave_shift(bool is_ours, base::Diagnostics& diagnostics) const {
    if (const int* fixed = std::get_if<int>(&options_.octave)) return *fixed;
    if (!is_ours) return 0;
    const double moved = model::kSemitoneCents * options_.move_semitones;
    const ShiftedMelody best = in_best_octave(tones_, works_, moved, options_.allowed);
    if (best.lie.octave != 0) {
      const auto [message, hint] = shift(*now_.flutes[tones_.front().flute], best.lie, best.others);
      diagnostics.push_back(base::report(rule::octave_shifted, std::nullopt, message, hint));
    }
    return best.lie.octave;
  }

  void write_back(std::size_t i, const FingeredMelody& melody) {
    const MelodyTone& from = tones_[i];
    const flute::Flute& flute = works_[from.flute].flute();
    model::Tone& tone = tone_at(score_, places_[i].place);
    const std::optional<model::Fingering> before = tone.fingering;
    tone.holes.reset();
    if (melody.path.chosen[i]) {
      const Candidate& candidate = melody.tasks[i].candidates[*melody.path.chosen[i]];
      if (!from.fixed) tone.fingering = fingering_of(flute, candidate);
      tone.holes = flute.entries()[candidate.entry].patterns[candidate.pattern];
      tone.pitch = flute.sound(*tone.fingering);
    } else if (from.wanted) {
      make_gap(tone, *from.wanted + shift_cents_);
    } else if (keeps_fingers(tone) && tone.fingering->is_gap() && tone.spelling) {
      // A gap moves with the flute, as the fingers around it do.
      const std::size_t measure = note_of(places_[i].place).measure;
      const double moved =
          now_.at(measure).ichi().total_cents() - own_.at(measure).ichi().total_cents();
      if (moved != 0) {
        make_gap(tone, spelled_cents(tone) + moved);
      } else {
        tone.pitch = model::pitch_at(spelled_cents(tone));
      }
    }
    if (places_[i].place.role == ToneRole::main) drop_asked_holes(places_[i].place.note, before);
  }

  static void make_gap(model::Tone& tone, double total_cents) {
    const model::Pitch pitch = model::pitch_at(total_cents);
    tone.fingering = model::Fingering{std::nullopt, model::HalfHole::none,
                                      static_cast<int>(std::lround(pitch.cents))};
    tone.pitch = pitch;
  }

  void drop_asked_holes(std::size_t index, const std::optional<model::Fingering>& before) {
    model::Note& note = score_.notes[index];
    if (!note.asked_holes || !before) return;
    const model::Fingering& after = *note.tone.fingering;
    if (before->sign == after.sign && before->half == after.half) return;
    report(rule::asked_holes_left_out, index,
           {base::message("the pattern {} was asked for {}, which is {} now",
                          printed(*note.asked_holes), printed(*before),
                          after.is_gap() ? base::message("a gap") : printed(after)),
            base::message("it is left out")});
    note.asked_holes.reset();
  }

  void spell() {
    std::vector<int> pitches;
    for (const TimedTone& timed : places_) {
      const model::Tone& tone = tone_at(std::as_const(score_), timed.place);
      if (tone.pitch) pitches.push_back(tone.pitch->key);
    }
    model::Key key = score_.header.key.value_or(model::find_key(pitches));
    auto direction = score_.directions.begin();
    for (const TimedTone& timed : places_) {
      const model::Note& note = note_of(timed.place);
      const auto place = std::pair(note.measure, note.onset);
      for (; direction != score_.directions.end() &&
             std::pair(direction->measure, direction->onset) <= place;
           ++direction) {
        const auto* change = std::get_if<model::KeyChange>(&direction->value);
        if (change != nullptr) key = change->key;
      }
      model::Tone& tone = tone_at(score_, timed.place);
      if (!tone.pitch || spelling_fits(tone)) continue;
      tone.spelling = model::spell_in_key(tone.pitch->key, key);
    }
  }

  model::Score& score_;
  const ResolveOptions& options_;
  const FluteLine& own_;
  const FluteLine& now_;
  bool anew_;
  base::Findings findings_;
  std::vector<TimedTone> places_ = timed_tones(score_);
  std::vector<Fingerwork> works_;
  std::vector<MelodyTone> tones_;
  double shift_cents_ = 0;
};

constexpr int kKeysOfOctave = 12;
constexpr std::size_t kFewestSigns = 3;  // of a verse that is taken for fingering

// The fingering or gap that a syllable spells.
std::optional<model::Tone> tone_of(const model::Syllable& syllable) {
  if (syllable.kind != model::SyllableKind::single) return std::nullopt;
  const std::string_view text = model::without_strokes(syllable.text);
  if (auto gap = model::parse_gap(text)) return gap;
  const auto fingering = model::parse_printed(text);
  if (!fingering) return std::nullopt;
  model::Tone tone;
  tone.fingering = fingering;
  return tone;
}

// By how many octaves a tone with a fingering lies over a pitch; nothing when it is another note.
std::optional<int> octaves_over(const model::Pitch& written, const model::Tone& tone,
                                const flute::Flute& flute) {
  const bool is_gap = tone.fingering->is_gap();
  if (is_gap && !tone.spelling) return std::nullopt;
  const auto sound =
      is_gap ? model::Pitch{model::midi_key(*tone.spelling), 0} : flute.sound(*tone.fingering);
  if (!sound) return std::nullopt;
  const auto octaves = static_cast<int>(
      std::lround((sound->total_cents() - written.total_cents()) / model::kOctaveCents));
  model::Pitch there = written;
  there.key += kKeysOfOctave * octaves;
  if (!agrees(there, *sound, flute.ichi())) return std::nullopt;
  return octaves;
}

// A note and the fingers or the gap that are said of it.
using Fingered = std::pair<const model::Note*, model::Tone>;

// By how many octaves the tones lie over the notes they stand on; nothing where they do not all lie
// alike, or where there are too few signs among them.
std::optional<int> shared_octaves(const std::vector<Fingered>& fingered, const FluteLine& flutes) {
  std::optional<int> shared;
  std::size_t signs = 0;
  for (const auto& [note, tone] : fingered) {
    if (!note->tone.pitch) return std::nullopt;
    const auto octaves = octaves_over(*note->tone.pitch, tone, flutes.at(note->measure));
    if (!octaves || shared.value_or(*octaves) != *octaves) return std::nullopt;
    shared = octaves;
    if (!tone.fingering->is_gap()) ++signs;
  }
  return signs >= kFewestSigns ? shared : std::nullopt;
}

// By how many octaves a verse lies over the notes; nothing if it is no annotation.
std::optional<int> octaves_of_verse(const model::Score& score, const std::string& verse,
                                    const FluteLine& flutes) {
  std::vector<Fingered> fingered;
  for (const model::Note& note : score.notes) {
    const model::Syllable* syllable = note.syllable_of(verse);
    if (!syllable) continue;
    const auto tone = tone_of(*syllable);
    if (!tone) return std::nullopt;
    fingered.emplace_back(&note, *tone);
  }
  return shared_octaves(fingered, flutes);
}

// A numbered verse after `gone` takes the number before its own.
std::string moved_up(const std::string& verse, const std::string& gone) {
  const auto number = base::whole_number(verse);
  const auto limit = base::whole_number(gone);
  return number && limit && *number > *limit ? std::to_string(*number - 1) : verse;
}

// Turns a verse into the fingering of its notes, if it has at least three signs, and nothing but
// printed signs (perhaps with half hole, bend and strokes) and gaps, and all of them give the
// note's pitch, to the nearest semitone, on the flute in force, or, on a staff, where annotate may
// have put them there, lie one same number of whole octaves from it. Songs that count 一 二 三 stay
// songs. Numbered verses after the adopted one move up. Gives the octaves by which the notes have
// moved to where the verse lay.
int adopt_annotation(model::Score& score, const FluteLine& flutes, Origin origin,
                     base::Diagnostics& diagnostics) {
  int moved = 0;
  const auto found =
      std::find_if(score.verses.begin(), score.verses.end(), [&](const std::string& verse) {
        const auto octaves = octaves_of_verse(score, verse, flutes);
        moved = octaves.value_or(0);
        return octaves && (moved == 0 || origin == Origin::staff);
      });
  if (found == score.verses.end() || !model::move_octaves(score.notes, moved)) return 0;
  const std::string verse = *found;
  score.verses.erase(found);
  for (std::string& other : score.verses) other = moved_up(other, verse);
  for (model::Note& note : score.notes) {
    if (const model::Syllable* syllable = note.syllable_of(verse)) {
      const auto tone = tone_of(*syllable);
      note.tone.fingering = tone->fingering;
      if (tone->spelling) note.tone.spelling = tone->spelling;
    }
    std::erase_if(note.syllables, [&](const model::Syllable& s) { return s.verse == verse; });
    for (model::Syllable& other : note.syllables) other.verse = moved_up(other.verse, verse);
  }
  diagnostics.push_back(base::report(
      rule::annotation_taken, {}, base::message("verse {} is read as the fingering", verse),
      base::message("every text in it is the sign of its note on {}", called(flutes.at(0)))));
  return moved;
}

bool has_fingers(const model::Score& score) {
  return std::any_of(score.notes.begin(), score.notes.end(),
                     [](const model::Note& note) { return note.tone.fingering.has_value(); });
}

// Fingers of a file that does not say that they are ours, and where they were moved.
void take_annotation(model::Score& score, Origin origin, const FluteLine& flutes,
                     base::Diagnostics& diagnostics) {
  int octaves = 0;
  if (!has_fingers(score)) {
    octaves = adopt_annotation(score, flutes, origin, diagnostics);
  } else if (origin == Origin::staff && !score.header.flute) {
    // Annotated in another octave, the notes move to where the fingers sound.
    std::vector<Fingered> fingered;
    for (const model::Note& note : score.notes) {
      const auto& fingers = note.tone.fingering;
      if (fingers && !fingers->is_gap()) fingered.emplace_back(&note, note.tone);
    }
    octaves = shared_octaves(fingered, flutes).value_or(0);
    if (!model::move_octaves(score.notes, octaves)) octaves = 0;
  }
  if (octaves == 0) return;
  const std::string far = model::octaves_text(octaves);
  diagnostics.push_back(base::report(
      rule::octave_shifted, {},
      octaves > 0
          ? base::message("the fingering lies {} above the written notes, and so it sounds", far)
          : base::message("the fingering lies {} below the written notes, and so it sounds", far)));
}

}  // namespace

base::Outcome<Resolved> resolve(model::Score score, const ResolveOptions& options) {
  base::Outcome<Resolved> outcome;
  const FluteSupply supply = options.flutes ? options.flutes : built_in_size;
  const double tuning =
      options.tuning_hz.value_or(score.header.tuning_hz.value_or(model::kConcertPitchHz));
  const auto own_names =
      named_flutes(score, options.flute.value_or(model::FluteName(model::kDefaultFluteSize)));
  if (!score.header.flute && !options.flute) {
    outcome.diagnostics.push_back(base::report(
        rule::no_flute_given, {}, base::message("no flute is named, so size 8 is taken"),
        base::message("name one in the score, or with --flute")));
  }
  base::Outcome<std::vector<NamedFlute>> now_names{own_names, {}};
  if (options.flute) now_names = replaced(own_names, *options.flute, score);
  base::append(outcome.diagnostics, std::move(now_names.diagnostics));
  auto own = load_flutes(own_names, supply, tuning);
  base::append(outcome.diagnostics, std::exchange(own.diagnostics, {}));
  auto now = options.flute ? load_flutes(*now_names.value, supply, tuning) : own;
  base::append(outcome.diagnostics, std::move(now.diagnostics));
  if (!own.value || !now.value) return outcome;

  if (options.origin != Origin::fingers) {
    take_annotation(score, options.origin, *own.value, outcome.diagnostics);
  }
  ResolveOptions settled = options;
  if (std::holds_alternative<UsualOctave>(options.octave)) {
    const bool stays =
        options.origin == Origin::fingers || score.header.flute || has_fingers(score);
    settled.octave = stays ? OctaveChoice(0) : OctaveChoice(AutoOctave{});
  }
  Resolved resolved = Resolver(score, settled, *own.value, *now.value,
                               all_anew(settled, own_names, *now_names.value))
                          .run(outcome.diagnostics);
  if (options.flute || options.origin != Origin::fingers) write_names(score, *now_names.value);
  if (options.tuning_hz) score.header.tuning_hz = options.tuning_hz;
  // A score without bars has no place for a flute.
  const bool has_bars = !score.measures.empty();
  if (has_bars) score.flutes.clear();
  for (const auto& [measure, index] : now.value->stretches) {
    const flute::Flute& flute = *resolved.flutes.emplace_back(now.value->flutes[index]);
    if (!has_bars) continue;
    score.flutes.push_back({measure, flute.name(), flute.title(), flute.ichi(), flute.tuning_hz()});
  }
  resolved.score = std::move(score);
  outcome.value = std::move(resolved);
  return outcome;
}

}  // namespace yubifu::fingering
