#include "scorejson/reader.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/message.h"
#include "model/header.h"
#include "model/invariants.h"
#include "model/pitch.h"
#include "scorejson/parts.h"
#include "scorejson/rules.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using base::JsonFields;
using base::Presence;

class Reader {
 public:
  base::Outcome<model::Score> run(const base::SourceText& source) {
    auto json = base::parse_json(source);
    diagnostics_ = std::move(json.diagnostics);
    if (!json.value || !is_score(*json.value)) return {std::nullopt, std::move(diagnostics_)};
    try {
      members(*json.value);
      if (!base::has_errors(diagnostics_)) finish(*json.value);
    } catch (const model::TimeOverflow& overflow) {
      diagnostics_.push_back(
          base::report(rule::onset_overflow, json.value->where, overflow.what()));
    }
    if (base::has_errors(diagnostics_)) return {std::nullopt, std::move(diagnostics_)};
    return {std::move(score_), std::move(diagnostics_)};
  }

 private:
  bool is_score(const base::JsonValue& root) {
    const base::JsonValue* version = root.find(kVersionKey);
    if (version == nullptr) {
      diagnostics_.push_back(base::report(
          rule::not_score_json, base::SourceRange{root.where.begin, root.where.begin + 1},
          base::message("this is {} without \"{}\", and no score JSON",
                        base::translated(kind_name(root)), kVersionKey),
          base::message("a score JSON begins with {{\"{}\": {}", kVersionKey, kVersion)));
      return false;
    }
    const auto* number = version->as<base::JsonNumber>();
    if (number != nullptr && number->whole == kVersion) return true;
    diagnostics_.push_back(base::report(
        rule::not_score_json, version->where,
        base::message("this version of the score JSON is not known; version {} is", kVersion)));
    return false;
  }

  void members(const base::JsonValue& root) {
    JsonFields fields(root, base::message("the score"), diagnostics_);
    fields.find(kVersionKey);
    if (const auto* list = fields.array("measures", Presence::required)) {
      starts_ = read_measures(*list, score_, diagnostics_);
    }
    if (const base::JsonValue* value = fields.find("header")) header(*value);
    if (const auto* list = fields.array("comments")) comments(*list);
    if (const auto* list = fields.array("flutes")) {
      for (const base::JsonValue& one : *list) flute(one);
    }
    if (fields.boolean("song-bars").value_or(false)) {
      score_.song_bars = model::SongBars::written;
    }
    if (const auto* list = fields.array("notes")) read_notes(*list, starts_, score_, diagnostics_);
    if (const auto* list = fields.array("rests")) read_rests(*list, starts_, score_, diagnostics_);
    fields.report_unknown();
  }

  void header(const base::JsonValue& value) {
    JsonFields fields(value, base::message("the header"), diagnostics_);
    if (!fields.is_object()) return;
    // A tempo counts the beat of the first measure when it does not say another.
    if (!score_.measures.empty()) {
      score_.header.meter = score_.measures.front().meter;
      score_.header.beat = score_.measures.front().beat;
    }
    for (const model::HeaderKey key : model::header_keys()) {
      const std::string_view word = word_of(key);
      const std::string* text = fields.text(word);
      if (text == nullptr || set(key, *text)) continue;
      fields.report_value(
          word, base::message("the header: \"{}\" is \"{}\", which is not known", word, *text),
          base::message("write {}", base::translated(model::expected_value(key))));
    }
    if (!score_.measures.empty()) agree(fields);
    for (const base::JsonMember& member : *value.as<base::JsonObject>()) {
      if (model::header_key(member.key)) continue;
      if (const auto* text = member.value.as<std::string>()) {
        score_.header.unknown.push_back({member.key, *text});
      } else {
        base::report_json_kind(diagnostics_, member.value,
                               base::message("the header, \"{}\"", member.key),
                               base::catalogued("a string"));
      }
    }
  }

  // A tempo is exact here, also where no decimal is.
  bool set(model::HeaderKey key, const std::string& text) {
    model::Header& header = score_.header;
    if (key != model::HeaderKey::tempo) return model::set_field(header, key, text);
    header.tempo =
        model::parse_exact_tempo(text, model::felt_beat(header.meter, model::first_beat(header)));
    return header.tempo.has_value();
  }

  // Meter and beat of the header are those of the first measure.
  void agree(JsonFields& fields) {
    const model::Measure& first = score_.measures.front();
    if (score_.header.meter != first.meter) {
      fields.report_value(
          "meter", base::message("the header's meter is {}, the first bar's {}",
                                 model::to_text(score_.header.meter), model::to_text(first.meter)));
    }
    if (score_.header.beat && *score_.header.beat != first.beat) {
      fields.report_value("beat", base::message("the header's beat is {}, the first bar's {}",
                                                model::beat_text(*score_.header.beat),
                                                model::beat_text(first.beat)));
    }
  }

