#include "musicxml/staff_score.h"

#include <map>
#include <sstream>

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include "flute/flute.h"

namespace yubifu::support {
namespace {

using model::Rational;

const flute::Flute& flute_of_size_8() {
  static const flute::Flute flute = flute::built_in_flute({8, 0}, 440);
  return flute;
}

std::vector<std::string> words_of(std::string_view text) {
  std::istringstream stream{std::string(text)};
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

model::Score bars_of(const model::Meter& meter, Rational total) {
  model::Score score;
  score.header.meter = meter;
  score.flutes.push_back({0, model::FluteSize{8, 0}, "8", {72, 0}, 440});
  for (Rational filled; filled < total; filled += meter.length()) {
    model::Measure measure;
    measure.meter = meter;
    measure.beat = model::default_beat(meter);
    measure.length = meter.length();
    score.measures.push_back(measure);
  }
  model::number_measures(score);
  return score;
}

std::string note_word(const pugi::xml_node& note) {
  const pugi::xml_node pitch = note.child("pitch");
  std::string word = pitch ? std::string(pitch.child_value("step")) + pitch.child_value("octave")
                           : std::string("r");
  const bool whole_bar = std::string_view(note.child("rest").attribute("measure").value()) == "yes";
  word += std::string(":") + (whole_bar ? "bar" : note.child_value("type"));
  for ([[maybe_unused]] const pugi::xml_node dot : note.children("dot")) word += '.';
  if (const pugi::xml_node tuplet = note.child("time-modification")) {
    word += std::string(" ") + tuplet.child_value("actual-notes") + "/" +
            tuplet.child_value("normal-notes");
  }
  for (const pugi::xml_node tuplet : note.child("notations").children("tuplet")) {
    word += std::string_view(tuplet.attribute("type").value()) == "start" ? " <" : " >";
  }
  const bool tied = note.find_child_by_attribute("tie", "type", "start");
  return word + (tied ? " ~" : "");
}

std::string alteration(std::string_view alter) {
  static const std::map<std::string_view, std::string> kSigns{
      {"", ""}, {"1", "#"}, {"-1", "b"}, {"2", "##"}, {"-2", "bb"}};
  const auto sign = kSigns.find(alter);
  return sign == kSigns.end() ? "(" + std::string(alter) + ")" : sign->second;
}

std::string beam_word(const pugi::xml_node& note) {
  static const std::map<std::string_view, char> kSigns{{"begin", '('},
                                                       {"continue", '-'},
                                                       {"end", ')'},
                                                       {"forward hook", '>'},
                                                       {"backward hook", '<'}};
  std::string word;
  for (const pugi::xml_node beam : note.children("beam")) word += kSigns.at(beam.child_value());
  return word.empty() ? "." : word;
}

// Calls `visit` with each bar of a document.
template <typename Visit>
void for_bars(const std::string& document, const Visit& visit) {
  pugi::xml_document tree;
  ASSERT_TRUE(tree.load_buffer(document.data(), document.size()));
  for (const pugi::xml_node bar : tree.child("score-partwise").child("part").children("measure")) {
    visit(bar);
  }
}

template <typename Word>
std::vector<std::string> bars_in_words(const std::string& document, std::string_view between,
                                       const Word& word) {
  std::vector<std::string> bars;
  for_bars(document, [&](const pugi::xml_node& bar) {
    std::string text;
    for (const pugi::xml_node note : bar.children("note")) {
      if (!text.empty()) text += between;
      text += word(note);
    }
    bars.push_back(text);
  });
  return bars;
}

}  // namespace

model::Tone tone_of(std::string_view printed_fingering) {
  model::Tone tone;
  tone.fingering = model::parse_printed(printed_fingering);
  EXPECT_TRUE(tone.fingering) << printed_fingering;
  if (tone.fingering) tone.pitch = flute_of_size_8().sound(*tone.fingering);
  EXPECT_TRUE(tone.pitch) << printed_fingering;
  return tone;
}

model::Score staff_score(const model::Meter& meter, std::string_view lengths) {
  struct Stretch {
    Rational begin;
    Rational length;
    bool sounds;
  };
  std::vector<Stretch> stretches;
  Rational now;
  for (const std::string& word : words_of(lengths)) {
    const bool sounds = word.front() != 'r';
    const Rational length = model::parse_rational(sounds ? word : word.substr(1)).value();
    stretches.push_back({now, length, sounds});
    now += length;
  }
  model::Score score = bars_of(meter, now);
  for (const Stretch& stretch : stretches) {
    if (!stretch.sounds) continue;
    const Rational bar((stretch.begin / meter.length()).floor());
    model::Note note;
    note.measure = static_cast<std::size_t>(bar.numerator());
    note.onset = stretch.begin - bar * meter.length();
    note.duration = stretch.length;
    note.tone = tone_of("三");
    score.notes.push_back(note);
  }
  return score;
}

model::Score fingered_score(std::string_view fingerings) {
  const std::vector<std::string> words = words_of(fingerings);
  std::string lengths;
  for (std::size_t i = 0; i < words.size(); ++i) lengths += "1 ";
  model::Score score = staff_score({4, 4}, lengths);
  for (std::size_t i = 0; i < words.size(); ++i) score.notes[i].tone = tone_of(words[i]);
  return score;
}

std::string document_of(const model::Score& score, const musicxml::MusicXmlWriteOptions& options) {
  const auto document = musicxml::write_musicxml(score, options);
  EXPECT_TRUE(document.ok());
  return document.value.value_or(std::string());
}

std::string compact(const model::Score& score, const musicxml::MusicXmlWriteOptions& options) {
  std::string text;
  bool at_line_start = true;
  for (const char c : document_of(score, options)) {
    if (c == '\n') {
      at_line_start = true;
    } else if (c != ' ' || !at_line_start) {
      at_line_start = false;
      text += c;
    }
  }
  return text;
}

std::size_t count_of(std::string_view text, std::string_view what) {
  std::size_t count = 0;
  for (std::size_t at = text.find(what); at != std::string_view::npos;
       at = text.find(what, at + what.size())) {
    ++count;
  }
  return count;
}

std::vector<std::string> written_bars(const std::string& document) {
  return bars_in_words(document, ", ", note_word);
}

std::vector<std::string> written_beams(const std::string& document) {
  return bars_in_words(document, " ", beam_word);
}

std::vector<std::string> written_pitches(const std::string& document) {
  std::vector<std::string> pitches;
  for_bars(document, [&](const pugi::xml_node& bar) {
    for (const pugi::xml_node note : bar.children("note")) {
      const pugi::xml_node pitch = note.child("pitch");
      if (!pitch) continue;
      std::string word = std::string(pitch.child_value("step")) +
                         alteration(pitch.child_value("alter")) + pitch.child_value("octave");
      if (note.child("accidental")) {
        word += std::string("(") + note.child_value("accidental") + ")";
      }
      pitches.push_back(word);
    }
  });
  return pitches;
}

}  // namespace yubifu::support
