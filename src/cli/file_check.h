// One file, checked by everything that knows something about it.
#pragma once

#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "check/findings.h"
#include "cli/batch.h"
#include "cli/found_files.h"
#include "cli/options.h"

namespace yubifu::cli {

/// What is wrong with the flute files that scores name, each told once however many name it. Any
/// number of threads may add.
class FluteReports {
 public:
  /// The report of one flute file; a second one of the same path is dropped.
  void add(const check::FileReport& report);

  /// The reports of files that were not checked for themselves, in the order of their paths.
  JobResult take(const std::vector<FoundFile>& checked, const Options& options);

 private:
  std::mutex mutex_;
  std::map<std::string, check::FileReport> by_path_;
};

/// Reads the file in its format, resolves the score for its flute, applies the rules and the
/// comments that allow something; reads a flute file as such. What is wrong with a flute file that
/// a score names goes to `flutes`. A JSON or XML file from a folder that is no music at all is
/// passed over: then there is no report.
JobResult check_file(const FoundFile& file, const Options& options, FluteReports& flutes);

}  // namespace yubifu::cli
