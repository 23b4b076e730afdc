#include "notation/read/direction_placer.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "base/utf8.h"
#include "base/word_table.h"
#include "notation/characters.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

using model::PlaceInMeasure;

constexpr std::string_view kBeat = model::BeatChange::kWord;

// At the start of a bar the meter acts first, then the beat, wherever they stand.
int rank(std::string_view word) {
  if (word == kMeter) return 0;
  return word == kBeat ? 1 : 2;
}

std::optional<Fault> unusual_dynamic(const model::DirectionValue& value) {
  const auto* dynamic = std::get_if<model::Dynamic>(&value);
  if (dynamic == nullptr) return std::nullopt;
  const std::vector<std::string_view> levels = model::dynamic_words();
  if (std::find(levels.begin(), levels.end(), dynamic->level) != levels.end()) return std::nullopt;
  const auto near = base::nearest_word(dynamic->level, levels);
  return Fault{&rule::unknown_dynamic,
               base::message("{} is no usual dynamic; it is kept as text", shown(dynamic->level)),
               near ? base::message("did you mean `{}`?", *near)
                    : base::message("usual levels are pp, p, mp, mf, f and ff")};
}

}  // namespace

DirectionPlacer::DirectionPlacer(const base::SourceText& source, const HeaderReading& header,
                                 model::Score& score, std::vector<BarFacts>& facts,
                                 Reports& reports)
    : source_(source),
      header_(header),
      score_(score),
      facts_(facts),
      reports_(reports),
      meter_(header.header.meter),
      beat_(model::first_beat(header.header)),
      meter_known_(header.time_known),
      beat_known_(header.time_known) {}

void DirectionPlacer::start_bar(const Bar& bar) {
  std::erase_if(said_, [](const std::string& word) { return word != kBeat; });
  const auto word_of = [&](const FreeBrace& brace) {
    return take_apart(text_of(source_, brace.range)).name;
  };
  std::vector<FreeBrace> braces;
  for (const FreeBrace& brace : bar.between) {
    const bool ends_bar = place_of_word(word_of(brace)) == PlaceInMeasure::end;
    if (ends_bar && score_.measures.size() > 1) {
      const std::size_t before = score_.measures.size() - 2;
      if (auto known = read(brace)) add(before, score_.measures[before].length, *known);
    } else {
      braces.push_back(brace);
    }
  }
  for (const Item& item : bar.items) {
    const auto* brace = std::get_if<FreeBrace>(&item.value);
    if (brace == nullptr) break;
    braces.push_back(*brace);
  }
  std::stable_sort(braces.begin(), braces.end(), [&](const FreeBrace& a, const FreeBrace& b) {
    return rank(word_of(a)) < rank(word_of(b));
  });
  for (const FreeBrace& brace : braces) start(brace);
  model::Measure& measure = score_.measures.back();
  measure.meter = meter_;
  measure.beat = beat_;
  measure.ending = ending_;
  facts_.back().time_known = meter_known_ && beat_known_;
}

std::optional<DirectionPlacer::Read> DirectionPlacer::read(const FreeBrace& brace) {
  const Brace parts = take_apart(text_of(source_, brace.range));
  Read read{brace.range, parts.name, read_direction(parts, model::felt_beat(meter_, beat_)),
            place_of_word(parts.name).value_or(PlaceInMeasure::anywhere)};
  if (auto* fault = std::get_if<Fault>(&read.meaning)) {
    if (read.word == kMeter) meter_known_ = false;
    if (read.word == kBeat) beat_known_ = false;
    if (fault->rule == &rule::free_mark) {
      if (const auto sign = brace.glued_to ? brace.glued_to : sign_before(brace.range)) {
        fault->hint =
            base::message("write `{}{}`", text_of(source_, *sign), text_of(source_, brace.range));
      }
    }
    reports_.add(std::move(*fault), brace.range);
    return std::nullopt;
  }
  if (brace.glued_to) {
    reports_.add(
        rule::glued_direction, brace.range,
        base::message("the direction {} is glued to {}", shown(text_of(source_, brace.range)),
                      shown(text_of(source_, *brace.glued_to))),
        base::message("put a space after it"));
  }
  // A second one at the same place would undo the first.
  const auto kind = model::direction_kind(read.word);
  const bool once = !kind || kind->at_one_place == model::AtOnePlace::one;
  if (once && !said_.insert(read.word).second) {
    twice(read);
    return std::nullopt;
  }
  if (const auto* value = std::get_if<model::DirectionValue>(&read.meaning)) {
    if (auto fault = unusual_dynamic(*value)) reports_.add(*std::move(fault), brace.range);
  }
  return read;
}

