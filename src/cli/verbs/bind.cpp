// The verb bind: many tunes as one printed book.
#include <algorithm>
#include <variant>

#include "base/file.h"
#include "base/message.h"
#include "cli/loading.h"
#include "cli/rules.h"
#include "cli/verbs.h"
#include "notation/read/reader.h"
#include "page/print/print.h"

namespace yubifu::cli {
namespace {

using base::message;
namespace fs = std::filesystem;

// The title of a part that begins.
using PartTitle = std::string;

// What the command line and its lists name, in order.
using Entry = std::variant<FoundFile, PartTitle>;

// The bytes of a text that is no score: one path a line. Nothing for any other file.
std::optional<std::string> read_list(const std::string& path) {
  if (extension_of(path) != "txt") return std::nullopt;
  auto bytes = base::read_file(path);
  const bool is_list = bytes.value && format_of_input(path, *bytes.value) == nullptr;
  return is_list ? std::move(bytes.value) : std::nullopt;
}

// Adds the tunes and parts of a list; paths count from its folder.
void add_list(const std::string& path, std::string bytes, std::vector<Entry>& entries) {
  const auto text = notation::notation_text(std::move(bytes));
  std::string_view rest = *text.value;
  while (!rest.empty()) {
    std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    constexpr std::string_view kSpace = " \t\r";
    line.remove_prefix(std::min(line.size(), line.find_first_not_of(kSpace)));
    line = line.substr(0, line.find_last_not_of(kSpace) + 1);
    if (line.empty()) continue;
    if (line.front() == '#') {
      line.remove_prefix(std::min(line.size(), line.find_first_not_of("# \t")));
      entries.emplace_back(PartTitle(line));
      continue;
    }
    FoundFile file{(folder_of(path) / fs::path(line)).string(), FoundBy::name, std::nullopt};
    if (read_list(file.path)) {
      file.problem = base::report(rule::list_in_list, std::nullopt,
                                  message("the list {} names a list, not a tune", path),
                                  message("name each tune in it"));
    }
    entries.push_back(std::move(file));
  }
}

std::vector<Entry> entries_of(const Options& options) {
  std::vector<Entry> entries;
  for (const std::string& input : options.inputs) {
    if (auto list = read_list(input)) {
      add_list(input, *std::move(list), entries);
    } else {
      for (FoundFile& file : find_files({input}, is_tune)) entries.emplace_back(std::move(file));
    }
  }
  return entries;
}

// The name of the only folder or list; of several inputs none is the book's.
std::string book_title(const Options& options) {
  if (!options.book.title.empty()) return options.book.title;
  if (options.inputs.size() == 1) {
    const fs::path path = fs::path(options.inputs.front()).lexically_normal();
    if (read_list(path.string())) return path.stem().string();
    std::error_code failure;
    const fs::path named = path.has_filename() ? path : path.parent_path();
    if (fs::is_directory(path, failure) && named.has_stem() && named != ".") {
      return named.filename().string();
    }
  }
  return message("Tunes");
}

std::optional<std::string> wrong_bind_usage(const Options& options, const Format* to) {
  if (options.inputs.empty()) {
    return message("bind needs tunes; 'yubifu help bind' shows how it is used");
  }
  if (options.flutes.size() > 1) return message("bind takes one flute at a time");
  const std::vector<std::string_view> written{"svg", "html", "pdf"};
  if (options.to.empty()) {
    if (auto refusal = wrong_ending(options.output, written)) return refusal;
  }
  if (to == nullptr) return message("say what the book is written as: -o BOOK.html, .pdf or .svg");
  return unwritable_output(options.output);
}

// Reads, resolves and lays out one tune; false when it is not in the book.
bool add_tune(page::Book& book, const FoundFile& file, const Options& options, Log& log) {
  if (log.add_problem(file)) return false;
  std::optional<Loaded> loaded = load(file.path, options, log);
  if (!loaded) return false;
  const auto resolved = fingered(*loaded, file.path, options.flute(), options, log);
  if (!resolved) return false;
  const auto found =
      book.add(fs::path(file.path).stem().string(), resolved->score, resolved->flutes);
  log.add(found, loaded->source);
  return !base::has_errors(found);
}

// The sheets into their files.
void write_book(page::Book& book, const Format& to, const Options& options, Log& log) {
  const std::string output = output_name(options.output);
  const std::string title = book.title();
  const std::size_t tunes = book.tune_count();
  auto sheets = book.bind();
  log.add(sheets.diagnostics, output);
  const auto as = to.name == "html"  ? page::PrintedAs::html
                  : to.name == "pdf" ? page::PrintedAs::pdf
                                     : page::PrintedAs::svg;
  const auto documents = log.taken(page::documents_of(*sheets.value, as, {title, {}}), output);
  if (!documents) return;
  const std::string too_many = message("this book takes {} files", documents->size());
  if (!write_documents(*documents, options.output, too_many, log)) return;
  const std::size_t pages = sheets.value->size();
  log.add_line(tunes == 1 ? message("{}: one tune on {} pages", output, pages)
                          : message("{}: {} tunes on {} pages", output, tunes, pages));
}

}  // namespace

ExitStatus run_bind(const Options& options) {
  const Format* to = options.to.empty() ? format_of_path(options.output) : find_format(options.to);
  if (const auto complaint = wrong_bind_usage(options, to)) return refuse(*complaint);
  page::Book book(book_title(options), options.page, options.book.start);
  const std::vector<Entry> entries = entries_of(options);
  std::vector<Job> jobs;
  for (const Entry& entry : entries) {
    jobs.push_back([&]() -> JobResult {
      if (const auto* part = std::get_if<PartTitle>(&entry)) {
        book.begin_part(*part);
        return {};
      }
      Log log(options.strictness);
      // A tune that cannot be read stops nothing but itself.
      const bool is_in = add_tune(book, std::get<FoundFile>(entry), options, log);
      return {is_in ? ExitStatus::done : ExitStatus::findings, log.take().messages, {}, {}};
    });
  }
  const ExitStatus status = run_jobs(jobs, 1).status;
  if (book.tune_count() == 0) return refuse(message("there is no tune for the book"));
  Log log(options.strictness);
  write_book(book, *to, options, log);
  return worse(status, log.finish());
}

}  // namespace yubifu::cli
