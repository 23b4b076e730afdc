#include "musicxml/slurs.h"

#include "musicxml/note_remarks.h"

namespace yubifu::musicxml {

void SlurCollector::start(const std::string& number, std::size_t note, std::size_t measure,
                          base::SourceRange where) {
  const Open slur{note, measure, where};
  const auto [place, is_new] = open_.try_emplace(number, slur);
  if (is_new || place->second.note == note) return;  // on several notes of one chord
  unclosed_.push_back(place->second);
  place->second = slur;
}

void SlurCollector::stop(const std::string& number, std::size_t note) {
  const auto found = open_.find(number);
  if (found == open_.end()) return;
  if (note > found->second.note) slurs_.push_back({found->second.note, note});
  open_.erase(found);
}

void SlurCollector::finish(std::vector<model::Note>& notes, Remarks& remarks) {
  for (const auto& [number, slur] : open_) unclosed_.push_back(slur);
  for (const Open& slur : unclosed_) {
    remarks.add(remark::unclosed_slur, slur.measure, slur.where);
  }
  std::vector<int> change(notes.size() + 1, 0);
  for (const Slur& slur : slurs_) {
    ++change[slur.begin];
    --change[slur.end];
  }
  int depth = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    depth += change[i];
    notes[i].slur_to_next = depth > 0;
  }
}

}  // namespace yubifu::musicxml
