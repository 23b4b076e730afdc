#include <algorithm>
#include <optional>
#include <set>
#include <variant>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "base/xml_writer.h"
#include "page/print/print.h"
#include "page/style.h"

namespace yubifu::page {
namespace {

// Between the sheets of one tall document.
constexpr double kBetweenSheets = 6;

// The language of descriptions, which are messages.
std::string message_language() {
  // For translators: the code of your language.
  return base::message("en");
}

// Millimetres with at most two decimals.
std::string number_text(double value) {
  const double rounded = base::rounded(value, 100);
  return fmt::format("{}", rounded == 0 ? 0 : rounded);
}

std::string attribute(std::string_view name, double value) {
  return fmt::format(" {}=\"{}\"", name, number_text(value));
}

// By which a page that shows the picture knows what belongs to a tone.
std::string note_attribute(std::optional<std::size_t> note) {
  return note ? fmt::format(" data-note=\"{}\"", *note) : std::string();
}

// Bold is the only weight beside the inherited one.
std::string_view weight_attribute(TextWeight weight) {
  return weight == TextWeight::bold ? " font-weight=\"bold\"" : "";
}

struct ShapePrinter {
  std::string& out;
  const TextMeasure& measure;

  void operator()(const GlyphShape& shape) {
    const double scale = shape.box.height() / 100;
    out += fmt::format("<use href=\"#yf-{}\" transform=\"translate({}) scale({:.4f})\"/>\n",
                       glyph(shape.glyph).name, point({shape.box.left, shape.box.top}), scale);
  }

  void operator()(const LineShape& shape) {
    out += fmt::format("<path d=\"M{}L{}\"{}/>\n", point(shape.from), point(shape.to),
                       attribute("stroke-width", shape.width));
  }

  void operator()(const CurveShape& shape) {
    out += fmt::format("<path fill=\"none\" d=\"M{}C{} {} {}\"{}/>\n", point(shape.from),
                       point(shape.pull_from), point(shape.pull_to), point(shape.to),
                       attribute("stroke-width", shape.width));
  }

  void operator()(const DotShape& shape) { circle(shape.center, shape.radius, " stroke=\"none\""); }

  void operator()(const FrameShape& shape) {
    out += "<rect fill=\"none\"" + attribute("x", shape.box.left) + attribute("y", shape.box.top) +
           attribute("width", shape.box.width()) + attribute("height", shape.box.height()) +
           attribute("rx", std::min(shape.box.width(), shape.box.height()) / 7) +
           attribute("stroke-width", shape.width) + "/>\n";
  }

  void operator()(const HoleShape& shape) {
    const double pen = shape.radius * 0.22;
    const double rim = shape.radius - pen / 2;
    const std::string ring = " fill=\"none\"" + attribute("stroke-width", pen);
    if (shape.hole == model::Hole::closed) {
      return circle(shape.center, shape.radius, " stroke=\"none\"");
    }
    circle(shape.center, rim, ring);
    if (shape.hole == model::Hole::half) {
      out += fmt::format("<path stroke=\"none\" d=\"M{0}A{1} {1} 0 0 0 {2}Z\"/>\n",
                         point({shape.center.x, shape.center.y - rim}), number_text(rim),
                         point({shape.center.x, shape.center.y + rim}));
    }
    if (shape.hole == model::Hole::steadying) circle(shape.center, shape.radius * 0.42, ring);
  }

  void operator()(const TextShape& shape) {
    const bool turned = shape.turn == TextTurn::quarter;
    const double natural = measure ? measure(shape.text, shape.weight) * shape.size : 0;
    out += "<text stroke=\"none\"";
    if (natural > 0) {
      out += stretched(shape, natural);
    } else {
      out += turned ? fmt::format(" transform=\"translate({}) rotate(90)\"", point(shape.at))
                    : attribute("x", shape.at.x) + attribute("y", shape.at.y);
      if (shape.anchor == TextAnchor::middle) out += " text-anchor=\"middle\"";
      if (shape.anchor == TextAnchor::end) out += " text-anchor=\"end\"";
      out += attribute("textLength", shape.length) + " lengthAdjust=\"spacingAndGlyphs\"";
    }
    out += attribute("font-size", shape.size);
    out += weight_attribute(shape.weight);
    out += ">" + base::xml_escaped(shape.text) + "</text>\n";
  }

