#include "musicxml/xml/document_text.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "base/encoding.h"
#include "base/message.h"
#include "base/utf8.h"
#include "musicxml/rules.h"
#include "musicxml/xml/container.h"
#include "musicxml/xml/xml_scanner.h"

namespace yubifu::musicxml {
namespace {

using namespace std::string_view_literals;

constexpr std::string_view kUtf8 = "UTF-8";

// How a text begins, with a byte-order mark or with "<" (XML 1.0, appendix F). The longer ones
// come first: a UTF-32 mark begins like a UTF-16 one.
struct Beginning {
  std::string_view bytes;
  std::string_view encoding;
  bool is_mark;
};
constexpr std::array<Beginning, 9> kBeginnings{{
    {"\x00\x00\xFE\xFF"sv, "UTF-32BE", true},
    {"\xFF\xFE\x00\x00"sv, "UTF-32LE", true},
    {"\x00\x00\x00<"sv, "UTF-32BE", false},
    {"<\x00\x00\x00"sv, "UTF-32LE", false},
    {base::kByteOrderMark, kUtf8, true},
    {"\xFE\xFF"sv, "UTF-16BE", true},
    {"\xFF\xFE"sv, "UTF-16LE", true},
    {"\x00<"sv, "UTF-16BE", false},
    {"<\x00"sv, "UTF-16LE", false},
}};

std::optional<Beginning> beginning_of(std::string_view bytes) {
  for (const Beginning& beginning : kBeginnings) {
    if (bytes.starts_with(beginning.bytes)) return beginning;
  }
  return std::nullopt;
}

/// A declaration is short; what stands later is text.
constexpr std::size_t kLongestDeclaration = 1000;

// The value of `encoding` in the XML declaration; empty without one.
std::string_view declared_encoding(std::string_view bytes) {
  if (!bytes.starts_with("<?xml")) return {};
  const std::string_view declaration = bytes.substr(0, kLongestDeclaration);
  return attribute_in(declaration.substr(0, declaration.find("?>")), "encoding");
}

bool same_name(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

base::Outcome<DocumentText> unreadable(std::optional<base::SourceRange> where, std::string message,
                                       std::string hint) {
  return {std::nullopt,
          {base::report(rule::unreadable_text, where, std::move(message), std::move(hint))}};
}

bool is_utf8_by_name(std::string_view declared) {
  return declared.empty() || same_name(declared, kUtf8) || same_name(declared, "UTF8");
}

base::Outcome<DocumentText> checked_utf8(std::string_view bytes, std::size_t mark) {
  bytes.remove_prefix(mark);
  if (const auto bad = base::first_invalid_utf8(bytes)) {
    return unreadable(base::SourceRange{mark + *bad, mark + *bad + 1},
                      base::message("byte {:02X} is not part of a UTF-8 character",
                                    static_cast<unsigned char>(bytes[*bad])),
                      base::message("save the file as UTF-8, or let its XML declaration name the "
                                    "encoding it really has"));
  }
  return {DocumentText{std::string(bytes), std::string(kUtf8), mark > 0}, {}};
}

// The bytes begin with a mark of that many bytes.
base::Outcome<DocumentText> converted(std::string_view bytes, std::string_view encoding,
                                      std::size_t mark) {
  base::Conversion conversion = base::to_utf8(bytes.substr(mark), encoding);
  if (conversion.stopped_at) {
    return unreadable(std::nullopt,
                      base::message("byte {} of the file does not fit the encoding {}",
                                    mark + *conversion.stopped_at + 1, encoding),
                      base::message("save the file as UTF-8"));
  }
  return {DocumentText{std::move(conversion.text), std::string(encoding), mark > 0}, {}};
}

// Bytes without a mark whose characters are at least ASCII-compatible.
base::Outcome<DocumentText> by_declaration(std::string_view bytes) {
  const std::string_view declared = declared_encoding(bytes);
  if (is_utf8_by_name(declared)) return checked_utf8(bytes, 0);
  if (!base::is_known_encoding(declared)) {
    return unreadable(std::nullopt,
                      base::message("the declared encoding '{}' is not known here", declared),
                      base::message("save the file as UTF-8"));
  }
  // XML in UTF-8 has no escape characters; ISO-2022 shifts between its sets of characters with
  // them.
  const bool is_shifted = bytes.find('\x1B') != std::string_view::npos;
  if (is_shifted || base::first_invalid_utf8(bytes)) return converted(bytes, declared, 0);
  const base::Conversion as_declared = base::to_utf8(bytes, declared);
  if (!as_declared.stopped_at && as_declared.text == bytes) {  // ASCII only: both are right
    return {DocumentText{as_declared.text, std::string(declared), false}, {}};
  }
  return {DocumentText{std::string(bytes), std::string(kUtf8), false},
          {base::report(rule::declared_encoding, std::nullopt,
                        base::message("the file declares the encoding {} but holds UTF-8, and is "
                                      "read as UTF-8",
                                      declared),
                        base::message("mend the XML declaration"))}};
}

}  // namespace

base::Outcome<DocumentText> decode_document(std::string_view bytes) {
  const auto beginning = beginning_of(bytes);
  if (!beginning) return by_declaration(bytes);
  const std::size_t mark = beginning->is_mark ? beginning->bytes.size() : 0;
  if (beginning->encoding == kUtf8) return checked_utf8(bytes, mark);
  return converted(bytes, beginning->encoding, mark);
}

std::optional<std::string> encode_document(DocumentText document) {
  if (document.encoding != kUtf8) {
    base::Conversion conversion = base::from_utf8(document.text, document.encoding);
    if (conversion.stopped_at) return std::nullopt;
    document.text = std::move(conversion.text);
  }
  for (const Beginning& beginning : kBeginnings) {
    const bool is_its_mark = beginning.is_mark && beginning.encoding == document.encoding;
    if (document.has_byte_order_mark && is_its_mark) document.text.insert(0, beginning.bytes);
  }
  return std::move(document.text);
}

base::Outcome<std::string> xml_text(std::string_view bytes) {
  base::Outcome<std::string> unpacked;
  if (is_container(bytes)) {
    unpacked = score_in_container(bytes);
    if (!unpacked.ok()) return unpacked;
    bytes = *unpacked.value;
  }
  base::Outcome<DocumentText> decoded = decode_document(bytes);
  base::append(unpacked.diagnostics, std::move(decoded.diagnostics));
  if (!decoded.value) return {std::nullopt, std::move(unpacked.diagnostics)};
  return {std::move(decoded.value->text), std::move(unpacked.diagnostics)};
}

bool is_xml_text(std::string_view bytes) {
  return !is_container(bytes) && !beginning_of(bytes) && is_utf8_by_name(declared_encoding(bytes));
}

}  // namespace yubifu::musicxml
