// Help: on verbs, made from the tables of verbs, options and formats, and on what is not a verb,
// how tunes are written, which flutes there are, what settings hold, where the page is.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/verbs.h"

namespace yubifu::cli {

/// One way to write something, or several with two spaces between them.
struct HelpLine {
  std::string_view spelling;  ///< as it is typed; the same in every language
  std::string_view meaning;   ///< to be translated
};

/// A part of the help on the notation.
struct HelpSection {
  std::string_view topic;    ///< the word by which it is asked for alone
  std::string_view heading;  ///< to be translated
  std::vector<HelpLine> lines;
};

/// The parts of the help on the notation, in their order.
const std::vector<HelpSection>& notation_sections();

/// An example of the settings file.
std::string_view example_settings();

/// What `yubifu help` takes beside a verb.
struct HelpTopic {
  std::string_view name;
  std::string_view sentence;  ///< to be translated
  std::function<std::string()> text;
};

/// "notation" and its parts, "flute", "settings", "page".
const std::vector<HelpTopic>& help_topics();

/// The text of a topic; nothing for another word.
std::optional<std::string> topic_help(std::string_view name);

/// The overview that `yubifu help` prints.
std::string general_help();

/// What `yubifu help VERB` prints.
std::string verb_help(const Verb& verb);

}  // namespace yubifu::cli
