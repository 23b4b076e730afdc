#include "musicxml/header_writer.h"

#include <optional>
#include <string>

#include <fmt/format.h>

#include "model/header.h"
#include "model/words.h"
#include "musicxml/vocabulary.h"
#include "musicxml/vocabulary_own.h"

namespace yubifu::musicxml {
namespace {

constexpr std::string_view kInstrumentId = "P1-I1";
constexpr std::int64_t kMidiChannel = 1;
constexpr std::int64_t kMidiProgram = 74;  // flute: General MIDI 1, counted from 1

class HeaderWriter {
 public:
  explicit HeaderWriter(const WriterContext& context)
      : context_(context), out_(context.out), header_(context.score.header) {}

  void write() {
    out_.raw_line("<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
    out_.raw_line(
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">");
    out_.open("score-partwise");
    out_.attribute("version", "4.0");
    write_titles();
    out_.open("identification");
    write_creators();
    write_encoding();
    if (!header_.source.empty()) out_.text("source", header_.source);
    write_fields();
    out_.close();
    write_credits();
    write_part_list();
  }

 private:
  void write_titles() {
    if (header_.title.empty()) return;
    out_.open("work");
    out_.text("work-title", header_.title);
    out_.close();
  }

  void write_creators() {
    write_creator("composer", header_.composer);
    write_creator("lyricist", header_.lyricist);
    if (!header_.rights.empty()) out_.text("rights", header_.rights);
  }

  void write_creator(std::string_view type, const std::string& name) {
    if (name.empty()) return;
    out_.open("creator");
    out_.attribute("type", type);
    out_.close_with_text(name);
  }

  // What readers may rely on; see the supports element.
  void write_encoding() {
    out_.open("encoding");
    out_.text("software", "yubifu");
    for (const std::string_view element : {"accidental", "beam"}) {
      out_.open("supports");
      out_.attribute("element", element);
      out_.attribute("type", "yes");
      out_.close();
    }
    out_.open("supports");
    out_.attribute("attribute", "new-system");
    out_.attribute("element", "print");
    out_.attribute("type", "yes");
    out_.attribute("value", "yes");
    out_.close();
    out_.close();
  }

  void write_fields() {
    out_.open("miscellaneous");
    write_field(field::kVersion, "1");
    write_field(field::kFingering, annotation_name(context_.options.annotation));
    for (const model::HeaderKey key : field::kKept) {
      if (const auto value = kept_text(key)) {
        write_field(fmt::format("{}{}", field::kPrefix, word_of(key)), *value);
      }
    }
    for (const model::HeaderField& unknown : header_.unknown) {
      write_field(fmt::format("{}{}", field::kUnknownPrefix, unknown.key), unknown.value);
    }
    out_.close();
  }

  // A choice made for this export is remembered as if the header had made it.
  std::optional<std::string> kept_text(model::HeaderKey key) const {
    const auto& asked = context_.options.staff;
    if (key == model::HeaderKey::staff && asked) return std::string(model::word_of(*asked));
    return model::field_text(header_, key);
  }

  // Programs print the title and the creators by themselves, but a subtitle only as a credit, and
  // where there is one credit they print no others than credits.
  void write_credits() {
    if (header_.subtitle.empty()) return;
    write_credit("title", "center", header_.title);
    write_credit("subtitle", "center", header_.subtitle);
    write_credit("composer", "right", header_.composer);
    write_credit("lyricist", "left", header_.lyricist);
  }

  void write_credit(std::string_view type, std::string_view justify, const std::string& words) {
    if (words.empty()) return;
    out_.open("credit");
    out_.attribute("page", std::int64_t{1});
    out_.text("credit-type", type);
    out_.open("credit-words");
    out_.attribute("justify", justify);
    out_.attribute("valign", "top");
    out_.close_with_text(words);
    out_.close();
  }

  void write_field(std::string_view name, std::string_view value) {
    out_.open("miscellaneous-field");
    out_.attribute("name", name);
    out_.close_with_text(value);
  }

  void write_part_list() {
    out_.open("part-list");
    out_.open("score-part");
    out_.attribute("id", kPartId);
    out_.text("part-name", kPartName);
    out_.open("score-instrument");
    out_.attribute("id", kInstrumentId);
    out_.text("instrument-name", kPartName);
    out_.text("instrument-sound", kInstrumentSound);
    out_.close();
    out_.open("midi-instrument");
    out_.attribute("id", kInstrumentId);
    out_.number("midi-channel", kMidiChannel);
    out_.number("midi-program", kMidiProgram);
    out_.close();
    out_.close();
    out_.close();
  }

  const WriterContext& context_;
  ElementWriter& out_;
  const model::Header& header_;
};

}  // namespace

void write_document_start(const WriterContext& context) {
  HeaderWriter(context).write();
}

}  // namespace yubifu::musicxml
