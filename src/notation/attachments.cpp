#include "notation/attachments.h"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "base/message.h"
#include "notation/characters.h"
#include "notation/marks.h"
#include "notation/rules.h"

namespace yubifu::notation {
namespace {

class AttachmentReader {
 public:
  AttachmentReader(const base::SourceText& source, WordKind kind, model::ZeroSign zero,
                   Reports& reports, LookAlikes& look_alikes, std::string_view held)
      : source_(source),
        kind_(kind),
        zero_(zero),
        reports_(reports),
        look_alikes_(look_alikes),
        held_(held) {}

  Attached run(const Word& word) {
    for (const Attachment& attachment : word.attached) {
      if (attachment.kind == Attachment::Kind::slur) {
        slur(attachment.range);
      } else {
        brace(attachment.range);
      }
    }
    std::sort(attached_.marks.begin(), attached_.marks.end());
    return std::move(attached_);
  }

 private:
  void slur(base::SourceRange range) {
    if (kind_ != WordKind::note) {
      reports_.add(rule::slur_place, range,
                   base::message("`~` stands after a word that is no sign"),
                   base::message("write it after the sign of the note that is slurred, before its "
                                 "holds"));
    } else if (attached_.slur) {
      twice(range, "~");
    }
    attached_.slur = kind_ == WordKind::note;
  }

  std::string_view text_of(base::SourceRange range) const {
    return source_.text().substr(range.begin, range.end - range.begin);
  }

  void brace(base::SourceRange range) {
    const Brace brace = take_apart(text_of(range));
    MarkMeaning meaning = read_mark(brace, zero_);
    if (auto* fault = std::get_if<Fault>(&meaning)) {
      reports_.add(*fault->rule, range, std::move(fault->message), std::move(fault->hint));
    } else if (may_have(meaning, range, brace.name)) {
      std::visit([&](auto& value) { add(std::move(value), range, brace.name); }, meaning);
    }
  }

  bool may_have(const MarkMeaning& meaning, base::SourceRange range, std::string_view name) {
    switch (kind_) {
      case WordKind::note:
        return true;
      case WordKind::rest:
        if (is_rest_mark(meaning)) return true;
        reports_.add(rule::mark_on_rest, range, base::message("a rest takes no `{{{}}}`", name),
                     base::message("rests take {{fermata}}, {{breath}} and {{breath?}}"));
        return false;
      case WordKind::hold:
        reports_.add(rule::mark_on_hold, range, base::message("a hold takes no `{{{}}}`", name),
                     held_.empty() ? base::message("write it on the sign that is held")
                                   : base::message("write it on the sign that is held: `{}{}`",
                                                   held_, text_of(range)));
        return false;
      case WordKind::same_bar:
        reports_.add(rule::same_bar_place, range, base::message("`%` takes no `{{{}}}`", name),
                     base::message("write the bar out to give it a mark"));
        return false;
    }
    return false;
  }

  void twice(base::SourceRange range, std::string_view what) {
    reports_.add(rule::suffix_twice, range,
                 base::message("{} stands twice on one sign", shown(what)),
                 base::message("keep one of them"));
  }

  void add(model::Mark mark, base::SourceRange range, std::string_view name) {
    if (std::find(attached_.marks.begin(), attached_.marks.end(), mark) != attached_.marks.end()) {
      return twice(range, fmt::format("{{{}}}", name));
    }
    attached_.marks.push_back(mark);
  }

  void add(GraceNotes grace, base::SourceRange range, std::string_view name) {
    look_alikes_.count(grace.look_alikes, range);
    const bool before = grace.side == GraceNotes::Side::before;
    auto& tones = before ? attached_.grace_before : attached_.grace_after;
    if (!tones.empty()) return twice(range, fmt::format("{{{}}}", name));
    tones = std::move(grace.tones);
  }

  void add(model::HolePattern holes, base::SourceRange range, std::string_view name) {
    if (attached_.holes) return twice(range, fmt::format("{{{}}}", name));
    attached_.holes = std::move(holes);
  }

  void add(const Fault&, base::SourceRange, std::string_view) {}  // reported before

  const base::SourceText& source_;
  WordKind kind_;
  model::ZeroSign zero_;
  Reports& reports_;
  LookAlikes& look_alikes_;
  std::string_view held_;
  Attached attached_;
};

}  // namespace

Attached read_attached(const base::SourceText& source, const Word& word, WordKind kind,
                       model::ZeroSign zero, Reports& reports, LookAlikes& look_alikes,
                       std::string_view held) {
  if (word.attached.empty()) return {};
  return AttachmentReader(source, kind, zero, reports, look_alikes, held).run(word);
}

}  // namespace yubifu::notation
