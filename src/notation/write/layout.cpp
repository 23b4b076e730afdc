#include "notation/write/layout.h"

#include <algorithm>
#include <initializer_list>
#include <utility>

#include "base/utf8.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

using base::display_width;

// A word wider than this does not widen its column, nor does one with directions that is wider than
// the second figure: one long direction would tear all the other lines apart.
constexpr int kWidestColumn = 20;
constexpr int kWidestWithDirections = 12;

// A line that would need a wider gap than this to reach a column goes on without columns: its bars
// have little in common with the others.
constexpr int kWidestGap = 16;

int piece_width(const Piece& piece) {
  int width = display_width(piece.text);
  for (const std::string& word : piece.song) width = std::max(width, display_width(word));
  return display_width(piece.brackets) + width;
}

// What a cell asks of its column.
int column_width(const Cell& cell) {
  const int width = cell_width(cell);
  const bool directions = std::any_of(
      cell.begin(), cell.end(), [](const Piece& piece) { return piece.text.starts_with('{'); });
  return width <= (directions ? kWidestWithDirections : kWidestColumn) ? width : 0;
}

// A row of things with a space between each two.
int joined_width(std::initializer_list<int> widths) {
  int all = 0;
  for (const int width : widths) all += width == 0 ? 0 : width + (all == 0 ? 0 : 1);
  return all;
}

// Of what stands in a bar behind its start.
int words_width(const PrintedBar& bar) {
  int width = 0;
  for (const Cell& word : bar.words) width = joined_width({width, cell_width(word)});
  return joined_width({width, cell_width(bar.tail), display_width(bar.end_sign)});
}

// How wide the cells of one bar are, and then where they begin.
struct BarColumns {
  int begin_sign = 0;
  int lead = 0;
  std::vector<int> words;
  int end_sign = 0;
};

// The columns that the lines of a block share, counted from the first bar that is no pickup.
struct Columns {
  int begin = 0;  // where that bar begins
  std::vector<BarColumns> bars;
};

// Makes the columns as wide as one line needs them.
void widen(std::vector<BarColumns>& bars, const LaidLine& line) {
  const std::size_t first = line.begins_with_pickup ? 1 : 0;
  if (bars.size() < line.bars.size() - first) bars.resize(line.bars.size() - first);
  for (std::size_t i = first; i < line.bars.size(); ++i) {
    const PrintedBar& bar = line.bars[i];
    BarColumns& widths = bars[i - first];
    // Those of the first bar stand in the margin.
    if (i > 0) {
      widths.begin_sign = std::max(widths.begin_sign, display_width(bar.begin_sign));
      widths.lead = std::max(widths.lead, column_width(bar.lead));
    }
    if (widths.words.size() < bar.words.size()) widths.words.resize(bar.words.size());
    for (std::size_t word = 0; word < bar.words.size(); ++word) {
      widths.words[word] = std::max(widths.words[word], column_width(bar.words[word]));
    }
    // Nothing follows the last sign of a line, so it may be as wide as it likes.
    const int sign = i + 1 < line.bars.size() ? display_width(bar.end_sign) : 1;
    widths.end_sign = std::max(widths.end_sign, sign);
  }
}

Columns columns_of(const LaidBlock& block, int indent) {
  Columns columns;
  int margin = 0;
  for (const LaidLine& line : block) {
    // Before the first column stand a pickup, or the start of the first bar.
    const PrintedBar& first = line.bars.front();
    const int words = line.begins_with_pickup ? words_width(first) : 0;
    const int width =
        joined_width({display_width(first.begin_sign), cell_width(first.lead), words});
    if (width <= kWidestColumn) margin = std::max(margin, width);
    widen(columns.bars, line);
  }
  columns.begin = indent + (margin == 0 ? 0 : margin + 1);
  int column = columns.begin;
  // Turns a width into a place.
  const auto take = [&](int& width) {
    const int wide = std::exchange(width, column);
    if (wide > 0) column += wide + 1;
  };
  for (BarColumns& bar : columns.bars) {
    take(bar.begin_sign);
    take(bar.lead);
    for (int& word : bar.words) take(word);
    take(bar.end_sign);
  }
  return columns;
}

// One line of output that is filled from left to right.
struct Row {
  std::string text;
  int width = 0;

