// The music of a score on sheets of paper.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "model/score.h"
#include "page/drawing.h"
#include "page/page.h"

namespace yubifu::page {

/// The caution for the ears, where the score has loud notes; it stands at the end of a document.
std::string caution_for(const model::Score& score, const FluteList& flutes);

/// What the foot of a sheet may have to explain of its signs, whatever the score.
std::vector<std::string> all_explanations();

/// How the music of a score fits into a document with other music.
struct Placing {
  /// What music before it takes of the first sheet, in millimetres from where reading begins.
  double taken = 0;
  /// The height of every foot, for explanations alone; else what the texts of the score need.
  std::optional<double> foot;
};

/// Sheets of music without what needs the number of all sheets.
struct MusicSheets {
  std::vector<Sheet> sheets;
  double taken = 0;           ///< of the last sheet, as Placing::taken
  bool on_own_sheet = false;  ///< there was no room behind the music before it
};

/// The sheets of the music, at least one, with room for the foot, whose texts but the caution they
/// hold. Reports the rules of page/rules.h; no value beside errors.
base::Outcome<MusicSheets> music_sheets(const model::Score& score, const FluteList& flutes,
                                        const PageOptions& options, const Placing& placing = {});

}  // namespace yubifu::page
