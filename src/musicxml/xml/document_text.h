// From the bytes of a staff file to its XML text in UTF-8, and back for those who change the text.
#pragma once

#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// An XML text in UTF-8 and the form its bytes had.
struct DocumentText {
  std::string text;                ///< without a byte-order mark
  std::string encoding = "UTF-8";  ///< of the bytes, by the name that iconv knows
  bool has_byte_order_mark = false;
};

/// Decides by the byte-order mark, then by the first characters, then by the XML declaration.
/// Bytes that are UTF-8 although another encoding is declared are read as UTF-8, with
/// `declared-encoding`. Reports `unreadable-text` for an encoding nobody knows and for bytes that
/// do not fit; the place of such a byte counts in the bytes given.
base::Outcome<DocumentText> decode_document(std::string_view bytes);

/// The bytes of a text in the form of another; nothing for a character that its encoding lacks.
std::optional<std::string> encode_document(DocumentText document);

/// The XML text of any staff file: `.musicxml`, `.xml` or `.mxl`, told apart by their first bytes.
/// Places in later messages count in this text.
base::Outcome<std::string> xml_text(std::string_view bytes);

/// True for bytes that are that text already and need no copy: UTF-8 without a byte-order mark. A
/// byte that is none is left to the reader.
bool is_xml_text(std::string_view bytes);

}  // namespace yubifu::musicxml