std::optional<base::SourceRange> DirectionPlacer::sign_before(base::SourceRange brace) const {
  if (score_.notes.empty()) return std::nullopt;
  const base::SourceRange sign = score_.notes.back().source;
  std::string_view between = text_of(source_, {sign.end, std::max(sign.end, brace.begin)});
  while (!between.empty()) {
    const base::CodePoint point = base::first_code_point(between);
    if (!is_space(point.value) && !is_dash(point.value)) return std::nullopt;
    between.remove_prefix(point.size);
  }
  return sign;
}

void DirectionPlacer::twice(const Read& read) {
  reports_.add(rule::direction_twice, read.range,
               base::message("a second `{{{}}}` at the same place", read.word),
               base::message("keep one of them"));
}

void DirectionPlacer::misplaced(base::SourceRange range, PlaceInMeasure place) {
  const std::string what = shown(text_of(source_, range));
  const bool start = place == PlaceInMeasure::start;
  const bool end = place == PlaceInMeasure::end;
  reports_.add(rule::direction_place, range,
               start ? base::message("{} stands at the start of a bar only", what)
               : end ? base::message("{} stands at the end of a bar only", what)
                     : base::message("{} has nothing after it", what),
               start ? base::message("move it behind a bar sign, before the first word")
               : end ? base::message("move it before the bar sign, after the last word")
                     : base::message("move it before the words it is for, or take it out"));
}

void DirectionPlacer::start(const FreeBrace& brace) {
  const auto known = read(brace);
  if (!known) return;
  if (known->place == PlaceInMeasure::end) return misplaced(brace.range, known->place);
  if (known->word == kBeat) {
    if (const auto beat = checked_beat(*known)) {
      beat_ = *beat;
      const bool said = score_.measures.size() == 1 && header_.given.count(HeaderKey::beat) != 0;
      if (said && model::first_beat(header_.header) != beat_)
        conflict(HeaderKey::beat, brace.range);
    }
  } else if (const auto* meter = std::get_if<model::Meter>(&known->meaning)) {
    set_meter(*known, *meter);
  } else if (std::holds_alternative<SetIrregular>(known->meaning)) {
    facts_.back().irregular = brace.range;
  } else if (const auto* ending = std::get_if<EndingNumbers>(&known->meaning)) {
    facts_.back().may_be_short = true;
    set_ending(*known, *ending);
  } else {
    if (score_.measures.size() == 1) warn_of_conflict(*known);
    add(score_.measures.size() - 1, 0, *known);
  }
}

void DirectionPlacer::set_meter(const Read& read, const model::Meter& meter) {
  const bool first = score_.measures.size() == 1;
  if (first && header_.given.count(HeaderKey::meter) != 0 && header_.header.meter != meter) {
    conflict(HeaderKey::meter, read.range);
  } else if (first && header_.header.beat && *header_.header.beat != model::default_beat(meter)) {
    conflict(HeaderKey::beat, read.range);
  }
  meter_ = meter;
  beat_ = model::default_beat(meter);
  meter_known_ = beat_known_ = true;
  facts_.back().may_be_short = true;
}

void DirectionPlacer::set_ending(const Read& read, const EndingNumbers& numbers) {
  if (numbers.empty() && ending_.empty() && !ending_closed_) {
    reports_.add(rule::ending_place, read.range, base::message("no ending is open here"),
                 base::message("take it out, or begin the ending with `{{ending 1}}`"));
  } else if (!numbers.empty() && numbers == ending_) {
    reports_.add(rule::ending_place, read.range, base::message("this ending is open already"),
                 base::message("take one of the two out, or give them different numbers"));
  }
  ending_ = numbers;
}

bool DirectionPlacer::closes_ending(const Read& read) {
  const auto* ending = std::get_if<EndingNumbers>(&read.meaning);
  const bool closes = ending != nullptr && ending->empty();
  if (closes) set_ending(read, {});
  return closes;
}

