// Prints what is installed beside the program and made from its tables.
//
//   yubifu_generate bash|zsh|fish|man
//
// and, for the catalogue of translations, the texts of the tables as lines of source code:
//
//   yubifu_generate texts
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>

#include "cli/completion.h"
#include "cli/manual_page.h"
#include "cli/table_texts.h"

namespace {

using namespace yubifu::cli;

std::string texts() {
  std::string lines;
  for (const std::string& text : table_texts()) {
    std::string quoted;
    for (const char c : text) {
      if (c == '"' || c == '\\') quoted += '\\';
      quoted += c;
    }
    lines += "catalogued(\"" + quoted + "\");\n";
  }
  return lines;
}

std::optional<std::string> made(std::string_view what) {
  if (what == "bash") return completion(Shell::bash);
  if (what == "zsh") return completion(Shell::zsh);
  if (what == "fish") return completion(Shell::fish);
  if (what == "man") return manual_page();
  if (what == "texts") return texts();
  return std::nullopt;
}

}  // namespace

int main(int argc, char** argv) {
  const auto text = argc == 2 ? made(argv[1]) : std::nullopt;
  if (!text) {
    std::fputs("use: yubifu_generate bash|zsh|fish|man|texts\n", stderr);
    return 2;
  }
  std::fwrite(text->data(), 1, text->size(), stdout);
  return std::fflush(stdout) == 0 ? 0 : 1;
}