  // Adds text at a column that is free, with a space before it.
  void add(int column, std::string_view more) {
    if (column > width) text.append(static_cast<std::size_t>(column - width), ' ');
    text += more;
    width = std::max(column, width) + display_width(more);
  }
};

class LinePrinter {
 public:
  LinePrinter(const LaidLine& line, const Columns& columns, const std::vector<std::string>& verses,
              model::SongBars song_bars, int indent)
      : line_(line),
        columns_(columns),
        song_bars_(song_bars),
        songs_(verses.size()),
        sung_(verses.size(), false),
        next_(indent) {
    for (std::size_t i = 0; i < verses.size(); ++i) songs_[i].add(0, song_label(verses[i]));
  }

  void print(std::string& out) {
    if (line_.blank_before) out += '\n';
    if (!line_.heading.empty()) out.append(line_.heading).append("\n");
    const std::size_t pickups = line_.begins_with_pickup ? 1 : 0;
    for (std::size_t i = 0; i < line_.bars.size(); ++i) {
      add_bar(line_.bars[i], i == 0, i < pickups ? nullptr : &columns_.bars[i - pickups]);
    }
    if (!line_.comment.empty()) music_.add(next_, line_.comment);
    out.append(music_.text).append("\n");
    for (std::size_t i = 0; i < songs_.size(); ++i) {
      if (sung_[i]) out.append(songs_[i].text).append("\n");
    }
    for (const std::string& comment : line_.comments_below) out.append(comment).append("\n");
  }

 private:
  // A pickup has no columns: its words stand as near to the first column as they can.
  void add_bar(const PrintedBar& bar, bool is_first, const BarColumns* columns) {
    if (is_first) {
      add_sign(bar.begin_sign);
      add(bar.lead);
      const int words = columns == nullptr ? words_width(bar) + 1 : 0;
      next_ = std::max(next_, columns_.begin - words);
    } else {
      move_to(columns->begin_sign);
      add_text(bar.begin_sign);
      if (!bar.lead.empty()) move_to(columns->lead);
      add(bar.lead);
    }
    for (std::size_t i = 0; i < bar.words.size(); ++i) {
      if (columns != nullptr) move_to(columns->words[i]);
      add(bar.words[i]);
    }
    add(bar.tail);
    if (columns != nullptr) move_to(columns->end_sign);
    add_sign(bar.end_sign);
    if (columns == nullptr) next_ = std::max(next_, columns_.begin);
  }

  void move_to(int column) {
    if (column - next_ <= kWidestGap) next_ = std::max(next_, column);
  }

  void add_text(const std::string& text) {
    if (text.empty()) return;
    music_.add(next_, text);
    next_ = music_.width + 1;
  }

  // What the song lines have under it stands for the whole boundary.
  void add_sign(const std::string& sign) {
    if (song_bars_ == model::SongBars::written && !sign.empty()) {
      for (Row& song : songs_) song.add(next_, kSongBar);
    }
    add_text(sign);
  }

  void add(const Cell& cell) {
    for (const Piece& piece : cell) {
      music_.add(next_, piece.brackets + piece.text);
      const int sign = next_ + display_width(piece.brackets);
      for (std::size_t i = 0; i < piece.song.size(); ++i) {
        songs_[i].add(sign, piece.song[i]);
        if (piece.song[i] != kSkipNote) sung_[i] = true;
      }
      next_ += piece_width(piece) + 1;
    }
  }

  const LaidLine& line_;
  const Columns& columns_;
  model::SongBars song_bars_;
  Row music_;
  std::vector<Row> songs_;
  std::vector<bool> sung_;
  int next_;  // the first column that is free
};

}  // namespace

int cell_width(const Cell& cell) {
  int width = 0;
  for (const Piece& piece : cell) width += piece_width(piece) + 1;
  return width == 0 ? 0 : width - 1;
}

void print_block(const LaidBlock& block, const std::vector<std::string>& verses,
                 model::SongBars song_bars, std::string& out) {
  int indent = 0;
  for (const std::string& verse : verses) {
    indent = std::max(indent, display_width(song_label(verse)) + 1);
  }
  const Columns columns = columns_of(block, indent);
  for (const LaidLine& line : block) {
    LinePrinter(line, columns, verses, song_bars, indent).print(out);
  }
}

}  // namespace yubifu::notation