std::optional<model::Rational> DirectionPlacer::checked_beat(const Read& read) {
  const auto& value = std::get<model::DirectionValue>(read.meaning);
  const model::Rational beat = std::get<model::BeatChange>(value).beat;
  auto fault = meter_known_ ? unfit_beat(beat, meter_) : std::nullopt;
  beat_known_ = !fault;
  if (beat_known_) return beat;
  reports_.add(*std::move(fault), read.range);
  return std::nullopt;
}

void DirectionPlacer::inside(const FreeBrace& brace, model::Rational onset, Inside where) {
  auto known = read(brace);
  if (!known) return;
  if (known->place != PlaceInMeasure::anywhere) return misplaced(brace.range, known->place);
  if (known->word == kBeat) {
    const auto beat = checked_beat(*known);
    if (!beat) return;
    if (where == Inside::row) {
      beat_ = *beat;
    } else {
      if (coming_beat_ && !coming_is_stored_) twice(*known);
      coming_beat_ = known;
      coming_is_stored_ = onset != model::Rational(0);
      if (!coming_is_stored_) return;
    }
  }
  add(score_.measures.size() - 1, onset, *known);
}

void DirectionPlacer::end_word(model::Rational onset, Follows follows) {
  said_.clear();
  if (!coming_beat_) return;
  const auto& value = std::get<model::DirectionValue>(coming_beat_->meaning);
  beat_ = std::get<model::BeatChange>(value).beat;
  // Written at the very start of a bar, it cannot stand there: the bar begins with the old beat.
  if (!coming_is_stored_) {
    if (follows == Follows::word) add(score_.measures.size() - 1, onset, *coming_beat_);
    if (follows == Follows::nothing) misplaced(coming_beat_->range, PlaceInMeasure::anywhere);
  }
  coming_beat_.reset();
}

void DirectionPlacer::end_bar(const FreeBrace& brace, model::Rational onset, Follows follows) {
  const auto known = read(brace);
  if (!known) return;
  if (closes_ending(*known)) {
    facts_.back().ends_ending = true;
  } else if (known->place == PlaceInMeasure::start) {
    misplaced(brace.range, known->place);
  } else if (known->word == kBeat) {
    if (const auto beat = checked_beat(*known)) beat_ = *beat;
    if (follows == Follows::nothing) misplaced(brace.range, known->place);
  } else {
    add(score_.measures.size() - 1, onset, *known);
  }
}

void DirectionPlacer::close_bar() {
  const model::Measure& measure = score_.measures.back();
  const bool closes = measure.repeat_end || measure.right != model::BarStyle::regular;
  ending_closed_ = closes && !ending_.empty();
  if (closes) ending_.clear();
}

void DirectionPlacer::trailing(const FreeBrace& brace) {
  const auto known = read(brace);
  if (!known || closes_ending(*known)) return;
  if (known->place == PlaceInMeasure::start || known->word == kBeat) {
    return misplaced(brace.range, PlaceInMeasure::anywhere);
  }
  add(score_.measures.size() - 1, score_.measures.back().length, *known);
}

void DirectionPlacer::add(std::size_t measure, model::Rational onset, const Read& read) {
  if (read.word == kBeat) facts_[measure].changes_beat = true;
  score_.directions.push_back(
      {measure, onset, std::get<model::DirectionValue>(read.meaning), read.range});
}

void DirectionPlacer::warn_of_conflict(const Read& read) {
  const model::Header& header = header_.header;
  const auto& value = std::get<model::DirectionValue>(read.meaning);
  const auto* tempo = std::get_if<model::TempoChange>(&value);
  const auto* key = std::get_if<model::KeyChange>(&value);
  const auto* flute = std::get_if<model::FluteChange>(&value);
  const bool differs = (tempo != nullptr && header.tempo.value_or(tempo->tempo) != tempo->tempo) ||
                       (key != nullptr && header.key.value_or(key->key) != key->key) ||
                       (flute != nullptr && header.flute.value_or(flute->flute) != flute->flute);
  if (differs) conflict(*header_key(read.word), read.range);
}

void DirectionPlacer::conflict(HeaderKey key, base::SourceRange range) {
  reports_.add(rule::start_conflict, range,
               base::message("{} at the start takes the place of the header's `{}:`",
                             shown(text_of(source_, range)), word_of(key)),
               base::message("say it in one of the two places"));
}

}  // namespace yubifu::notation
