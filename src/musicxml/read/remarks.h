// What a reader has to remark about many places, gathered by kind: one sentence a kind, with the
// measures it stood in.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"

namespace yubifu::musicxml {

/// Whether the details of a kind (names of elements, texts) get a sentence each or stand in one.
enum class Details { apart, together };

/// One kind of remark: its rule and what its sentence says after the count, for one and for many.
/// Kinds are constants; they are told apart by address.
struct RemarkKind {
  const base::Rule* rule;
  std::string_view one;
  std::string_view many;
  Details details = Details::apart;
};

class Remarks {
 public:
  /// For what belongs to no measure.
  static constexpr std::size_t kNoMeasure = static_cast<std::size_t>(-1);

  /// `detail` says more about one case and is printed behind the sentence: the name of an element.
  void add(const RemarkKind& kind, std::size_t measure, base::SourceRange where,
           std::string detail = {});

  /// Adds all remarks of another list to this one.
  void append(Remarks other);

  /// One diagnostic a kind and detail, in the order in which they first came. `number_of` gives the
  /// printed number of a measure.
  base::Diagnostics diagnostics(const std::function<std::string(std::size_t)>& number_of) const;

 private:
  struct Entry {
    const RemarkKind* kind;
    std::vector<std::string> details;
    base::SourceRange first;
    std::size_t count = 0;
    std::vector<std::size_t> measures;
  };

  Entry& entry(const RemarkKind& kind, std::string detail, base::SourceRange where);

  std::vector<Entry> entries_;
  std::map<std::pair<const RemarkKind*, std::string>, std::size_t> index_;
};

}  // namespace yubifu::musicxml
