#include "musicxml/mutated_text.h"

#include <algorithm>
#include <string_view>
#include <vector>

#include "support/dice.h"

namespace yubifu::musicxml {
namespace {

using support::Dice;

constexpr std::size_t kNowhere = std::string::npos;

// What stands where a number or a word should.
const std::vector<std::string> kOddValues{"",
                                          "0",
                                          "-1",
                                          "1",
                                          "2",
                                          "3",
                                          "7",
                                          "99",
                                          "1000000000",
                                          "x",
                                          "0.5",
                                          "1e9",
                                          "nan",
                                          "-0.5",
                                          "4294967296",
                                          "9223372036854775807",
                                          "start",
                                          "stop",
                                          "三",
                                          "五五",
                                          "?F#4",
                                          "free",
                                          "yes",
                                          "no",
                                          "continue",
                                          "16/4",
                                          "\xF0\x9F\x8E\xB5",
                                          "breve",
                                          "1024th",
                                          "quarter",
                                          "percussion",
                                          "D.C.",
                                          "coda",
                                          "backward",
                                          "forward"};

// Elements that the reader has a use for.
const std::vector<std::string> kNames{"note",       "rest",      "chord",
                                      "grace",      "cue",       "pitch",
                                      "backup",     "forward",   "duration",
                                      "type",       "dot",       "voice",
                                      "staff",      "tie",       "notations",
                                      "lyric",      "text",      "syllabic",
                                      "attributes", "divisions", "time",
                                      "beats",      "transpose", "direction",
                                      "barline",    "repeat",    "ending",
                                      "measure",    "part",      "sound",
                                      "unpitched",  "key",       "time-modification"};

// A stretch that begins with a start tag and ends with its end tag.
struct Stretch {
  std::size_t begin = 0;
  std::size_t size = 0;
};

Stretch some_element(const std::string& text, Dice& dice) {
  for (int attempt = 0; attempt < 20; ++attempt) {
    const std::size_t begin = text.find('<', dice.below(text.size()));
    if (begin == kNowhere || begin + 1 >= text.size() || text[begin + 1] == '/') continue;
    const std::size_t end_of_name = text.find_first_of(" />", begin);
    if (end_of_name == kNowhere) continue;
    const std::size_t close = text.find('>', begin);
    if (close == kNowhere) continue;
    if (text[close - 1] == '/') return {begin, close + 1 - begin};
    const std::string end = "</" + text.substr(begin + 1, end_of_name - begin - 1) + ">";
    const std::size_t last = text.find(end, close);
    if (last != kNowhere) return {begin, last + end.size() - begin};
  }
  return {};
}

Stretch some_bytes(const std::string& text, Dice& dice) {
  const std::size_t begin = dice.below(text.size());
  return {begin, std::min(text.size() - begin, 1 + dice.below(200))};
}

void change_byte(std::string& text, Dice& dice) {
  text[dice.below(text.size())] = static_cast<char>(dice.below(256));
}

void insert(std::string& text, const std::string& part, Dice& dice) {
  const std::size_t at = text.find('<', dice.below(text.size()));
  text.insert(at == kNowhere ? 0 : at, part);
}

// The text of an element or the value of an attribute.
void change_value(std::string& text, Dice& dice) {
  const char open = dice.percent(70) ? '>' : '"';
  const char shut = open == '>' ? '<' : '"';
  const std::size_t begin = text.find(open, dice.below(text.size()));
  if (begin == kNowhere) return;
  const std::size_t end = text.find(shut, begin + 1);
  if (end == kNowhere) return;
  text.replace(begin + 1, end - begin - 1, dice.pick(kOddValues));
}

// The tags of one element get another name.
void rename_element(std::string& text, Dice& dice) {
  const Stretch element = some_element(text, dice);
  if (element.size == 0) return;
  const std::string old =
      text.substr(element.begin + 1, text.find_first_of(" />", element.begin) - element.begin - 1);
  const std::string& name = dice.pick(kNames);
  const std::size_t last = element.begin + element.size - 1 - old.size();
  const bool closes = text.compare(last, old.size(), old) == 0 && text[last - 1] == '/';
  if (closes) text.replace(last, old.size(), name);
  text.replace(element.begin + 1, old.size(), name);
}

void mutate(std::string& text, Dice& dice) {
  if (text.empty()) return;
  const int kind = dice.between(0, 99);
  if (kind < 45) {
    change_value(text, dice);
  } else if (kind < 60) {
    const Stretch element = some_element(text, dice);
    text.erase(element.begin, element.size);
  } else if (kind < 70) {
    const Stretch element = some_element(text, dice);
    insert(text, text.substr(element.begin, element.size), dice);
  } else if (kind < 80) {
    const Stretch element = some_element(text, dice);
    const std::string moved = text.substr(element.begin, element.size);
    text.erase(element.begin, element.size);
    if (!text.empty()) insert(text, moved, dice);
  } else if (kind < 92) {
    rename_element(text, dice);
  } else if (kind < 95) {
    change_byte(text, dice);
  } else if (kind < 97) {
    const Stretch bytes = some_bytes(text, dice);
    text.erase(bytes.begin, bytes.size);
  } else if (kind < 99) {
    const Stretch bytes = some_bytes(text, dice);
    text.insert(dice.below(text.size()), text.substr(bytes.begin, bytes.size));
  } else {
    text.resize(dice.below(text.size()));
  }
}

}  // namespace

std::string mutated(std::string text, std::mt19937_64& random) {
  Dice dice(random);
  for (int faults = dice.between(1, 4); faults > 0; --faults) mutate(text, dice);
  return text;
}

std::string mutated_bytes(std::string bytes, std::mt19937_64& random) {
  Dice dice(random);
  for (int faults = dice.between(1, 4); faults > 0 && !bytes.empty(); --faults) {
    const Stretch stretch = some_bytes(bytes, dice);
    switch (dice.between(0, 4)) {
      case 0:
        bytes.erase(stretch.begin, stretch.size);
        break;
      case 1:
        bytes.insert(dice.below(bytes.size()), bytes.substr(stretch.begin, stretch.size));
        break;
      default:
        change_byte(bytes, dice);
    }
  }
  return bytes;
}

}  // namespace yubifu::musicxml