  // Turned characters are texts of their own: not every program turns them inside a text.
  void operator()(const StackShape& shape) {
    constexpr double kBaseline = 0.38;  // under the middle of a character's cell
    const std::string opening = "<text stroke=\"none\" text-anchor=\"middle\"" +
                                attribute("font-size", shape.size) +
                                std::string(weight_attribute(shape.weight));
    const double down = kBaseline * shape.size;
    bool open = false;
    for (const StackShape::Character& character : shape.characters) {
      const Point at = character.center;
      if (open == character.turned) out += open ? "</text>\n" : opening + '>';
      open = !character.turned;
      if (character.turned) {
        out += fmt::format("{} transform=\"translate({}) rotate(90)\">{}</text>\n", opening,
                           point({at.x - down, at.y}), base::xml_escaped(character.text));
      } else {
        out += "<tspan" + attribute("x", at.x) + attribute("y", at.y + down) + ">" +
               base::xml_escaped(character.text) + "</tspan>";
      }
    }
    if (open) out += "</text>\n";
  }

  // Too faint to be seen, but selected, searched and printed; many programs drop transparent text.
  void operator()(const UnseenText& shape) {
    constexpr double kBaseline = 0.12;  // over the lower edge
    constexpr std::string_view kFaint = "fill-opacity=\"0.004\"";
    if (!measure) out += fmt::format("<text stroke=\"none\" {}>", kFaint);
    for (const UnseenText::Run& run : shape.runs) {
      const double height = run.box.height();
      const double y = run.box.bottom - kBaseline * height;
      const std::string size = attribute("font-size", height);
      const std::string text = base::xml_escaped(run.text);
      if (measure) {
        // Its natural width parts no characters of a sign for those that search.
        out +=
            fmt::format("<text stroke=\"none\" text-anchor=\"middle\" {}{}{}{}>{}</text>\n", kFaint,
                        size, attribute("x", run.box.center().x), attribute("y", y), text);
        continue;
      }
      if (&run != &shape.runs.front()) out += ' ';
      out += fmt::format("<tspan{}{}{}{}{} lengthAdjust=\"spacingAndGlyphs\">{}</tspan>",
                         note_attribute(run.note), attribute("x", run.box.left), attribute("y", y),
                         size, attribute("textLength", run.box.width()), text);
    }
    if (!measure) out += "</text>\n";
  }

  // Brings a text to its length by hand, from its start: the space after the last letter would
  // count for an anchor. librsvg scales only the letters, so the rest goes between them.
  static std::string stretched(const TextShape& shape, double natural) {
    const double scale = shape.length / natural;
    const double before = shape.anchor == TextAnchor::start    ? 0
                          : shape.anchor == TextAnchor::middle ? shape.length / 2
                                                               : shape.length;
    const bool turned = shape.turn == TextTurn::quarter;
    const double letters = static_cast<double>(base::code_point_count(shape.text));
    const Point at{shape.at.x - (turned ? 0 : before), shape.at.y - (turned ? before : 0)};
    return fmt::format(
        " transform=\"translate({}){} scale({:.4f} 1)\" xml:space=\"preserve\" "
        "letter-spacing=\"{:.4f}\"",
        point(at), turned ? " rotate(90)" : "", scale,
        (shape.length - natural) / (letters * scale));
  }

  static std::string point(Point at) { return number_text(at.x) + " " + number_text(at.y); }

