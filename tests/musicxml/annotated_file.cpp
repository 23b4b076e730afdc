#include "musicxml/annotated_file.h"

#include <utility>

#include <gtest/gtest.h>

#include "base/source_text.h"
#include "fingering/resolve.h"
#include "support/text.h"

namespace yubifu::musicxml {

Annotated annotated_with_findings(const std::string& bytes, const AnnotateOptions& options,
                                  model::FluteSize flute, const MusicXmlReadOptions& reading) {
  Annotated result;
  const base::Outcome<BareFile> file = open_bare(bytes);
  result.rules = support::rule_names(file.diagnostics);
  if (!file.value) return result;
  MusicXmlReadOptions without_fingering = reading;
  without_fingering.read_fingering = Annotation::none;
  const base::SourceText source("staff.musicxml", file.value->document.text);
  base::Outcome<model::Score> score = read_musicxml(source, without_fingering);
  EXPECT_TRUE(score.ok()) << bytes;
  if (!score.ok()) return result;
  fingering::ResolveOptions resolve;
  resolve.origin = fingering::Origin::staff;
  resolve.flute = flute;
  if (options.octaves != 0) resolve.octave = options.octaves;
  const auto resolved = fingering::resolve(*std::move(score.value), resolve);
  EXPECT_TRUE(resolved.value);
  const base::Outcome<std::string> written = annotate(*file.value, resolved.value->score, options);
  for (std::string& name : support::rule_names(written.diagnostics)) {
    result.rules.push_back(std::move(name));
  }
  result.bytes = written.value.value_or(std::string());
  return result;
}

std::string annotated(const std::string& bytes, const AnnotateOptions& options,
                      model::FluteSize flute, const MusicXmlReadOptions& reading) {
  Annotated result = annotated_with_findings(bytes, options, flute, reading);
  EXPECT_NE(result.bytes, "") << testing::PrintToString(result.rules) << "\n" << bytes;
  return std::move(result.bytes);
}

std::string bare(const std::string& bytes) {
  const base::Outcome<BareFile> file = open_bare(bytes);
  EXPECT_TRUE(file.ok());
  if (!file.ok()) return {};
  const base::Outcome<std::string> written = bytes_of(*file.value);
  EXPECT_TRUE(written.ok());
  return written.value.value_or(std::string());
}

}  // namespace yubifu::musicxml
