#include "notation/read/parser.h"

#include <algorithm>
#include <utility>

#include "base/message.h"
#include "base/numbers.h"
#include "notation/characters.h"
#include "notation/directions.h"
#include "notation/rules.h"
#include "notation/spelling.h"

namespace yubifu::notation {
namespace {

constexpr int kMostLength = 9'999;       // of (…):N
constexpr int kFinestFraction = 10'000;  // of (…):n/d

// "2" or "1/3"; nothing for a length that no group may have.
std::optional<model::Rational> parse_length(std::string_view text) {
  const std::size_t slash = text.find('/');
  const auto above = base::whole_number(text.substr(0, slash));
  if (!above) return std::nullopt;
  if (slash == std::string_view::npos) {
    return *above >= 2 && *above <= kMostLength ? std::optional(model::Rational(*above))
                                                : std::nullopt;
  }
  const auto below = base::whole_number(text.substr(slash + 1));
  if (!below || *above < 1 || *above >= *below || *below > kFinestFraction) return std::nullopt;
  return model::Rational(*above, *below);
}

class Parser {
 public:
  Parser(const base::SourceText& source, const std::vector<Token>& tokens, Reports& reports)
      : source_(source), tokens_(tokens), reports_(reports) {}

  Tree run() {
    for (at_ = 0; at_ < tokens_.size() && !full_; ++at_) token(tokens_[at_]);
    close_groups();
    if (has_words(bar_)) {
      end_bar();
    } else {
      for (Item& item : bar_.items) tree_.trailing.push_back(std::get<FreeBrace>(item.value));
    }
    tree_.trailing.insert(tree_.trailing.end(), bar_.between.begin(), bar_.between.end());
    std::stable_sort(
        tree_.trailing.begin(), tree_.trailing.end(),
        [](const FreeBrace& a, const FreeBrace& b) { return a.range.begin < b.range.begin; });
    place_comments();
    return std::move(tree_);
  }

 private:
  void token(const Token& token) {
    switch (token.kind) {
      case TokenKind::header:
        return header(token);
      case TokenKind::comment:
        return comment(token);
      case TokenKind::song:
        in_music_ = true;
        tree_.songs.push_back({token.range, {}});
        if (!tree_.music_lines.empty()) tree_.songs.back().music = tree_.music_lines.back();
        return;
      case TokenKind::line_end:
      case TokenKind::blank_line:
        return line_end(token.kind);
      default:
        break;
    }
    in_music_ = true;
    if (!in_line_) tree_.music_lines.push_back(token.range);
    in_line_ = true;
    tree_.music_lines.back().end = token.range.end;
    glues_ = music(token);
  }

  // True when a token without space before it belongs to this one.
  bool music(const Token& token) {
    switch (token.kind) {
      case TokenKind::word:
        word(token);
        return true;
      case TokenKind::slur:
        return slur(token);
      case TokenKind::brace:
        if (!attach(token)) add({FreeBrace{token.range, {}}});
        return true;
      case TokenKind::open:
        open(token);
        return false;
      case TokenKind::close:
        close(token);
        return false;
      case TokenKind::bar:
        bar_sign(token);
        return false;
      default:
        add_broken(token.range);
        return false;
    }
  }

  void header(const Token& token) {
    auto parts = header_parts(text_of(source_, token.range));
    if (!parts) parts = header_parts_without_colon(text_of(source_, token.range));
    const auto range_of_part = [&](std::string_view part) {
      const auto begin = static_cast<std::size_t>(part.data() - source_.text().data());
      return base::SourceRange{begin, begin + part.size()};
    };
    if (!in_music_) {
      tree_.header.push_back({range_of_part(parts->key), range_of_part(parts->value)});
      return;
    }
    const std::string key = folded(parts->key);
    std::string hint = base::message("move it above the music");
    if (place_of_word(key) && !model::cue_named(key) && key != model::KeyChange::kWord) {
      hint = base::message("write `{{{} {}}}` where it changes, or move it above the music", key,
                           parts->value);
    }
    reports_.add(
        rule::late_header, range_of_part(parts->key),
        base::message("the header line {} stands after the music has begun", shown(key + ':')),
        std::move(hint));
  }

  void comment(const Token& token) {
    const bool in_bar = !bar_.items.empty() || !groups_.empty();
    std::optional<std::size_t> bar;
    if (in_bar || !tree_.bars.empty()) bar = tree_.bars.size() - (in_bar ? 0 : 1);
    const bool blank_before = bar && !in_line_ && break_ == model::LineBreak::blank_line;
    tree_.comments.push_back({bar, !in_line_, blank_before, token.range});
    // The blank line stands before the comment then, not before the bar.
    if (blank_before) break_ = model::LineBreak::line;
  }

