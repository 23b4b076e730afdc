// What was found in one file, with places as people count them, free of the file's text: a
// thousand files can be checked before one report is written. And what is left of it after what
// the user chose for each rule and what comments in the score allow.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source_text.h"
#include "base/word_table.h"
#include "model/score.h"

namespace yubifu::check {

/// Where a finding stands, and the part of that line to show.
struct Place {
  base::Position begin;
  base::Position end;   ///< behind the last character, on a later line perhaps
  std::string excerpt;  ///< without control characters, at most kExcerptWidth columns
  int mark_column = 0;  ///< columns of the excerpt before the place
  int mark_width = 1;   ///< columns that the place takes in it, at least one
};

/// The widest excerpt, in columns of a terminal.
inline constexpr int kExcerptWidth = 88;

/// A diagnostic with its place found.
struct Finding {
  const base::Rule* rule = nullptr;
  base::Severity severity = base::Severity::error;
  std::string message;
  std::string hint;
  std::vector<std::string> measures;
  std::optional<Place> place;
};

/// All that is told of one file.
struct FileReport {
  std::string name;                  ///< path as the user gave it, or "standard input"
  std::vector<Finding> findings;     ///< in the order of their places, those without one first
  std::vector<std::string> remarks;  ///< lines that are no findings
};

/// Adds findings in the order of their places.
void add_located(FileReport& report, const base::Diagnostics& diagnostics,
                 const base::SourceText& source);

/// How many errors, warnings and notes there are in all files.
std::array<std::size_t, 3> count(const std::vector<FileReport>& files);

/// Replaces control characters but `kept`, so that no file drives the terminal that shows it.
std::string without_control_characters(std::string_view text, std::string_view kept = "\n\t");

/// A severity by the name of a rule; none switches the rule off.
using RuleChoices = std::map<std::string, std::optional<base::Severity>, std::less<>>;

/// The words for them.
inline constexpr auto kChoices = base::word_table<std::optional<base::Severity>>(
    {{base::Severity::error, base::name(base::Severity::error)},
     {base::Severity::warning, base::name(base::Severity::warning)},
     {base::Severity::note, base::name(base::Severity::note)},
     {std::nullopt, "off"}});

/// True when a rule is to be reported.
bool is_on(const base::Rule& rule, const RuleChoices& choices);

/// Takes out the findings of rules that are off and gives the others the chosen severities.
void choose(FileReport& report, const RuleChoices& choices);

/// What a comment allows. One that lacks its colon or its reason has no reason.
struct Allowance {
  std::string rule;
  std::string reason;

  friend bool operator==(const Allowance&, const Allowance&) = default;
};

/// Reads the text of a comment, without its `#`; nothing where it is no allowance. "allow time to
/// breathe" is none: a rule's name has a hyphen or is followed by a colon.
std::optional<Allowance> parse_allowance(std::string_view comment);

/// What is left of the findings in a score: a comment after a measure silences its rule for that
/// measure, one in the header for the whole score. Adds `allow-form`, `allow-unknown` and
/// `allow-idle` about the comments themselves. `known` are all rules there are.
base::Diagnostics without_allowed(base::Diagnostics found, const model::Score& score,
                                  const std::vector<const base::Rule*>& known);

}  // namespace yubifu::check
