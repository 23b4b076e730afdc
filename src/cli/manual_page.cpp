#include "cli/manual_page.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/utf8.h"
#include "cli/formats.h"
#include "cli/option_table.h"
#include "cli/verbs.h"

namespace yubifu::cli {
namespace {

// Characters that roff would take for requests or set as typographic ones, as those of the
// keyboard.
constexpr std::array<std::pair<char32_t, std::string_view>, 6> kPlain{{{U'\\', "\\e"},
                                                                       {U'-', "\\-"},
                                                                       {U'\'', "\\(aq"},
                                                                       {U'`', "\\(ga"},
                                                                       {U'^', "\\(ha"},
                                                                       {U'~', "\\(ti"}}};

// Plain text for roff, in one line. What is beyond ASCII has its code point, so that no encoding
// has to be guessed.
std::string roff(std::string_view text) {
  std::string out = text.starts_with('.') ? "\\&" : "";
  while (!text.empty()) {
    const base::CodePoint point = base::first_code_point(text);
    const auto plain = std::find_if(kPlain.begin(), kPlain.end(),
                                    [&](const auto& row) { return row.first == point.value; });
    if (plain != kPlain.end()) {
      out += plain->second;
    } else if (point.value > 0x7F) {
      out += fmt::format("\\[u{:04X}]", static_cast<std::uint32_t>(point.value));
    } else {
      out += text.substr(0, point.size);
    }
    text.remove_prefix(point.size);
  }
  return out;
}

std::string bold(std::string_view text) {
  return "\\fB" + roff(text) + "\\fR";
}

std::string italic(std::string_view text) {
  return "\\fI" + roff(text) + "\\fR";
}

// A paragraph whose `tag` stands out to the left.
std::string item(const std::string& tag, std::string_view text) {
  return ".TP\n" + tag + '\n' + roff(text) + '\n';
}

std::string front() {
  return ".TH YUBIFU 1 \"\" \"yubifu " YUBIFU_VERSION
         "\" \"User Commands\"\n"
         ".SH NAME\n"
         "yubifu \\- fingering numbers of the Japanese bamboo flute to and from staff and MIDI\n"
         ".SH SYNOPSIS\n"
         ".B yubifu\n.I VERB INPUTS\n.RI [ OPTIONS ]\n.br\n"
         ".B yubifu help\n.RI [ VERB ]\n.br\n"
         ".B yubifu \\-\\-version\n"
         ".SH DESCRIPTION\n"
         "yubifu moves music between the fingering numbers of the Japanese bamboo flute and staff\n"
         "notation or MIDI, for the very flute in your hand.\n"
         ".PP\n"
         ".B yubifu help\n.I VERB\nshows the options of a verb and an example.\n";
}

std::string verb_section() {
  std::string text = ".SH VERBS\n";
  for (const Verb& verb : verbs()) {
    std::string tag = bold(verb.name);
    if (!verb.inputs.empty()) tag += ' ' + italic(verb.inputs);
    text += item(tag, verb.sentence);
    text += ".IP\n.EX\n" + roff(verb.example) + "\n.EE\n";
  }
  return text;
}

std::string option_item(const OptionRow& row) {
  std::string tag = row.letter == 0 ? "" : bold(fmt::format("-{}", row.letter)) + ", ";
  tag += bold(fmt::format("--{}", row.name));
  if (!row.placeholder.empty()) tag += ' ' + italic(row.placeholder);
  std::string text = item(tag, row.help);
  // In a line of its own, since the same name may mean something else to another verb.
  return text + ".br\n" + fmt::format("({})\n", fmt::join(row.verbs, ", "));
}

std::string option_section() {
  std::string text = ".SH OPTIONS\nBehind each option stand the verbs that take it.\n";
  for (const OptionGroup group : kGroupOrder) {
    text += ".SS " + roff(heading(group)) + '\n';
    for (const OptionRow& row : option_table()) {
      if (row.group == group) text += option_item(row);
    }
  }
  return text;
}

std::string format_section() {
  std::string text = ".SH FORMATS\n";
  for (const Format& format : formats()) {
    std::string tag = bold(format.name);
    for (const std::string_view extension : format.extensions) {
      tag += fmt::format(" .{}", extension);
    }
    text += item(tag, format.sentence);
  }
  return text;
}

std::string back() {
  return ".SH EXIT STATUS\n" + item(bold("0"), "done") +
         item(bold("1"), "findings, or something was lost and --strict was given") +
         item(bold("2"), "wrong usage, unreadable input or unwritable output") +
         ".SH ENVIRONMENT\n" +
         item(bold("NO_COLOR"), "When it is set and not empty, messages have no colours.") +
         item(bold("XDG_CONFIG_HOME") + ", " + bold("HOME"),
              "Where the settings stand: yubifu/settings.json under the first, else .config under "
              "the "
              "other.") +
         item(bold("CI"), "When it is set and not empty, the settings are passed over.") +
         item(bold("LANG") + ", " + bold("LC_MESSAGES") + ", " + bold("LC_ALL"),
              "The language of messages.") +
         item(bold("LANGUAGE"), "Languages for messages, parted by colons, the best first.") +
         ".SH FILES\nUnder the folder that the program is installed in:\n" +
         item(italic("share/yubifu/flutes"), "examples of flute files") +
         item(italic("share/yubifu/schemas"), "the schemas that the verb schema prints");
}

}  // namespace

std::string manual_page() {
  return front() + verb_section() + option_section() + format_section() + back();
}

}  // namespace yubifu::cli
