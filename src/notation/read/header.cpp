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

  void read(HeaderKey key, const HeaderLine& line) {
    model::Header& header = reading_.header;
    const std::string_view value = text_of(source_, line.value);
    const bool as_written = model::holds_any_text(key) || key == HeaderKey::flute;
    const std::string text = as_written                ? std::string(value)
                             : key == HeaderKey::tempo ? tempo_text(value)
                                                       : folded(value);
    const bool known = model::set_field(header, key, text);
    if (key == HeaderKey::meter) reading_.time_known = known;
    if (key == HeaderKey::beat) check_beat(known, line);
    if (known) return;
    if (key == HeaderKey::flute && !value.empty()) {
      reports_.add(unknown_flute(value), line.value);
      // So that nobody says beside it that no flute is named.
      header.flute = model::kDefaultFluteSize;
    } else {
      const auto meant = key == HeaderKey::tempo ? tempo_meant(text) : std::nullopt;
      bad_value(line, meant ? '`' + *meant + '`' : model::expected_value(key));
    }
  }

  // A beat that is of no use is no field of the header.
  void check_beat(bool known, const HeaderLine& line) {
    model::Header& header = reading_.header;
    auto fault =
        known && reading_.time_known ? unfit_beat(*header.beat, header.meter) : std::nullopt;
    reading_.time_known = reading_.time_known && known && !fault;
    if (fault || header.beat == model::default_beat(header.meter)) header.beat.reset();
    if (fault) reports_.add(*std::move(fault), line.value);
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