  void circle(Point center, double radius, const std::string& style) {
    out += "<circle" + attribute("cx", center.x) + attribute("cy", center.y) +
           attribute("r", radius) + style + "/>\n";
  }
};

// Items in turn, those of one tone in a group with its number.
void print_tones(std::string& out, const std::vector<Item>& items, std::size_t begin,
                 std::size_t end, const TextMeasure& measure) {
  ShapePrinter printer{out, measure};
  for (std::size_t i = begin; i < end;) {
    const std::optional<std::size_t> note = items[i].note;
    if (note) out += "<g" + note_attribute(note) + ">\n";
    for (; i < end && items[i].note == note; ++i) std::visit(printer, items[i].shape);
    if (note) out += "</g>\n";
  }
}

// The items, those of one bar in a group with the name that a screen reader says.
void print_items(std::string& out, const Sheet& sheet, const TextMeasure& measure) {
  for (std::size_t i = 0; i < sheet.items.size();) {
    const std::optional<std::size_t> bar = sheet.items[i].bar;
    const bool foot = !bar && sheet.items[i].role == Role::footer;
    std::size_t end = i;
    while (end < sheet.items.size() && sheet.items[end].bar == bar &&
           (sheet.items[end].role == Role::footer) == foot) {
      ++end;
    }
    if (bar) {
      out += "<g role=\"img\" aria-label=\"" + base::xml_escaped(sheet.bars[*bar]) + "\">\n";
    }
    if (foot) out += "<g class=\"foot\">\n";
    print_tones(out, sheet.items, i, end, measure);
    i = end;
    if (bar || foot) out += "</g>\n";
  }
}

// The start of a picture, with the attributes that all shapes inherit.
std::string opening(double width, double height, const Sheet& named, std::size_t number) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
      "viewBox=\"0 0 {0} {1}\" role=\"graphics-document document\" "
      "aria-labelledby=\"yf-title-{2}\" aria-describedby=\"yf-description-{2}\" "
      "fill=\"{3}\" stroke=\"{3}\" stroke-width=\"0\" font-family=\"{4}\" "
      "lang=\"ja\" xml:lang=\"ja\">\n"
      "<title id=\"yf-title-{2}\">{5}</title>\n"
      "<desc id=\"yf-description-{2}\" lang=\"{7}\" xml:lang=\"{7}\">{6}</desc>\n",
      number_text(width), number_text(height), number, style::kInk, style::kFonts,
      base::xml_escaped(named.title), base::xml_escaped(named.description), message_language());
}

// The glyphs that the sheets use, to be defined once in a document.
std::string svg_definitions(const std::vector<Sheet>& sheets) {
  std::set<GlyphId> used;
  for (const Sheet& sheet : sheets) {
    for (const Item& item : sheet.items) {
      if (const auto* shape = std::get_if<GlyphShape>(&item.shape)) used.insert(shape->glyph);
    }
  }
  std::string out = "<defs>\n";
  for (const GlyphId id : used) {
    const Glyph& shape = glyph(id);
    out += fmt::format("<g id=\"yf-{}\" stroke-linecap=\"round\" stroke-linejoin=\"round\">",
                       shape.name);
    for (const GlyphPart& part : shape.parts) {
      if (part.pen > 0) {
        out += fmt::format("<path fill=\"none\" stroke-width=\"{}\" d=\"{}\"/>",
                           number_text(part.pen), part.path);
      } else {
        out += fmt::format("<path stroke=\"none\" d=\"{}\"/>", part.path);
      }
    }
    out += "</g>\n";
  }
  return out + "</defs>\n";
}

// On paper one sheet a page. A narrow screen shows columns large enough to read, which move
// sideways; the foot, which would be cut, stands below them as text of the page. Rows are always
// seen whole: nobody can play and move each of them to and fro.
std::string style_sheet(const Sheet& sheet) {
  constexpr double kLeastPixels = 2.95;  // for a millimetre
  return fmt::format(R"(@page {{ size: {0}mm {1}mm; margin: 0 }}
html {{ background: {2}; color: {3}; font-family: {4} }}
body {{ margin: 0 }}
.sheet {{ break-after: page; break-inside: avoid; overflow: hidden }}
.sheet:last-child {{ break-after: auto }}
.sheet svg {{ display: block; direction: ltr; width: {0}mm; height: {1}mm; background: {2} }}
.notes {{ display: none }}
@media screen {{
  html {{ background: {6} }}
  .sheet {{ overflow-x: auto; margin: 0 auto 12px }}
  .from-right {{ direction: rtl }}
  .sheet svg {{ width: max(min(100%, {0}mm), {5:.0f}px); height: auto; margin: 0 auto }}
  .rows svg {{ width: min(100%, {0}mm) }}
}}
@media screen and (max-width: {5:.0f}px) {{
  .foot {{ visibility: hidden }}
  .notes {{ display: block; padding: 4px 16px; background: {2}; line-height: 1.5 }}
}}
)",
                     number_text(sheet.width), number_text(sheet.height), style::kPaper,
                     style::kInk, style::kFonts, sheet.width * kLeastPixels, style::kDesk);
}

