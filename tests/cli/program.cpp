#include "cli/program.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace yubifu::tests {
namespace {

void redirect(const std::filesystem::path& file, int flags, int descriptor) {
  const int fd = ::open(file.c_str(), flags, 0600);
  if (fd < 0 || ::dup2(fd, descriptor) < 0) ::_exit(126);
}

std::string content(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

}  // namespace

std::string program_path() {
  const char* path = std::getenv("YUBIFU_PROGRAM");
  return path == nullptr ? YUBIFU_PROGRAM : path;
}

ProgramRun run_yubifu(const std::vector<std::string>& arguments,
                      const std::filesystem::path& folder, const std::string& input,
                      const Variables& environment) {
  // Beside the folder under test, so that the files in it are the program's own.
  const TemporaryFolder streams;
  streams.write("in", input);
  std::vector<std::string> words{program_path()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("fork failed");
  if (child == 0) {
    redirect(streams.path() / "in", O_RDONLY, STDIN_FILENO);
    redirect(streams.path() / "out", O_WRONLY | O_CREAT, STDOUT_FILENO);
    redirect(streams.path() / "err", O_WRONLY | O_CREAT, STDERR_FILENO);
    if (::chdir(folder.c_str()) != 0) ::_exit(126);
    for (const char* name : {"XDG_CONFIG_HOME", "APPDATA", "CI"}) ::unsetenv(name);
    ::setenv("HOME", folder.c_str(), 1);
    for (const auto& [name, value] : environment) ::setenv(name.c_str(), value.c_str(), 1);
    ::execv(argv[0], argv.data());
    ::_exit(127);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return {code, streams.read("out"), streams.read("err")};
}

TemporaryFolder::TemporaryFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "yubifu-test-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void TemporaryFolder::write(const std::string& name, const std::string& bytes) const {
  std::ofstream(path_ / name, std::ios::binary) << bytes;
}

std::string TemporaryFolder::read(const std::string& name) const {
  return content(path_ / name);
}

std::vector<std::string> TemporaryFolder::names() const {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(path_)) {
    names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace yubifu::tests
