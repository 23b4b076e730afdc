// Slurs, which nest and overlap, to the marks "slurred to the next note".
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "base/source_text.h"
#include "model/score.h"
#include "musicxml/remarks.h"

namespace yubifu::musicxml {

/// Collects starts and stops by the numbers of the slurs; notes by their index in the score.
class SlurCollector {
 public:
  void start(const std::string& number, std::size_t note, std::size_t measure,
             base::SourceRange where);
  /// A stop without a start says nothing.
  void stop(const std::string& number, std::size_t note);

  /// Marks every note from the start of a slur to the one before its stop; slurs that never stop
  /// are remarked.
  void finish(std::vector<model::Note>& notes, Remarks& remarks);

 private:
  struct Open {
    std::size_t note;
    std::size_t measure;
    base::SourceRange where;
  };
  struct Slur {
    std::size_t begin;
    std::size_t end;
  };

  std::map<std::string, Open> open_;
  std::vector<Slur> slurs_;
  std::vector<Open> unclosed_;
};

}  // namespace yubifu::musicxml
