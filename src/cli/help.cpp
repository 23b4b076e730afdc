#include "cli/help.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/message.h"
#include "base/utf8.h"
#include "cli/formats.h"
#include "cli/help_topics.h"
#include "cli/option_table.h"

namespace yubifu::cli {
namespace {

using base::message;
using base::translated;

constexpr int kLineWidth = 88;
constexpr int kOptionColumn = 30;

std::string option_line(const OptionRow& row) {
  std::string left = row.letter == 0 ? "      " : fmt::format("  -{}, ", row.letter);
  left += fmt::format("--{}", row.name);
  if (!row.placeholder.empty()) left += fmt::format(" {}", row.placeholder);
  const int width = base::display_width(left);
  if (width + 1 >= kOptionColumn) {
    left += '\n' + std::string(kOptionColumn, ' ');
  } else {
    left = base::padded(left, kOptionColumn);
  }
  return left + wrapped(translated(row.help), kOptionColumn);
}

std::string format_lines() {
  std::string text;
  for (const Format& format : formats()) {
    std::string extensions;
    for (const std::string_view extension : format.extensions) {
      extensions += fmt::format("{}.{}", extensions.empty() ? "" : " ", extension);
    }
    text += "  " + base::padded(format.name, 12) + base::padded(extensions, 22) +
            wrapped(translated(format.sentence), 36);
  }
  return text;
}

}  // namespace

std::string wrapped(std::string_view text, int indent) {
  std::string out;
  for (const std::string& line : base::wrapped(text, kLineWidth - indent)) {
    if (!out.empty()) out += std::string(static_cast<std::size_t>(indent), ' ');
    out += line + '\n';
  }
  return out;
}

std::string general_help() {
  std::string text = message(
      "yubifu moves music between the fingering numbers of the Japanese bamboo flute\n"
      "and staff notation or MIDI, for the very flute in your hand.\n\n"
      "Use: yubifu VERB INPUTS [OPTIONS]\n\n"
      "Verbs\n");
  for (const Verb& verb : verbs()) {
    text += "  " + base::padded(verb.name, 12) + wrapped(translated(verb.sentence), 14);
  }
  text += message(
      "\n'yubifu help VERB' shows the options of a verb and an example, 'yubifu --version' the "
      "version.\n\nHelp on more than verbs: yubifu help TOPIC\n");
  for (const HelpTopic& topic : help_topics()) {
    text += "  " + base::padded(topic.name, 12) + translated(topic.sentence) + '\n';
  }
  text += message("\nFormats\n");
  text += format_lines();
  text += message(
      "\nExit status: 0 done; 1 findings, or something was lost and --strict was given;\n"
      "2 wrong usage, unreadable input or unwritable output.\n");
  return text;
}

std::string verb_help(const Verb& verb) {
  std::string inputs(verb.inputs);
  if (!inputs.empty()) inputs += ' ';
  std::string text = message("Use: yubifu {} {}[OPTIONS]\n\n", verb.name, inputs);
  text += wrapped(translated(verb.sentence), 0);
  const auto rows = options_of(verb.name);
  for (const OptionGroup group : kGroupOrder) {
    const bool any = std::any_of(rows.begin(), rows.end(),
                                 [&](const OptionRow* row) { return row->group == group; });
    if (!any) continue;
    text += fmt::format("\n{}\n", translated(heading(group)));
    for (const OptionRow* row : rows) {
      if (row->group == group) text += option_line(*row);
    }
  }
  return text + message("\nExample\n  {}\n", verb.example);
}

}  // namespace yubifu::cli