  void comments(const base::JsonArray& list) {
    for (const base::JsonValue& one : list) {
      if (const auto* text = one.as<std::string>()) {
        score_.header.comments.push_back(*text);
      } else {
        base::report_json_kind(diagnostics_, one, base::message("a comment"),
                               base::catalogued("a string"));
      }
    }
  }

  void flute(const base::JsonValue& value) {
    JsonFields fields(value, base::message("flute {}", score_.flutes.size()), diagnostics_);
    model::FluteInUse flute;
    const auto last = static_cast<std::int64_t>(starts_.size()) - 1;
    const auto measure = fields.whole("measure", 0, last, Presence::required);
    if (measure) flute.measure = static_cast<std::size_t>(*measure);
    const auto onset = time_field(fields, "onset");
    if (measure && onset && *onset != starts_[flute.measure]) {
      fields.report_value("onset",
                          base::message("{}: a flute begins with its bar, at {}", fields.what(),
                                        model::to_text(starts_[flute.measure])));
    }
    if (const std::string* name = fields.text("name", Presence::required)) {
      const auto parsed = model::parse_flute_name(*name);
      if (parsed) {
        flute.name = *parsed;
      } else {
        fields.report_value(
            "name", base::message("{}: \"{}\" is no flute", fields.what(), *name),
            base::message("write a size from 1 to 13, or the path of a flute file"));
      }
    }
    if (const std::string* title = fields.text("title")) flute.title = *title;
    const auto key =
        fields.whole("midi", model::kLowestKey, model::kHighestKey, Presence::required);
    flute.ichi = {static_cast<int>(key.value_or(0)), cents_field(fields).value_or(0)};
    flute.tuning_hz = fields.number("tuning").value_or(flute.tuning_hz);
    if (!model::is_tuning(flute.tuning_hz)) {
      fields.report_value("tuning",
                          base::message("{}: the tuning must be {} to {} Hz", fields.what(),
                                        model::kLowestTuning, model::kHighestTuning));
    }
    fields.report_unknown();
    flute_places_.push_back(value.where);
    score_.flutes.push_back(std::move(flute));
  }

  void finish(const base::JsonValue& root) {
    score_.verses = model::verses_in_use(score_);
    for (model::Note& note : score_.notes) {
      const auto place = [&](const model::Syllable& syllable) {
        return std::find(score_.verses.begin(), score_.verses.end(), syllable.verse);
      };
      std::stable_sort(note.syllables.begin(), note.syllables.end(),
                       [&](const auto& a, const auto& b) { return place(a) < place(b); });
    }
    twice_at_the_start();
    model::gather_start_into_header(score_);
    for (model::BrokenInvariant& broken : model::broken_invariants(score_)) {
      diagnostics_.push_back(base::report(rule::score_inconsistent, place_of(broken, root.where),
                                          std::move(broken.sentence)));
    }
  }

  // What the header says may not be said again at the very start.
  void twice_at_the_start() {
    const model::Header& header = score_.header;
    for (const model::Direction& direction : score_.directions) {
      if (direction.measure != 0 || direction.onset != model::Rational(0)) continue;
      const model::DirectionValue& value = direction.value;
      const bool twice = (std::holds_alternative<model::TempoChange>(value) && header.tempo) ||
                         (std::holds_alternative<model::KeyChange>(value) && header.key) ||
                         (std::holds_alternative<model::FluteChange>(value) && header.flute);
      if (!twice) continue;
      diagnostics_.push_back(base::report(
          rule::score_inconsistent, direction.source,
          base::message("the header has a {} of its own for the very start", model::word_of(value)),
          base::message("keep the one in the header")));
    }
  }

  base::SourceRange place_of(const model::BrokenInvariant& broken, base::SourceRange whole) const {
    switch (broken.part) {
      case model::ScorePart::flute:
        return flute_places_[broken.index];
      case model::ScorePart::measure:
        return score_.measures[broken.index].source;
      case model::ScorePart::note:
        return score_.notes[broken.index].source;
      case model::ScorePart::rest:
        return score_.rests[broken.index].source;
      case model::ScorePart::direction:
        return score_.directions[broken.index].source;
      case model::ScorePart::score:
      case model::ScorePart::header:
        break;
    }
    return whole;
  }

  model::Score score_;
  std::vector<model::Rational> starts_;
  std::vector<base::SourceRange> flute_places_;
  base::Diagnostics diagnostics_;
};

}  // namespace

base::Outcome<model::Score> read_score_json(const base::SourceText& source) {
  return Reader().run(source);
}

}  // namespace yubifu::scorejson
