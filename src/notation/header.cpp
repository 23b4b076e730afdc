#include "notation/header.h"

#include <map>
#include <string>
#include <utility>

#include "base/message.h"
#include "base/suggest.h"
#include "base/translation.h"
#include "model/tuning.h"
#include "model/words.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/reports.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

class HeaderReader {
 public:
  HeaderReader(const base::SourceText& source, const std::vector<HeaderLine>& lines)
      : source_(source), lines_(lines) {}

  HeaderReading run() {
    for (const HeaderLine& line : lines_) sort_in(line);
    if (const HeaderLine* line = find(HeaderKey::meter)) read_meter(*line);
    reading_.beat = model::default_beat(reading_.header.meter);
    if (const HeaderLine* line = find(HeaderKey::beat)) read_beat(*line);
    for (const auto& [key, line] : known_) read(key, *line);
    reading_.diagnostics = reports_.take();
    return std::move(reading_);
  }

 private:
  std::string_view text(base::SourceRange range) const {
    return source_.text().substr(range.begin, range.end - range.begin);
  }

  const HeaderLine* find(HeaderKey key) const {
    const auto found = known_.find(key);
    return found == known_.end() ? nullptr : found->second;
  }

  void sort_in(const HeaderLine& line) {
    std::string word = folded(text(line.key));
    const auto key = header_key(word);
    if (!key) word = text(line.key);
    const auto [earlier, is_new] = first_lines_.emplace(word, &line);
    if (!is_new) {
      reports_.add(rule::duplicate_header, line.key,
                   base::message("{} is given twice, first in line {}", shown(word + ':'),
                                 source_.position(earlier->second->key.begin).line),
                   base::message("keep one of the lines"));
      return;
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
    reading_.header.unknown.push_back({word, std::string(text(line.value))});
  }

  void bad_value(const HeaderLine& line, std::string_view expected) {
    const bool empty = line.value.begin == line.value.end;
    reports_.add(rule::bad_header_value, empty ? line.key : line.value,
                 empty ? base::message("`{}:` needs a value", folded(text(line.key)))
                       : base::message("{} is no value of `{}:`", shown(text(line.value)),
                                       folded(text(line.key))),
                 base::message("write {}", base::translated(expected)));
  }

  void read_meter(const HeaderLine& line) {
    if (const auto meter = model::parse_meter(folded(text(line.value)))) {
      reading_.header.meter = *meter;
      return;
    }
    reading_.time_known = false;
    bad_value(line, base::catalogued(
                        "1 to 64 beats over a power of two up to 128, such as `4/4`, or `free`"));
  }

  void read_beat(const HeaderLine& line) {
    const auto beat = model::parse_beat(folded(text(line.value)));
    if (!beat) {
      reading_.time_known = false;
      bad_value(line, base::catalogued("a part of a whole note, such as `1/8` or `3/8`"));
      return;
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
    model::Header& header = reading_.header;
    const std::string value(text(line.value));
    switch (key) {
      case HeaderKey::title:
        header.title = value;
        return;
      case HeaderKey::subtitle:
        header.subtitle = value;
        return;
      case HeaderKey::composer:
        header.composer = value;
        return;
      case HeaderKey::lyricist:
        header.lyricist = value;
        return;
      case HeaderKey::source:
        header.source = value;
        return;
      case HeaderKey::rights:
        header.rights = value;
        return;
      case HeaderKey::meter:
      case HeaderKey::beat:
        return;  // read before all others
      case HeaderKey::flute:
      case HeaderKey::tuning:
      case HeaderKey::tempo:
      case HeaderKey::key:
      case HeaderKey::staff:
      case HeaderKey::zero:
        return read_value(key, line, value);
    }
  }

  void read_value(HeaderKey key, const HeaderLine& line, const std::string& value) {
    model::Header& header = reading_.header;
    const std::string plain = folded(value);
    if (key == HeaderKey::flute) return read_flute(line, value);
    if (key == HeaderKey::tuning) return read_tuning(line, plain);
    if (key == HeaderKey::tempo) {
      header.tempo = read_tempo(plain, model::felt_beat(header.meter, reading_.beat));
      if (!header.tempo) bad_tempo(line, plain);
    } else if (key == HeaderKey::key) {
      header.key = model::parse_key(plain);
      if (!header.key)
        bad_value(line, base::catalogued("the sounding key, as `C`, `Bb` or `F# minor`"));
    } else if (key == HeaderKey::staff) {
      header.staff = model::staff_mode_named(plain);
      if (!header.staff) bad_value(line, "`in-c` or `sounding`");
    } else if (const auto zero = model::zero_sign_named(plain)) {
      header.zero = *zero;
    } else {
      bad_value(line, "`cross` or `tube`");
    }
  }

  void read_flute(const HeaderLine& line, const std::string& value) {
    if (value.empty())
      return bad_value(line, base::catalogued("a size such as `6`, or the path of a flute file"));
    reading_.header.flute = model::parse_flute_name(value);
    if (reading_.header.flute) return;
    Fault fault = unknown_flute(value);
    reports_.add(*fault.rule, line.value, std::move(fault.message), std::move(fault.hint));
    // So that nobody says beside it that no flute is named.
    reading_.header.flute = model::kDefaultFluteSize;
  }

  void bad_tempo(const HeaderLine& line, std::string_view plain) {
    if (const auto meant = tempo_meant(plain)) return bad_value(line, '`' + *meant + '`');
    bad_value(line, base::catalogued("beats a minute up to 1000, as `76` or `1/8=180`"));
  }

  void read_tuning(const HeaderLine& line, const std::string& plain) {
    reading_.header.tuning_hz = model::parse_tuning(plain);
    if (!reading_.header.tuning_hz) {
      bad_value(line, base::catalogued("A4 in Hz from 300 to 600, such as `442`"));
    }
  }

  const base::SourceText& source_;
  const std::vector<HeaderLine>& lines_;
  std::map<std::string, const HeaderLine*> first_lines_;
  std::map<HeaderKey, const HeaderLine*> known_;
  HeaderReading reading_;
  Reports reports_;
};

}  // namespace

HeaderReading read_header(const base::SourceText& source, const std::vector<HeaderLine>& lines) {
  return HeaderReader(source, lines).run();
}

}  // namespace yubifu::notation
