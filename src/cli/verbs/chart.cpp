// The verb chart: the fingering chart of a flute, whole or as far as a score uses it.
#include <iterator>
#include <memory>

#include "base/message.h"
#include "cli/loading.h"
#include "cli/options/option_table.h"
#include "cli/verbs.h"
#include "page/print/print.h"

namespace yubifu::cli {
namespace {

using base::message;

ChartFormat format_of(const Options& options) {
  if (options.chart.to) return *options.chart.to;
  const std::string ending = std::filesystem::path(options.output).extension().string();
  if (ending == ".pdf") return ChartFormat::pdf;
  if (ending == ".json") return ChartFormat::json;
  return ending == ".svg" ? ChartFormat::svg : ChartFormat::text;
}

std::optional<std::string> wrong_chart_usage(const Options& options) {
  if (!options.inputs.empty()) {
    return message("chart takes no input; name the flute with --flute, a score with --score");
  }
  if (options.flutes.size() > 1) return message("chart shows one flute at a time");
  const std::string ending = std::filesystem::path(options.output).extension().string();
  if (!options.chart.to && options.output != "-" && ending != ".svg" && ending != ".pdf" &&
      ending != ".txt" && ending != ".json") {
    return message(
        "a chart is text (.txt), SVG (.svg), PDF (.pdf) or JSON (.json); say which with --to for "
        "{}",
        options.output);
  }
  const ChartFormat format = format_of(options);
  const bool is_page = format == ChartFormat::svg || format == ChartFormat::pdf;
  if (!is_page && is_given(options, "size")) {
    return message("--size is for a chart as SVG or PDF only");
  }
  if (format != ChartFormat::text && is_given(options, "ascii")) {
    return message("--ascii is for a chart as text only");
  }
  if (options.chart.score.empty() && is_given(options, "from")) {
    return message("--from is for the score that --score names, and there is none");
  }
  return std::nullopt;
}

// The whole of a flute, or what a score uses; nothing after an error.
std::vector<page::ChartOfFlute> charts_of(const Options& options, Log& log) {
  if (options.chart.score.empty()) {
    auto flute = named_flute(flute_given(options, {}, log), options.tuning_hz(), log);
    if (!flute) return {};
    return {{std::make_shared<const flute::Flute>(*std::move(flute)), std::nullopt}};
  }
  std::optional<Loaded> loaded = load(options.chart.score, options, log);
  if (!loaded) return {};
  fingering::ResolveOptions resolve = resolving({}, options.chart.score, loaded->source,
                                                loaded->format->origin, options.flute(), log);
  resolve.octave = options.octave;
  resolve.tuning_hz = options.resolve.tuning_hz;
  auto resolved = fingering::resolve(std::move(loaded->score), resolve);
  log.add(resolved.diagnostics, loaded->source);
  if (!resolved.value || log.failed()) return {};
  return page::flutes_used(resolved.value->score, resolved.value->flutes);
}

std::string text_of(const std::vector<page::ChartOfFlute>& charts, const Options& options) {
  std::string text;
  for (const page::ChartOfFlute& chart : charts) {
    if (!text.empty()) text += '\n';
    text += page::chart_text(chart, options.alphabet);
  }
  return without_control_characters(text);
}

std::vector<std::string> pages_of(const std::vector<page::ChartOfFlute>& charts,
                                  const Options& options, Log& log) {
  const std::string place = output_name(options.output);
  std::vector<page::Sheet> sheets;
  for (const page::ChartOfFlute& chart : charts) {
    auto laid_out = page::lay_out_chart(chart, options.chart.size);
    log.add(laid_out.diagnostics, place);
    std::move(laid_out.value->begin(), laid_out.value->end(), std::back_inserter(sheets));
  }
  const bool is_pdf = format_of(options) == ChartFormat::pdf;
  const auto as = is_pdf ? page::PrintedAs::pdf : page::PrintedAs::svg;
  auto documents = log.taken(page::documents_of(sheets, as, {sheets.front().title, {}}), place);
  return std::move(documents).value_or(std::vector<std::string>());
}

void draw(const Options& options, Log& log) {
  const auto charts = charts_of(options, log);
  if (charts.empty()) return log.raise(ExitStatus::unusable);
  const ChartFormat format = format_of(options);
  std::vector<std::string> documents;
  if (format == ChartFormat::text) {
    documents = {text_of(charts, options)};
  } else if (format == ChartFormat::json) {
    documents = {page::chart_json(charts)};
  } else {
    documents = pages_of(charts, options, log);
  }
  write_documents(documents, options.output, message("this chart takes {} pages", documents.size()),
                  log);
}

}  // namespace

ExitStatus run_chart(const Options& options) {
  if (const auto complaint = wrong_chart_usage(options)) return refuse(*complaint);
  Log log(options.strictness);
  draw(options, log);
  return log.finish();
}

}  // namespace yubifu::cli
