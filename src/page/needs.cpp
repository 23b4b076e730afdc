#include "page/needs.h"

#include <algorithm>

#include "page/syllables.h"
#include "page/text_fit.h"

namespace yubifu::page {
namespace {

// Wide characters stand one under another, so a syllable of them is one wide.
double width_in_column(const std::string& text) {
  double widest = 0;
  for (const ColumnRun& run : column_runs(text)) {
    widest = std::max(widest, run.upright ? 1.0 : text_width(run.text));
  }
  return widest;
}

// Gathers the needs of one column.
class Survey {
 public:
  Survey(const model::Score& score, const Strip& strip) : score_(score), strip_(strip) {
    needs_.syllable_widths.assign(score.verses.size(), 0);
  }

  Needs run(const Column& column) {
    for (const Piece& piece : column.pieces) add_piece(piece);
    return std::move(needs_);
  }

 private:
  void add_piece(const Piece& piece) {
    const Bar& bar = strip_.bars[piece.bar];
    const CellRange range = cells_of(bar, piece);
    for (std::size_t i = range.begin; i < range.end; ++i) add_cell(bar.cells[i]);
    for (const Beam& beam : bar.beams) {
      if (beam.first >= range.begin && beam.first < range.end) {
        needs_.beams = std::max(needs_.beams, beam.rank);
      }
    }
    for (const Bracket& bracket : bar.brackets) {
      if (bracket.begin >= piece.from && bracket.begin < piece.to) {
        needs_.brackets = std::max(needs_.brackets, bracket.rank + 1);
      }
    }
    needs_.endings = needs_.endings || !score_.measures[bar.measure].ending.empty();
  }

  void add_cell(const Cell& cell) {
    if (!cell.note) {
      needs_.marks = needs_.marks || cell.rest.has_value();
      return;
    }
    const model::Note& note = score_.notes[*cell.note];
    if (cell.kind == CellKind::number) add_start(note, *cell.note);
    if (cell.last_of_note) {
      for (const model::Tone& tone : note.grace_after) add_grace(tone);
    }
    needs_.marks = needs_.marks || !note.marks.empty();
    needs_.slurs = needs_.slurs || note.slur_to_next || note.has(model::Mark::suri);
  }

  void add_start(const model::Note& note, std::size_t index) {
    if (note.tone.fingering->half != model::HalfHole::none) needs_.half_holes = true;
    if (note.tone.fingering->bend_cents != 0) needs_.bends = true;
    for (const model::Tone& tone : note.grace_before) add_grace(tone);
    needs_.asked_holes = needs_.asked_holes || note.asked_holes.has_value();
    needs_.slurs = needs_.slurs || (index > 0 && score_.notes[index - 1].slur_to_next);
    for (const model::Syllable& syllable : note.syllables) {
      constexpr double kExtension = 0.5;
      double& width = needs_.syllable_widths[verse_index(score_, syllable)];
      width = std::max({width, width_in_column(syllable_text(syllable)), kExtension});
    }
  }

  void add_grace(const model::Tone& tone) {
    needs_.grace_notes = true;
    if (tone.fingering->half != model::HalfHole::none) needs_.grace_half_holes = true;
    if (tone.fingering->bend_cents != 0) needs_.grace_bends = true;
  }

  const model::Score& score_;
  const Strip& strip_;
  Needs needs_;
};

}  // namespace

Needs needs_of(const model::Score& score, const Strip& strip, const Column& column) {
  return Survey(score, strip).run(column);
}

}  // namespace yubifu::page
