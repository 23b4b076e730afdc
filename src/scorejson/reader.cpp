#include "scorejson/reader.h"

#include <algorithm>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "base/message.h"
#include "model/header.h"
#include "model/invariants.h"
#include "model/pitch.h"
#include "scorejson/parts.h"
#include "scorejson/rules.h"
#include "scorejson/words.h"

namespace yubifu::scorejson {
namespace {

using model::Rational;

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
  bool is_score(const JsonValue& root) {
    const JsonValue* version = root.find(kVersionKey);
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

  void members(const JsonValue& root) {
    JsonFields fields(root, base::message("the score"), diagnostics_);
    fields.find(kVersionKey);
    for_each_in(
        fields, "measures", [&](const JsonValue& one) { measure(one); }, Presence::required);
    for (const std::size_t i : without_irregular_) {
      score_.measures[i].irregular = model::needs_irregular(score_, i);
    }
    if (!numbered_) model::number_measures(score_);
    if (const JsonValue* value = fields.find("header")) header(*value);
    for_each_in(fields, "comments", [&](const JsonValue& one) {
      const std::string* text = string_in(one, base::message("a comment"));
      if (text != nullptr) score_.header.comments.push_back(*text);
    });
    for_each_in(fields, "flutes", [&](const JsonValue& one) { flute(one); });
    if (fields.boolean("song-bars").value_or(false)) {
      score_.song_bars = model::SongBars::written;
    }
    for_each_in(fields, "notes",
                [&](const JsonValue& one) { read_note(one, starts_, score_, diagnostics_); });
    for_each_in(fields, "rests",
                [&](const JsonValue& one) { read_rest(one, starts_, score_, diagnostics_); });
    fields.report_unknown();
  }

  // A value that has to be a string; null, and told, where it is another.
  const std::string* string_in(const JsonValue& value, const std::string& what) {
    const auto* text = value.as<std::string>();
    if (text == nullptr) {
      base::report_json_kind(diagnostics_, value, what, base::catalogued("a string"));
    }
    return text;
  }

  // A measure that does not say so is irregular where the rules of the notation make it so;
  // measures without numbers are numbered when none has one.
  void measure(const JsonValue& value) {
    const std::size_t index = score_.measures.size();
    JsonFields fields(value, base::message("bar index {}", index), diagnostics_);
    starts_.push_back(now_);
    model::Measure here;
    here.source = value.where;
    check_place(fields, index);
    if (const std::string* number = fields.text("number")) {
      here.number = *number;
      numbered_ = true;
    }
    here.length = time_field(fields, "length", Presence::required).value_or(0);
    meter(fields, here);
    signs(fields, here);
    here.break_before = word_field(fields, "break", kLineBreaks).value_or(model::LineBreak::none);
    const auto irregular = fields.boolean("irregular");
    here.irregular = irregular.value_or(false);
    if (!irregular) without_irregular_.push_back(index);
    now_ += here.length;
    for_each_in(fields, "directions",
                [&](const JsonValue& one) { direction(one, fields.what(), here, index); });
    for_each_in(fields, "comments",
                [&](const JsonValue& one) { comment(one, fields.what(), here); });
    fields.report_unknown();
    score_.measures.push_back(std::move(here));
  }

  // What follows from the place in the array may be told too, and then has to be true.
  void check_place(JsonFields& fields, std::size_t index) {
    const auto told = fields.whole("index", 0, std::numeric_limits<std::int64_t>::max());
    if (told && static_cast<std::size_t>(*told) != index) {
      fields.report_value("index",
                          base::message("{}: its index is told as {}", fields.what(), *told));
    }
    const auto onset = time_field(fields, "onset");
    if (onset && *onset != now_) {
      fields.report_value(
          "onset", base::message("{}: it begins at {}, where the bars before it end, "
                                 "and not at {}",
                                 fields.what(), model::to_text(now_), model::to_text(*onset)));
    }
  }

  static void meter(JsonFields& fields, model::Measure& here) {
    if (const std::string* text = fields.text("meter", Presence::required)) {
      if (const auto meter = model::parse_meter(*text)) {
        here.meter = *meter;
      } else {
        fields.report_value("meter", base::message("{}: \"{}\" is no meter", fields.what(), *text),
                            base::message("write a meter such as 3/4, or free"));
      }
    }
    here.beat = time_field(fields, "beat").value_or(model::default_beat(here.meter));
  }

  void signs(JsonFields& fields, model::Measure& here) {
    here.repeat_start = word_field(fields, "left", kLeftSides).value_or(false);
    const RightSide right = word_field(fields, "right", kRightSides).value_or(RightSide{});
    here.right = right.style;
    here.repeat_end = right.repeat_end;
    here.times = static_cast<int>(fields.whole("times", 2, model::kMostTimes).value_or(2));
    for_each_in(fields, "ending", [&](const JsonValue& one) {
      const auto* number = one.as<base::JsonNumber>();
      const std::int64_t whole = number == nullptr ? 0 : number->whole.value_or(0);
      if (whole > 0 && whole <= model::kMostEndings) {
        here.ending.push_back(static_cast<int>(whole));
      } else {
        base::report_json_kind(diagnostics_, one, fields.what() + ", \"ending\"",
                               base::catalogued("whole numbers from 1 to 99"));
      }
    });
  }

  void direction(const JsonValue& value, const std::string& owner, const model::Measure& here,
                 std::size_t measure) {
    JsonFields fields(value, base::message("a direction of {}", owner), diagnostics_);
    const auto onset = time_field(fields, "onset", Presence::required);
    const std::string* kind = fields.text("kind", Presence::required);
    auto said = kind == nullptr ? std::nullopt : direction_value(fields, *kind, here);
    fields.report_unknown();
    if (!onset || !said) return;
    score_.directions.push_back({measure, *onset - starts_.back(), *std::move(said), value.where});
  }

  static std::optional<model::DirectionValue> direction_value(JsonFields& fields,
                                                              const std::string& kind,
                                                              const model::Measure& here) {
    if (const auto cue = model::cue_named(kind)) return *cue;
    if (!model::direction_kind(kind)) {
      report_word(fields, "kind", kind, model::direction_words());
      fields.find("value");
      return std::nullopt;
    }
    const std::string* text = fields.text("value", Presence::required);
    if (text == nullptr) return std::nullopt;
    auto value = model::parse_direction(kind, *text, model::felt_beat(here.meter, here.beat));
    if (!value) {
      fields.report_value("value",
                          base::message("{}: \"{}\" is no {}", fields.what(), *text, kind));
    }
    return value;
  }

  void comment(const JsonValue& value, const std::string& owner, model::Measure& here) {
    JsonFields fields(value, base::message("a comment of {}", owner), diagnostics_);
    model::Comment comment;
    if (const std::string* text = fields.text("text", Presence::required)) comment.text = *text;
    comment.own_line = fields.boolean("own-line").value_or(true);
    comment.blank_before = fields.boolean("blank-before").value_or(false);
    fields.report_unknown();
    here.comments.push_back(std::move(comment));
  }

  void header(const JsonValue& value) {
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
      const auto* text = string_in(member.value, base::message("the header, \"{}\"", member.key));
      if (text != nullptr) score_.header.unknown.push_back({member.key, *text});
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

  void flute(const JsonValue& value) {
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
      if (const auto parsed = model::parse_flute_name(*name)) {
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

  void finish(const JsonValue& root) {
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
      if (direction.measure != 0 || direction.onset != Rational(0)) continue;
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
    using Part = model::ScorePart;
    const auto& [part, i, sentence] = broken;
    if (part == Part::flute) return flute_places_[i];
    if (part == Part::measure) return score_.measures[i].source;
    if (part == Part::note) return score_.notes[i].source;
    if (part == Part::rest) return score_.rests[i].source;
    return part == Part::direction ? score_.directions[i].source : whole;
  }

  model::Score score_;
  std::vector<Rational> starts_;
  std::vector<base::SourceRange> flute_places_;
  Rational now_;  // where the next measure begins
  std::vector<std::size_t> without_irregular_;
  bool numbered_ = false;
  base::Diagnostics diagnostics_;
};

}  // namespace

base::Outcome<model::Score> read_score_json(const base::SourceText& source) {
  return Reader().run(source);
}

}  // namespace yubifu::scorejson
