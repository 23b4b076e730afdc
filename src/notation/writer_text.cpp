#include "notation/writer_text.h"

#include <type_traits>

#include "model/note.h"
#include "notation/punctuation.h"

namespace yubifu::notation {
namespace {

constexpr std::string_view kLineEnds = "\r\n";

std::string marks_text(const std::vector<model::Mark>& marks) {
  std::string text;
  for (const model::Mark mark : marks) text += brace(model::word_of(mark));
  return text;
}

}  // namespace

std::string on_one_line(std::string_view text) {
  std::string line;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(kLineEnds, at), text.size());
    line += text.substr(at, end - at);
    if (end == text.size()) break;
    line += ' ';
    at = end + (text.substr(end).starts_with("\r\n") ? 2 : 1);
  }
  return line;
}

bool has_line_end(std::string_view text) {
  return text.find_first_of(kLineEnds) != std::string_view::npos;
}

bool is_writable(const model::Sign& sign) {
  return model::standard_place(sign).has_value() || model::is_own_sign(sign.printed());
}

std::string tone_text(const model::Tone& tone, Alphabet alphabet) {
  return alphabet == Alphabet::ascii ? model::ascii(tone) : model::printed(tone);
}

std::string grace_text(ValuedMark mark, const std::vector<model::Tone>& tones, Alphabet alphabet) {
  std::string value;
  for (const model::Tone& tone : tones) {
    if (!value.empty()) value += ' ';
    value += tone_text(tone, alphabet);
  }
  return brace(word_of(mark), value);
}

std::string note_text(const model::Note& note, Alphabet alphabet) {
  std::string text = tone_text(note.tone, alphabet) + marks_text(note.marks);
  if (!note.grace_before.empty()) text += grace_text(ValuedMark::pre, note.grace_before, alphabet);
  if (!note.grace_after.empty()) text += grace_text(ValuedMark::post, note.grace_after, alphabet);
  if (note.asked_holes) {
    text += brace(word_of(ValuedMark::holes), alphabet == Alphabet::ascii
                                                  ? model::ascii(*note.asked_holes)
                                                  : model::printed(*note.asked_holes));
  }
  if (note.slur_to_next) text += kSlur;
  return text;
}

std::string rest_text(const model::Rest* rest, Alphabet alphabet) {
  std::string text(alphabet == Alphabet::ascii ? kRestAscii : kRest);
  return rest == nullptr ? text : text + marks_text(rest->marks);
}

std::string brace(std::string_view word) {
  std::string text = "{";
  return text.append(word).append("}");
}

std::string brace(std::string_view word, std::string_view value) {
  std::string text = "{";
  return text.append(word).append(" ").append(value).append("}");
}

std::string direction_text(const model::DirectionValue& value, model::Rational usual_unit) {
  return std::visit(
      [&](const auto& direction) -> std::string {
        using T = std::decay_t<decltype(direction)>;
        if constexpr (std::is_same_v<T, model::TempoChange>) {
          return brace(word_of(DirectionWord::tempo), model::to_text(direction.tempo, usual_unit));
        } else if constexpr (std::is_same_v<T, model::BeatChange>) {
          return brace(word_of(DirectionWord::beat), model::beat_text(direction.beat));
        } else if constexpr (std::is_same_v<T, model::KeyChange>) {
          return brace(word_of(DirectionWord::key), model::to_text(direction.key));
        } else if constexpr (std::is_same_v<T, model::FluteChange>) {
          return brace(word_of(DirectionWord::flute), bare_or_quoted(flute_text(direction.flute)));
        } else if constexpr (std::is_same_v<T, model::SectionStart>) {
          return brace(word_of(DirectionWord::section), quoted(direction.name));
        } else if constexpr (std::is_same_v<T, model::TextDirection>) {
          return brace(word_of(DirectionWord::text), quoted(direction.text));
        } else if constexpr (std::is_same_v<T, model::Dynamic>) {
          return brace(word_of(DirectionWord::dynamic), bare_or_quoted(direction.level));
        } else {
          return brace(model::word_of(direction));
        }
      },
      value);
}

std::string flute_text(const model::FluteName& name) {
  std::string text = model::to_text(name);
  const bool path = std::holds_alternative<model::FlutePath>(name);
  const auto read = model::parse_flute_name(text);
  const bool read_as_path = read && std::holds_alternative<model::FlutePath>(*read);
  return path && !read_as_path ? "./" + text : text;
}

}  // namespace yubifu::notation