  // A comment after the last bar's directions was placed in a bar that never came.
  void place_comments() {
    for (PlacedComment& comment : tree_.comments) {
      if (!comment.after_bar || *comment.after_bar < tree_.bars.size()) continue;
      comment.after_bar = tree_.bars.empty() ? std::nullopt : std::optional(tree_.bars.size() - 1);
    }
  }

  void line_end(TokenKind kind) {
    in_line_ = false;
    glues_ = false;
    if (kind == TokenKind::blank_line) {
      break_ = model::LineBreak::blank_line;
    } else if (break_ == model::LineBreak::none) {
      break_ = model::LineBreak::line;
    }
  }

  std::vector<Item>& items() { return groups_.empty() ? bar_.items : groups_.back().items; }

  // The word that a token without space before it belongs to.
  Word* word_before(const Token& token) {
    if (token.spaced || !glues_ || items().empty()) return nullptr;
    return std::get_if<Word>(&items().back().value);
  }

  void start_bar(base::SourceRange range) {
    if (!bar_started_) {
      bar_started_ = true;
      bar_.range = range;
      bar_.break_before = tree_.bars.empty() ? model::LineBreak::none : break_;
    }
    break_ = model::LineBreak::none;
  }

  void add(Item item) {
    const base::SourceRange range = range_of(item);
    start_bar(range);
    if (groups_.empty()) bar_.range.end = range.end;
    items().push_back(std::move(item));
  }

  void add_broken(base::SourceRange range) {
    bar_.broken = true;
    add({BrokenWord{range}});
  }

  void word(const Token& token) {
    if (!token.spaced && glues_) {
      if (word_before(token) != nullptr) {
        reports_.add(rule::missing_space, token.range,
                     base::message("no space before {}", shown(text_of(source_, token.range))),
                     base::message("part the two words with a space"));
      } else if (auto* free = std::get_if<FreeBrace>(&items().back().value)) {
        free->glued_to = token.range;
      }
    }
    ++tree_.word_count;
    add({Word{token.range, {}}});
  }

  // Whether the token belongs to a word before it.
  bool attach(const Token& token) {
    Word* word = word_before(token);
    if (word == nullptr) return false;
    word->attached.push_back(token);
    if (groups_.empty()) bar_.range.end = token.range.end;
    return true;
  }

  bool slur(const Token& token) {
    if (attach(token)) return true;
    reports_.add(rule::slur_place, token.range, base::message("`~` stands without a sign"),
                 base::message("write it directly after the sign that it slurs to the next"));
    return false;
  }

  void open(const Token& token) {
    if (static_cast<int>(groups_.size()) < kDeepestNesting) {
      start_bar(token.range);
      groups_.push_back({token.range, {}, 1});
      return;
    }
    reports_.add(rule::nesting_too_deep, token.range,
                 base::message("more than {} groups inside each other", kDeepestNesting),
                 base::message("write the rhythm with fewer brackets"));
    skip_group();
  }

  // Leaves out what the group at `at_` holds; goes on behind its end or before the next bar sign.
  void skip_group() {
    int depth = 0;
    std::size_t last = at_;
    for (std::size_t next = at_; next < tokens_.size(); ++next) {
      const TokenKind kind = tokens_[next].kind;
      if (kind == TokenKind::bar) break;
      last = next;
      if (kind == TokenKind::open) ++depth;
      if (kind == TokenKind::close && --depth == 0) break;
    }
    add_broken({tokens_[at_].range.begin, tokens_[last].range.end});
    at_ = last;
  }

  void close(const Token& token) {
    if (groups_.empty()) {
      reports_.add(rule::unopened_group, token.range, base::message("`)` closes no group"),
                   base::message("take it out, or open the group with `(` in this bar"));
      bar_.broken = true;
      return;
    }
    Group group = std::move(groups_.back());
    groups_.pop_back();
    group.range.end = token.range.end;
    const auto words = std::count_if(group.items.begin(), group.items.end(), is_word);
    if (!read_length(token, group)) {
      bar_.broken = true;
    } else if (words < (group.length < model::Rational(1) ? 1 : 2)) {
      report_small(group, words);
      bar_.broken = true;
    }
    add({std::move(group)});
  }

