// Puts directions into the score and keeps what they change: meter, beat, ending.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"
#include "notation/directions.h"
#include "notation/read/parser.h"
#include "notation/read/reports.h"
#include "notation/read/steps.h"

namespace yubifu::notation {

/// Puts what free braces say into a score whose bars are being built. All onsets count from the
/// start of the bar, in quarter notes.
class DirectionPlacer {
 public:
  /// All of them must outlive this.
  DirectionPlacer(const base::SourceText& source, const HeaderReading& header, model::Score& score,
                  std::vector<BarFacts>& facts, Reports& reports);

  /// The braces among the bar signs before a bar and before its first word. The measure and its
  /// facts stand last in the score; meter, beat and ending are set in it.
  void start_bar(const Bar& bar);

  /// Whether a brace stands among the words of the bar or of a group in it.
  enum class Inside { row, group };

  /// A brace between the words of the bar.
  void inside(const FreeBrace& brace, model::Rational onset, Inside where);

  /// A sign, hold or rest was read, also in a group.
  void pass_word() { said_.clear(); }

  /// What comes next in the text.
  enum class Follows { word, bar, nothing };

  /// A word of the bar has ended.
  void end_word(model::Rational onset, Follows follows);

  /// A brace between the last word of the bar and its sign.
  void end_bar(const FreeBrace& brace, model::Rational onset, Follows follows);

  /// The bar has ended; its sign may close an ending.
  void close_bar();

  /// A brace after the last bar.
  void trailing(const FreeBrace& brace);

  /// What a word lasts now, in quarter notes.
  model::Rational beat() const { return beat_; }

 private:
  // A brace with its meaning, and the place it may have.
  struct Read {
    base::SourceRange range;
    std::string word;
    DirectionMeaning meaning;
    model::PlaceInMeasure place;
  };

  std::optional<Read> read(const FreeBrace& brace);
  void start(const FreeBrace& brace);
  void set_meter(const Read& read, const model::Meter& meter);
  void set_ending(const Read& read, const EndingNumbers& numbers);
  // True, and the ending is closed, for a brace that says so.
  bool closes_ending(const Read& read);
  std::optional<model::Rational> checked_beat(const Read& read);
  // The note before a brace, with nothing but its holds between.
  std::optional<base::SourceRange> sign_before(base::SourceRange brace) const;
  void twice(const Read& read);
  void misplaced(base::SourceRange range, model::PlaceInMeasure place);
  void add(std::size_t measure, model::Rational onset, const Read& read);
  void warn_of_conflict(const Read& read);
  void conflict(HeaderKey key, base::SourceRange range);

  const base::SourceText& source_;
  const HeaderReading& header_;
  model::Score& score_;
  std::vector<BarFacts>& facts_;
  Reports& reports_;
  model::Meter meter_;
  model::Rational beat_;
  bool meter_known_;
  bool beat_known_;
  EndingNumbers ending_;             // that is open
  bool ending_closed_ = false;       // the bar sign before has closed one
  std::optional<Read> coming_beat_;  // written in a group, in force after its word
  bool coming_is_stored_ = false;    // it stands in the score already
  std::set<std::string> said_;       // at this place
};

}  // namespace yubifu::notation
