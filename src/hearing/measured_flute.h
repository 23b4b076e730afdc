// A flute that was measured, as a flute file.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/json_writer.h"
#include "flute/flute.h"
#include "hearing/readings.h"
#include "hearing/signs.h"

namespace yubifu::hearing {

/// One sign as it was read off, in the air of that day.
struct MeasuredSign {
  model::Fingering fingering;  ///< sign and half hole
  double hz = 0;
  std::optional<double> spread_cents;
  std::optional<std::pair<double, double>> seconds;
  std::optional<model::HolePattern> holes;  ///< other than those of the flute that it is like
};

/// What a flute file needs beside the flute that this one is like.
struct MeasuredFlute {
  std::string title;
  std::string source;             ///< where the readings come from
  std::optional<double> celsius;  ///< of the air while it was played
  std::vector<MeasuredSign> signs;
};

/// What was heard of each sign.
std::vector<MeasuredSign> measured(const std::vector<HeardSign>& heard, const flute::Flute& like);

/// The rows of a table.
std::vector<MeasuredSign> measured(const std::vector<NotedSign>& noted);

/// What a sign sounds at 20 degrees Celsius; as it was read where nobody says how warm it was.
double concert_hz(double hz, std::optional<double> celsius);

/// How a reading was come by, inside the JSON object of its sign: `spread` in cents and `seconds`
/// of the recording, each where it is known.
void write_reading(base::JsonWriter& json, const MeasuredSign& sign);

/// The flute file (schemas/flute.schema.json), the same in every language: of `like` it takes
/// holes, registers and bend limits, never a pitch. Where 一 was not measured, its place is taken
/// from the middle of how far the others lie from `like`.
std::string flute_file_text(const MeasuredFlute& flute, const flute::Flute& like);

}  // namespace yubifu::hearing
