// Writes the bars of the part, one after the other.
#pragma once

#include <cstddef>

#include "model/rhythm_tree.h"
#include "model/score.h"
#include "musicxml/write/bar_layout.h"
#include "musicxml/write/direction_writer.h"
#include "musicxml/write/note_writer.h"
#include "musicxml/write/score_layout.h"
#include "musicxml/write/staff_plan.h"

namespace yubifu::musicxml {

class PartWriter {
 public:
  PartWriter(const WriterContext& context, const StaffPlan& plan)
      : context_(context),
        out_(context.out),
        score_(context.score),
        plan_(plan),
        staff_(context.score, plan),
        notes_(context, staff_),
        directions_(context) {}
  PartWriter(const PartWriter&) = delete;
  PartWriter& operator=(const PartWriter&) = delete;

  /// The bars must come in order.
  void write_bar(std::size_t measure, const model::BarContent& content, const BarLayout& layout);

 private:
  void open_measure(std::size_t measure);
  void write_left_bar_line(std::size_t measure);
  void write_right_bar_line(std::size_t measure);
  void write_start_attributes(std::size_t measure, const model::BarContent& content);
  void write_start_directions(std::size_t measure);
  void write_music(const model::BarContent& content, const BarLayout& layout);
  void write_direction(const model::Direction& direction, model::Rational offset);
  void write_key();
  void write_time(const model::Meter& meter);
  void write_clef();
  void write_transposition();
  void write_flute_line(const OwnMeaning& meaning);

  /// The beat that holds at the start of a measure when nobody names another.
  model::Rational expected_beat(std::size_t measure) const;

  const WriterContext& context_;
  base::XmlWriter& out_;
  const model::Score& score_;
  const StaffPlan& plan_;
  StaffState staff_;
  NoteWriter notes_;
  DirectionWriter directions_;
  model::Rational beat_ = 1;  // in force at the end of the bar before
};

}  // namespace yubifu::musicxml