// One sheet a page.
std::string html_document(const std::vector<Sheet>& sheets, const std::string& title) {
  std::string out =
      fmt::format("<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n",
                  message_language());
  out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += "<meta name=\"description\" content=\"" + base::xml_escaped(sheets.front().description) +
         "\">\n";
  out += "<title>" + base::xml_escaped(title) + "</title>\n<style>\n";
  out += style_sheet(sheets.front()) + "</style>\n</head>\n<body>\n";
  out += "<svg width=\"0\" height=\"0\" aria-hidden=\"true\" style=\"position:absolute\">\n";
  out += svg_definitions(sheets) + "</svg>\n<main>\n";
  std::size_t number = 0;
  for (const Sheet& sheet : sheets) {
    // A chart has no bars, and neither columns nor rows.
    const std::string_view further = sheet.start == SheetStart::right ? " from-right"
                                     : sheet.bars.empty()             ? ""
                                                                      : " rows";
    out +=
        fmt::format("<section class=\"sheet{}\" aria-labelledby=\"yf-title-{}\" tabindex=\"0\">\n",
                    further, ++number);
    out += opening(sheet.width, sheet.height, sheet, number);
    print_items(out, sheet, {});
    out += "</svg>\n</section>\n";
  }
  out += "</main>\n<footer class=\"notes\">\n";
  for (const Sheet& sheet : sheets) {
    for (const std::string& note : sheet.notes) out += "<p>" + base::xml_escaped(note) + "</p>\n";
  }
  return out + "</footer>\n</body>\n</html>\n";
}

}  // namespace

std::string svg_document(const std::vector<Sheet>& sheets, const TextMeasure& measure) {
  double width = 0;
  double height = -kBetweenSheets;
  for (const Sheet& sheet : sheets) {
    width = std::max(width, sheet.width);
    height += sheet.height + kBetweenSheets;
  }
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  out += opening(width, height, sheets.front(), 1);
  out += svg_definitions(sheets);
  double top = 0;
  for (const Sheet& sheet : sheets) {
    out += fmt::format(
        "<g transform=\"translate(0 {})\">\n<rect width=\"{}\" height=\"{}\" "
        "fill=\"{}\"/>\n",
        number_text(top), number_text(sheet.width), number_text(sheet.height), style::kPaper);
    print_items(out, sheet, measure);
    out += "</g>\n";
    top += sheet.height + kBetweenSheets;
  }
  return out + "</svg>\n";
}

std::string svg_of_text(const std::string& text, TextWeight weight, double size) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{0}\" viewBox=\"0 0 {0} "
      "{0}\" "
      "font-family=\"{1}\" lang=\"ja\" xml:lang=\"ja\"><text id=\"text\" font-size=\"{0}\"{2}>{3}"
      "</text></svg>",
      number_text(size), style::kFonts, weight_attribute(weight), base::xml_escaped(text));
}

base::Outcome<std::vector<std::string>> documents_of(const std::vector<Sheet>& sheets, PrintedAs as,
                                                     const DocumentFacts& facts) {
  if (as == PrintedAs::html) return {std::vector{html_document(sheets, facts.title)}, {}};
  if (as == PrintedAs::pdf) return pdf_document(sheets, facts);
  std::vector<std::string> documents;
  for (const Sheet& sheet : sheets) documents.push_back(svg_document({sheet}));
  return {std::move(documents), {}};
}

}  // namespace yubifu::page
