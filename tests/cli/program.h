// The program as its users meet it: a process with arguments, input, output and a status.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace yubifu::tests {

struct ProgramRun {
  int status = 0;
  std::string out;
  std::string err;
};

/// The program under test: that of the environment (YUBIFU_PROGRAM), else that of the build in
/// which these tests were compiled.
std::string program_path();

/// Variables of the environment and their values.
using Variables = std::vector<std::pair<std::string, std::string>>;

/// Runs yubifu in `folder`, which is also its home, with `input` as its standard input: nobody's
/// settings but those that a test puts there have a say. `environment` goes before what is there.
ProgramRun run_yubifu(const std::vector<std::string>& arguments,
                      const std::filesystem::path& folder, const std::string& input = {},
                      const Variables& environment = {});

/// A folder of its own for one test, gone with the test.
class TemporaryFolder {
 public:
  TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder();

  const std::filesystem::path& path() const { return path_; }

  void write(const std::string& name, const std::string& bytes) const;

  /// The bytes of a file; empty when it is not there.
  std::string read(const std::string& name) const;

  /// The names of everything in it, sorted, hidden files included.
  std::vector<std::string> names() const;

 private:
  std::filesystem::path path_;
};

}  // namespace yubifu::tests
