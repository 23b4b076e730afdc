#include <map>
#include <string>
#include <utility>

#include "base/message.h"
#include "base/word_table.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/read/steps.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

class HeaderReader {
 public:
  HeaderReader(const base::SourceText& source, Reports& reports)
      : source_(source), reports_(reports) {}

  HeaderReading run(const std::vector<HeaderLine>& lines) {
    for (const HeaderLine& line : lines) sort_in(line);
    // In the order of the keys, which has the meter before the beat, and both before the tempo.
    for (const auto& [key, line] : known_) read(key, *line);
    return std::move(reading_);
  }

 private:
  void sort_in(const HeaderLine& line) {
    std::string word = folded(text_of(source_, line.key));
    const auto key = header_key(word);
    if (!key) word = text_of(source_, line.key);
    const auto [earlier, is_new] = first_lines_.emplace(word, &line);
    if (!is_new) {
      return reports_.add(rule::duplicate_header, line.key,
                          base::message("{} is given twice, first in line {}", shown(word + ':'),
                                        source_.position(earlier->second->key.begin).line),
                          base::message("keep one of the lines"));
    }
    if (key) {
      known_.emplace(*key, &line);
      reading_.given.insert(*key);
      return;
    }
    const auto near = base::nearest_word(word, header_words());
    reports_.add(
        rule::unknown_header, line.key,
        base::message("the header key {} is not known; the line is kept as it stands", shown(word)),
        near ? base::message("did you mean `{}`?", *near) : std::string());
    reading_.header.unknown.push_back({word, std::string(text_of(source_, line.value))});
  }

  void bad_value(const HeaderLine& line, std::string_view expected) {
    const std::string_view value = text_of(source_, line.value);
    const std::string key = folded(text_of(source_, line.key));
    reports_.add(rule::bad_header_value, value.empty() ? line.key : line.value,
                 value.empty() ? base::message("`{}:` needs a value", key)
                               : base::message("{} is no value of `{}:`", shown(value), key),
                 base::message("write {}", base::translated(expected)));
  }

  void read_beat(const HeaderLine& line, const std::string& plain) {
    const auto beat = model::parse_beat(plain);
    if (!beat) {
      reading_.time_known = false;
      return bad_value(line, model::expected_value(HeaderKey::beat));
    }
    const model::Meter& meter = reading_.header.meter;
    if (reading_.time_known && !model::divides(*beat, meter)) {
      reading_.time_known = false;
      reports_.add(rule::beat_meter, line.value,
                   base::message("a beat of {} does not divide a meter of {}",
                                 model::beat_text(*beat), model::to_text(meter)),
                   base::message("take a beat that fits into the bar a whole number of times"));
      return;
    }
    reading_.beat = *beat;
    if (*beat != model::default_beat(meter)) reading_.header.beat = *beat;
  }

  void read(HeaderKey key, const HeaderLine& line) {
    const std::string value(text_of(source_, line.value));
    if (model::holds_any_text(key)) {
      model::set_field(reading_.header, key, value);
    } else if (key == HeaderKey::meter) {
      const auto meter = model::parse_meter(folded(value));
      reading_.time_known = meter.has_value();
      if (!meter) return bad_value(line, model::expected_value(key));
      reading_.header.meter = *meter;
      reading_.beat = model::default_beat(*meter);
    } else if (key == HeaderKey::beat) {
      read_beat(line, folded(value));
    } else if (key == HeaderKey::flute) {
      read_flute(line, value);
    } else if (key == HeaderKey::tempo) {
      model::Header& header = reading_.header;
      header.tempo = read_tempo(folded(value), model::felt_beat(header.meter, reading_.beat));
      if (header.tempo) return;
      const auto meant = tempo_meant(folded(value));
      bad_value(line, meant ? '`' + *meant + '`' : model::expected_value(key));
    } else if (!model::set_field(reading_.header, key, folded(value))) {
      bad_value(line, model::expected_value(key));
    }
  }

  void read_flute(const HeaderLine& line, const std::string& value) {
    if (value.empty()) return bad_value(line, model::expected_value(HeaderKey::flute));
    reading_.header.flute = model::parse_flute_name(value);
    if (reading_.header.flute) return;
    reports_.add(unknown_flute(value), line.value);
    // So that nobody says beside it that no flute is named.
    reading_.header.flute = model::kDefaultFluteSize;
  }

  const base::SourceText& source_;
  std::map<std::string, const HeaderLine*> first_lines_;
  std::map<HeaderKey, const HeaderLine*> known_;
  HeaderReading reading_;
  Reports& reports_;
};

}  // namespace

HeaderReading read_header(const base::SourceText& source, const std::vector<HeaderLine>& lines,
                          Reports& reports) {
  return HeaderReader(source, reports).run(lines);
}

}  // namespace yubifu::notation
