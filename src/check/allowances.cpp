#include "check/allowances.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/message.h"
#include "base/word_table.h"
#include "check/rules.h"
#include "model/score.h"

namespace yubifu::check {
namespace {

using base::message;

std::string_view without_spaces_before(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  return first == std::string_view::npos ? std::string_view() : text.substr(first);
}

// An allowance with the measure it is for; none: the whole score.
struct PlacedAllowance {
  Allowance says;
  std::optional<std::size_t> measure;
  bool used = false;
};

class Allowances {
 public:
  Allowances(const model::Score& score, const std::vector<const base::Rule*>& known)
      : score_(score), known_(known) {
    for (const std::string& comment : score.header.comments) add(comment, std::nullopt);
    for (std::size_t i = 0; i < score.measures.size(); ++i) {
      for (const model::Comment& comment : score.measures[i].comments) add(comment.text, i);
    }
  }

  base::Diagnostics run(base::Diagnostics found) {
    base::Diagnostics left;
    for (base::Diagnostic& diagnostic : found) {
      if (!silences(diagnostic)) left.push_back(std::move(diagnostic));
    }
    for (const PlacedAllowance& allowance : allowances_) {
      if (!allowance.used && !off_by_default(allowance.says.rule)) report_idle(allowance);
    }
    base::append(left, std::move(remarks_));
    return left;
  }

 private:
  void add(const std::string& comment, std::optional<std::size_t> measure) {
    const auto parsed = parse_allowance(comment);
    if (const auto* half = std::get_if<HalfAllowance>(&parsed)) {
      remark(rule::allow_form, measure,
             message("this comment does not say why it allows {}", half->rule),
             message("write `# allow {}: REASON`", half->rule));
    } else if (const auto* whole = std::get_if<Allowance>(&parsed)) {
      if (find(whole->rule) != nullptr) {
        allowances_.push_back({*whole, measure});
      } else {
        unknown(whole->rule, measure);
      }
    }
  }

  const base::Rule* find(std::string_view name) const {
    const auto found = std::find_if(known_.begin(), known_.end(),
                                    [&](const base::Rule* rule) { return rule->name == name; });
    return found == known_.end() ? nullptr : *found;
  }

  bool off_by_default(std::string_view name) const {
    return find(name)->standing == base::Standing::off;
  }

  void unknown(const std::string& name, std::optional<std::size_t> measure) {
    std::vector<std::string_view> names;
    for (const base::Rule* rule : known_) names.push_back(rule->name);
    const auto meant = base::nearest_word(name, names);
    remark(
        rule::allow_unknown, measure, message("there is no rule {} to allow", name),
        meant ? message("did you mean {}?", *meant) : message("`yubifu check --rules` lists them"));
  }

  void report_idle(const PlacedAllowance& allowance) {
    remark(rule::allow_idle, allowance.measure,
           allowance.measure ? message("nothing in this bar breaks {}", allowance.says.rule)
                             : message("nothing in this score breaks {}", allowance.says.rule),
           message("take the comment out"));
  }

  void remark(const base::Rule& rule, std::optional<std::size_t> measure, std::string text,
              std::string hint) {
    if (measure) {
      remarks_.push_back(
          model::report_measure(rule, score_.measures[*measure], std::move(text), std::move(hint)));
    } else {
      remarks_.push_back(base::report(rule, std::nullopt, std::move(text), std::move(hint)));
    }
  }

  // The measure whose source holds a place; the first one where bars share theirs.
  std::optional<std::size_t> measure_at(const base::SourceRange& where) const {
    const auto found = std::partition_point(
        score_.measures.begin(), score_.measures.end(),
        [&](const model::Measure& measure) { return measure.source.end <= where.begin; });
    if (found == score_.measures.end() || found->source.begin > where.begin) return std::nullopt;
    return static_cast<std::size_t>(found - score_.measures.begin());
  }

  // True when nothing of the finding is left; else takes out the measures that are allowed.
  bool silences(base::Diagnostic& diagnostic) {
    const auto at = diagnostic.where ? measure_at(*diagnostic.where) : std::nullopt;
    for (PlacedAllowance& allowance : allowances_) {
      if (allowance.says.rule != diagnostic.rule->name) continue;
      if (!allowance.measure) {
        allowance.used = true;
        return true;
      }
      if (takes_out(diagnostic, at, allowance)) return true;
    }
    return false;
  }

  // `at` is the measure in which the finding stands.
  bool takes_out(base::Diagnostic& diagnostic, std::optional<std::size_t> at,
                 PlacedAllowance& allowance) {
    const model::Measure& allowed = score_.measures[*allowance.measure];
    if (diagnostic.measures.size() <= 1 && at) {
      if (at != allowance.measure) return false;
      allowance.used = true;
      return true;
    }
    auto& numbers = diagnostic.measures;
    const auto here = std::find(numbers.begin(), numbers.end(), allowed.number);
    if (here == numbers.end()) return false;
    allowance.used = true;
    numbers.erase(here);
    if (numbers.empty()) return true;
    if (at == allowance.measure) move_to(diagnostic, numbers.front());
    return false;
  }

  // The place of the first measure that is left.
  void move_to(base::Diagnostic& diagnostic, const std::string& number) const {
    for (const model::Measure& measure : score_.measures) {
      if (measure.number != number) continue;
      diagnostic.where = model::place_of(measure);
      return;
    }
  }

  const model::Score& score_;
  const std::vector<const base::Rule*>& known_;
  std::vector<PlacedAllowance> allowances_;
  base::Diagnostics remarks_;
};

}  // namespace

std::variant<PlainComment, HalfAllowance, Allowance> parse_allowance(std::string_view comment) {
  constexpr std::string_view kWord = "allow ";
  comment = without_spaces_before(comment);
  if (!comment.starts_with(kWord)) return PlainComment{};
  const std::string_view rest = without_spaces_before(comment.substr(kWord.size()));
  const std::size_t end = std::min(rest.find_first_of(": \t"), rest.size());
  const std::string rule(rest.substr(0, end));
  const std::string_view after = without_spaces_before(rest.substr(end));
  if (!after.starts_with(':')) {
    if (rule.find('-') == std::string::npos) return PlainComment{};
    return HalfAllowance{rule};
  }
  const std::string reason(without_spaces_before(after.substr(1)));
  if (rule.empty() || reason.empty()) return HalfAllowance{rule};
  return Allowance{rule, reason};
}

base::Diagnostics without_allowed(base::Diagnostics found, const model::Score& score,
                                  const std::vector<const base::Rule*>& known) {
  return Allowances(score, known).run(std::move(found));
}

}  // namespace yubifu::check
