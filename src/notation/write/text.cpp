#include "notation/write/text.h"

#include <algorithm>

#include "model/note.h"
#include "notation/characters.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

constexpr std::string_view kLineEnds = "\r\n";

std::string marks_text(const std::vector<model::Mark>& marks) {
  std::string text;
  for (const model::Mark mark : marks) text += braced(model::word_of(mark));
  return text;
}

void add_line(std::string& out, std::string_view key, std::string_view value) {
  out.append(key).append(":");
  if (!value.empty()) out.append(" ").append(value);
  out += '\n';
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
  return braced(word_of(mark), value);
}

std::string note_text(const model::Note& note, Alphabet alphabet) {
  std::string text = tone_text(note.tone, alphabet) + marks_text(note.marks);
  if (!note.grace_before.empty()) text += grace_text(ValuedMark::pre, note.grace_before, alphabet);
  if (!note.grace_after.empty()) text += grace_text(ValuedMark::post, note.grace_after, alphabet);
  if (note.asked_holes) {
    text += braced(word_of(ValuedMark::holes), alphabet == Alphabet::ascii
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

std::string direction_text(const model::DirectionValue& value, model::Rational usual_unit) {
  const std::string_view word = model::word_of(value);
  if (const auto* change = std::get_if<model::TempoChange>(&value)) {
    return braced(word, model::to_text(change->tempo, usual_unit));
  }
  if (const auto* change = std::get_if<model::FluteChange>(&value)) {
    return braced(word, bare_or_quoted(flute_text(change->flute)));
  }
  const std::string text = model::value_text(value);
  if (std::holds_alternative<model::Dynamic>(value)) return braced(word, bare_or_quoted(text));
  return braced(word, model::free_text(value) == nullptr ? text : quoted(text));
}

std::string flute_text(const model::FluteName& name) {
  std::string text = model::to_text(name);
  const bool path = std::holds_alternative<model::FlutePath>(name);
  const auto read = model::parse_flute_name(text);
  const bool read_as_path = read && std::holds_alternative<model::FlutePath>(*read);
  return path && !read_as_path ? "./" + text : text;
}

bool is_writable_field(const model::Header& header, const model::HeaderField& field) {
  if (!may_be_header_key(field.key) || header_key(folded(field.key))) return false;
  const auto same = [&](const model::HeaderField& other) { return other.key == field.key; };
  const auto first = std::find_if(header.unknown.begin(), header.unknown.end(), same);
  return first == header.unknown.end() || &*first == &field;
}

std::string header_text(const model::Header& header) {
  std::string out;
  for (const std::string& comment : header.comments) out.append(comment_text(comment)).append("\n");
  for (const HeaderKey key : model::header_keys()) {
    // The path of a flute file may look like a size.
    const auto text = key == HeaderKey::flute && header.flute ? flute_text(*header.flute)
                                                              : model::field_text(header, key);
    if (text && !trimmed(*text).empty()) add_line(out, word_of(key), trimmed(*text));
  }
  for (const model::HeaderField& field : header.unknown) {
    add_line(out, field.key, trimmed(field.value));
  }
  return out;
}

std::string comment_text(const std::string& text) {
  return text.empty() ? "#" : "# " + text;
}

}  // namespace yubifu::notation