  bool read_length(const Token& token, Group& group) {
    const std::string written = folded(text_of(source_, token.range));
    if (written.size() == 1) return true;
    if (const auto length = parse_length(std::string_view(written).substr(2))) {
      group.length = *length;
      return true;
    }
    reports_.add(rule::bad_group_length, token.range,
                 base::message("{} is no length of a group", shown(written.substr(1))),
                 base::message("write `:N` with N from 2 to {} words, or a fraction such as `:1/2` "
                               "for an incomplete word",
                               kMostLength));
    return false;
  }

  void report_small(const Group& group, std::ptrdiff_t words) {
    if (words == 0) {
      return reports_.add(rule::group_size, group.range, base::message("this group has no word"),
                          base::message("write at least two words in the brackets"));
    }
    const bool longer = group.length != model::Rational(1);
    reports_.add(rule::group_size, group.range, base::message("this group has one word only"),
                 longer ? base::message("write the word without brackets and hold it with `-`")
                        : base::message("write the word without brackets"));
  }

  // Ends every group that is still open, with one message for the outermost.
  void close_groups() {
    if (groups_.empty()) return;
    const base::SourceRange outermost = groups_.front().range;
    reports_.add(rule::unclosed_group, outermost,
                 base::message("this group is not closed in its bar"),
                 base::message("add `)` before the bar sign"));
    groups_.clear();
    const std::size_t end = at_ < tokens_.size() ? tokens_[at_].range.begin : source_.text().size();
    add_broken({outermost.begin, end});
  }

  static bool has_words(const Bar& bar) {
    return std::any_of(bar.items.begin(), bar.items.end(), is_word);
  }

  void bar_sign(const Token& token) {
    close_groups();
    const std::string written = folded(text_of(source_, token.range));
    if (has_words(bar_)) {
      bar_.range.end = token.range.end;
      end_bar();
    }
    for (Item& item : bar_.items) bar_.between.push_back(std::get<FreeBrace>(item.value));
    bar_.items.clear();
    merge(*kBarSigns.value_of(written.substr(0, 2)), written, token.range);
  }

  void end_bar() {
    if (tree_.bars.size() == kMostBars) {
      reports_.add(rule::size_limit, bar_.range,
                   base::message("more than {} bars; the rest is not read", kMostBars),
                   base::message("cut the text into several files"));
      full_ = true;
    } else {
      tree_.bars.push_back(std::move(bar_));
    }
    bar_ = Bar();
    bar_started_ = false;
  }

  // Signs with no word between them are one boundary.
  void merge(const BarSign& sign, std::string_view written, base::SourceRange range) {
    if (sign.repeat_start) {
      bar_.repeat_start = true;
      bar_.start_sign = range;
    }
    if (!sign.repeat_end && sign.style == model::BarStyle::regular) return;
    if (tree_.bars.empty()) {
      return reports_.add(rule::bar_sign_place, range,
                          base::message("{} at the start has no bar before it", shown(written)),
                          base::message("take it out, or write `|:` where a repeat begins"));
    }
    BarSign& end = tree_.bars.back().end;
    end.style = std::max(end.style, sign.style);
    if (!sign.repeat_end) return;
    end.repeat_end = true;
    const std::string_view count = written.substr(std::string_view(":|").size());
    if (count.empty()) return;
    const auto times = base::whole_number(count.substr(count.find_first_of("0123456789")));
    if (times && *times >= 2 && *times <= model::kMostTimes) {
      end.times = std::max(end.times, *times);
      return;
    }
    reports_.add(rule::bad_repeat_count, range,
                 base::message("{} does not say a number of times from 2 to {}", shown(written),
                               model::kMostTimes),
                 base::message("write `:|x3` to play the bars three times"));
  }

  const base::SourceText& source_;
  const std::vector<Token>& tokens_;
  Reports& reports_;
  std::size_t at_ = 0;
  Tree tree_;
  Bar bar_;                                          // the one being read
  bool bar_started_ = false;                         // a word or brace of it has come
  std::vector<Group> groups_;                        // that are open, outermost first
  model::LineBreak break_ = model::LineBreak::none;  // since the last word or brace
  bool in_music_ = false;
  bool in_line_ = false;  // a token of music stands in this line
  bool glues_ = false;    // the token before is one that a token without space belongs to
  bool full_ = false;
};

}  // namespace

bool is_word(const Item& item) {
  return !std::holds_alternative<FreeBrace>(item.value);
}

base::SourceRange range_of(const Item& item) {
  return std::visit([](const auto& value) { return value.range; }, item.value);
}

Tree parse(const base::SourceText& source, const std::vector<Token>& tokens, Reports& reports) {
  return Parser(source, tokens, reports).run();
}

}  // namespace yubifu::notation
