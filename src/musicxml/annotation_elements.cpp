#include "musicxml/annotation_elements.h"

#include <fmt/format.h>

#include "base/utf8.h"

namespace yubifu::musicxml {
namespace {

std::string attribute_text(const MarkAttribute& attribute) {
  return fmt::format(" {}=\"{}\"", attribute.name, attribute.value);
}

}  // namespace

std::string fingering_lyric(int verse, Annotation kind, std::string_view fingering) {
  return fmt::format(
      "<lyric number=\"{}\" name=\"{}\" placement=\"{}\"><syllabic>single</syllabic>"
      "<text>{}</text></lyric>",
      verse, kFingeringLyric, kind == Annotation::lyric_above ? "above" : "below",
      base::xml_escaped(fingering));
}

std::string fingering_notations(std::string_view fingering,
                                const std::optional<model::HolePattern>& holes) {
  std::string technical;
  if (!fingering.empty())
    technical = fmt::format("<fingering>{}</fingering>", base::xml_escaped(fingering));
  if (holes) {
    for (const model::Hole hole : holes->holes) {
      technical +=
          fmt::format("<hole><hole-closed>{}</hole-closed></hole>", hole_closed_name(hole));
    }
  }
  return fmt::format("<notations{}><technical>{}</technical></notations>",
                     attribute_text(kNotationsMark), technical);
}

std::string fingering_direction(std::string_view staff, std::string_view fingering) {
  std::string marks;
  for (const MarkAttribute& mark : kDirectionMarks) marks += attribute_text(mark);
  const std::string on_staff =
      staff.empty() ? std::string() : fmt::format("<staff>{}</staff>", staff);
  return fmt::format(
      "<direction{}><direction-type><words>{}</words></direction-type>{}</direction>", marks,
      base::xml_escaped(fingering), on_staff);
}

std::string annotation_fields(FieldHome home, std::string_view space,
                              const std::vector<std::pair<std::string_view, std::string>>& fields) {
  const bool among_others = home == FieldHome::fields;
  std::string out;
  for (const auto& [name, value] : fields) {
    if (among_others && !out.empty()) out += space;
    out += fmt::format("<miscellaneous-field name=\"{}\">{}</miscellaneous-field>", name,
                       base::xml_escaped(value));
  }
  if (among_others) return out;
  out = fmt::format("<miscellaneous>{}</miscellaneous>", out);
  const bool has_identification =
      home == FieldHome::miscellaneous || home == FieldHome::instead_of_miscellaneous;
  return has_identification ? out : fmt::format("<identification>{}</identification>", out);
}

}  // namespace yubifu::musicxml
