// What the verbs that prove things take: check, compare, tidy.
#pragma once

#include "check/comparison.h"
#include "check/findings.h"
#include "check/report.h"

namespace yubifu::cli {

/// What check does.
enum class CheckTask { check_files, list_rules };

/// What tidy does with the canonical text: one file to the output, each file in its place, or
/// only say which files would change.
enum class TidyTask { write, in_place, tell };

/// What check, compare and tidy take, and how findings are told.
struct ProofOptions {
  check::ReportKind report = check::ReportKind::text;
  check::RuleChoices rules;
  CheckTask check_task = CheckTask::check_files;
  check::CompareOptions compare;
  TidyTask tidy_task = TidyTask::write;
};

}  // namespace yubifu::cli
