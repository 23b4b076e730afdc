// What a reader remarks about many places: one sentence a kind, with the measures it stood in.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "base/findings.h"
#include "base/message.h"
#include "musicxml/rules.h"

namespace yubifu::musicxml {

/// Whether the details of a kind (names of elements, texts) get a sentence each or stand in one.
enum class Details { apart, together };

/// One kind of remark: its rule and what its sentence says after the count, for one and for many.
struct RemarkKind {
  const base::Rule* rule;
  std::string_view one;
  std::string_view many;
  Details details;
};

/// Such a kind; this is where the catalogue finds its texts.
constexpr RemarkKind kind(const base::Rule& rule, std::string_view one, std::string_view many,
                          Details details = Details::apart) {
  return {&rule, one, many, details};
}

// What several readers remark.
inline constexpr RemarkKind kUnknownElement =
    kind(rule::unknown_value, "unknown element left out", "unknown elements left out");
inline constexpr RemarkKind kNotation =
    kind(rule::left_out, "mark on a note left out", "marks on notes left out");
inline constexpr RemarkKind kOwnField = kind(rule::unknown_value, "field of our own cannot be read",
                                             "fields of our own cannot be read", Details::together);

/// The remarks of a part of the reading.
class Remarks {
 public:
  /// `detail` says more about one case and is printed behind the sentence: the name of an element.
  /// What belongs to no measure has base::kNoBar.
  void add(const RemarkKind& kind, std::size_t measure, base::SourceRange where,
           std::string detail = {}) {
    std::string key(kind.one);
    if (kind.details == Details::apart) key += '\n' + detail;
    base::Finding& here = findings_.of(*kind.rule, key);
    if (here.count == 0) {
      here.told = base::report(*kind.rule, where, base::translated(kind.one));
      here.many = base::translated(kind.many);
    }
    here.add(measure);
    here.add_detail(std::move(detail));
  }

  /// Adds all remarks of another list to this one.
  void append(Remarks other) { findings_.append(std::move(other.findings_)); }

  /// One diagnostic a kind and detail, as they first came; with the printed number of a measure.
  base::Diagnostics diagnostics(const base::BarNames& number_of) const {
    return findings_.diagnostics(number_of, [](const base::Finding& finding) {
      const bool single = finding.count == 1;
      return base::with_bars(
          std::to_string(finding.count) + " " + (single ? finding.told.message : finding.many),
          finding);
    });
  }

 private:
  base::Findings findings_;
};

}  // namespace yubifu::musicxml
