#include "notation/writer_check.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "notation/characters.h"
#include "notation/lexer.h"
#include "notation/parser.h"
#include "notation/rules.h"
#include "notation/writer_header.h"
#include "notation/writer_text.h"
#include "notation/writer_words.h"

namespace yubifu::notation {
namespace {

// Measures that one finding names.
constexpr std::size_t kMostMeasuresNamed = 50;

const model::Sign kZero("0");

// Calls `visit` with each tone and the note it belongs to, grace notes included.
template <typename Visit>
void for_each_tone(const model::Score& score, const Visit& visit) {
  for (const model::Note& note : score.notes) {
    visit(note.tone, note);
    for (const model::Tone& tone : note.grace_before) visit(tone, note);
    for (const model::Tone& tone : note.grace_after) visit(tone, note);
  }
}

bool has_fingers(const model::Tone& tone) {
  return tone.fingering && (!tone.fingering->is_gap() || tone.spelling);
}

class Check {
 public:
  Check(const model::Score& score, const std::vector<model::BarContent>& contents)
      : score_(score), contents_(contents) {}

  base::Diagnostics run() {
    fingers();
    signs();
    header();
    flutes();
    texts();
    if (score_.measures.size() > kMostBars) {
      add(rule::size_limit,
          base::message("{} bars; a text holds {}", score_.measures.size(), kMostBars),
          base::message("cut the score into several files"), {});
    }
    return std::move(found_);
  }

 private:
  using Measures = std::vector<std::size_t>;

  void add(const base::Rule& rule, std::string message, std::string hint,
           const Measures& measures) {
    base::Diagnostic finding =
        base::report(rule, std::nullopt, std::move(message), std::move(hint));
    for (const std::size_t measure : measures) {
      const std::string& number = score_.measures[measure].number;
      const bool named = !finding.measures.empty() && finding.measures.back() == number;
      if (!named && finding.measures.size() < kMostMeasuresNamed) {
        finding.measures.push_back(number);
      }
    }
    found_.push_back(std::move(finding));
  }

  void fingers() {
    Measures measures;
    for_each_tone(score_, [&](const model::Tone& tone, const model::Note& note) {
      if (!has_fingers(tone)) measures.push_back(note.measure);
    });
    if (measures.empty()) return;
    add(rule::unfingered_note, base::message("{} notes have no fingering", measures.size()),
        base::message("name the flute that shall play them"), measures);
  }

  void signs() {
    Measures measures;
    std::string first;
    for_each_tone(score_, [&](const model::Tone& tone, const model::Note& note) {
      if (!has_fingers(tone) || tone.fingering->is_gap() || is_writable(*tone.fingering->sign)) {
        return;
      }
      if (measures.empty()) first = tone.fingering->sign->printed();
      measures.push_back(note.measure);
    });
    if (!measures.empty()) {
      add(rule::unwritable_sign, base::message("the sign {} cannot be written", shown(first)),
          base::message("rename it in the flute file, to one letter or digit of its own"),
          measures);
    }
  }

  void header() {
    for (const model::HeaderField& field : score_.header.unknown) {
      if (is_writable_field(score_.header, field)) continue;
      add(rule::unwritable_header,
          base::message("the header field {} is kept as a comment", shown(field.key)),
          base::message("rename it to one word of its own"), {});
    }
    if (score_.header.zero == model::ZeroSign::tube && is_zero_taken(score_)) {
      add(rule::zero_is_taken,
          base::message("`zero: tube` is left out, since a note is the cross-fingering 0"),
          base::message("the tube tones are written 筒"), {});
    }
  }

  void flutes() {
    Measures measures;
    for (std::size_t i = 0; i < contents_.size(); ++i) {
      if (is_held_over_flute(score_, contents_[i])) measures.push_back(i);
    }
    if (measures.empty()) return;
    add(rule::held_over_flute,
        base::message("a note is held while the flute changes; it is struck anew"),
        base::message("end the note before the change"), measures);
  }

  void texts() {
    const model::Header& header = score_.header;
    bool lines = false;
    for (const std::string* text : {&header.title, &header.subtitle, &header.composer,
                                    &header.lyricist, &header.source, &header.rights}) {
      lines |= has_line_end(*text);
    }
    for (const model::HeaderField& field : header.unknown) lines |= has_line_end(field.value);
    for (const std::string& comment : header.comments) lines |= has_line_end(comment);
    Measures measures;
    for (std::size_t i = 0; i < score_.measures.size(); ++i) {
      for (const model::Comment& comment : score_.measures[i].comments) {
        if (has_line_end(comment.text)) measures.push_back(i);
      }
    }
    for (const model::Note& note : score_.notes) {
      for (const model::Syllable& syllable : note.syllables) {
        if (has_line_end(syllable.text)) measures.push_back(note.measure);
      }
    }
    Measures too_long;
    for (const model::Direction& direction : score_.directions) {
      if (has_line_end(text_of(direction))) measures.push_back(direction.measure);
      const bool fits = direction_text(direction.value, 0).size() <= kLongestToken;
      if (!fits) too_long.push_back(direction.measure);
    }
    std::sort(measures.begin(), measures.end());
    if (lines || !measures.empty()) {
      add(rule::text_on_one_line, base::message("the lines of a text are joined to one"), {},
          measures);
    }
    if (!too_long.empty()) {
      add(rule::size_limit, base::message("a direction is longer than {} bytes", kLongestToken),
          base::message("shorten it"), too_long);
    }
  }

  static std::string text_of(const model::Direction& direction) {
    if (const auto* text = std::get_if<model::TextDirection>(&direction.value)) return text->text;
    if (const auto* section = std::get_if<model::SectionStart>(&direction.value)) {
      return section->name;
    }
    return {};
  }

  const model::Score& score_;
  const std::vector<model::BarContent>& contents_;
  base::Diagnostics found_;
};

}  // namespace

base::Diagnostics check_writable(const model::Score& score,
                                 const std::vector<model::BarContent>& contents) {
  return Check(score, contents).run();
}

bool is_zero_taken(const model::Score& score) {
  bool taken = false;
  for_each_tone(score, [&](const model::Tone& tone, const model::Note&) {
    taken |= tone.fingering && tone.fingering->sign == kZero;
  });
  return taken;
}

}  // namespace yubifu::notation
