// Reads small texts and tells what came of them in short lines.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"

namespace yubifu::notation {

struct Reading {
  base::SourceText source;
  base::Outcome<model::Score> outcome;

  const model::Score& score() const { return outcome.value.value(); }

  /// "line:column severity rule" of each finding.
  std::vector<std::string> findings() const;

  /// Message and hint of the first finding in one string; empty without findings.
  std::string first_message() const;
};

/// Reads a text. A score that is ok must hold every invariant: this fails the test where not.
Reading read(const std::string& text);

/// "bar onset+duration sign" of each note, bars counted from 0: "0 1/2+1 三メ↓20".
std::vector<std::string> notes(const Reading& reading);

/// The same of a text that must be read without warnings and errors.
std::vector<std::string> notes_of(const std::string& text);

/// The signs alone, parted by spaces: "三 六 ?C5".
std::string signs_of(const std::string& text);

/// "bar onset what" of each direction.
std::vector<std::string> directions(const Reading& reading);

/// The syllables of a verse, a note each, parted by spaces: text with its hyphens, `~`, `/`.
std::string song(const Reading& reading, const std::string& verse = "1");

}  // namespace yubifu::notation
