#include "base/wrapping.h"

#include <cstddef>
#include <utility>

#include "base/utf8.h"

namespace yubifu::base {
namespace {

constexpr std::u32string_view kNeverFirst =
    U"、。，．・：；？！ー々ゝゞヽヾ～）］｝」』】〕〉》ぁぃぅぇぉっゃゅょゎァィゥェォッャュョヮ"
    U",.:;?!)]}";
constexpr std::u32string_view kNeverLast = U"（［｛「『【〔〈《([{";

bool is_among(std::u32string_view list, char32_t value) {
  return list.find(value) != std::u32string_view::npos;
}

bool may_part(char32_t before, char32_t after) {
  const bool wide = display_width(before) == 2 || display_width(after) == 2;
  return wide && after != ' ' && !is_combining_mark(after) && !is_among(kNeverFirst, after) &&
         !is_among(kNeverLast, before);
}

class Wrapper {
 public:
  Wrapper(double most, double (*width)(char32_t)) : most_(most), width_of_(width) {}

  void add(char32_t value, std::string_view bytes) {
    if (value == ' ' && line_.empty()) return;
    if (may_part(last_, value)) note_break();
    const double wide = width_of_(value);
    if (value != ' ' && width_ + wide > most_ && !line_.empty()) break_line();
    if (value == ' ') note_break();
    line_ += bytes;
    width_ += wide;
    last_ = value;
  }

  std::vector<std::string> take() {
    if (!line_.empty()) lines_.push_back(std::move(line_));
    return std::move(lines_);
  }

 private:
  void note_break() {
    break_ = line_.size();
    width_at_break_ = width_;
  }

  void break_line() {
    std::string rest;
    double width = 0;
    if (break_ > 0) {
      rest = line_.substr(break_);
      width = width_ - width_at_break_;
      line_.resize(break_);
      if (!rest.empty() && rest.front() == ' ') {
        rest.erase(0, 1);
        width -= width_of_(U' ');
      }
    }
    lines_.push_back(std::move(line_));
    line_ = std::move(rest);
    width_ = width;
    break_ = 0;
  }

  double most_;
  double (*width_of_)(char32_t);
  std::vector<std::string> lines_;
  std::string line_;
  double width_ = 0;
  std::size_t break_ = 0;  // where the line may be broken, in its bytes; 0 where it may not
  double width_at_break_ = 0;
  char32_t last_ = ' ';
};

}  // namespace

std::vector<std::string> wrapped(std::string_view text, double most, double (*width)(char32_t)) {
  Wrapper wrapper(most, width);
  while (!text.empty()) {
    const CodePoint point = first_code_point(text);
    wrapper.add(point.value, text.substr(0, point.size));
    text.remove_prefix(point.size);
  }
  return wrapper.take();
}

std::vector<std::string> wrapped(std::string_view text, int columns) {
  return wrapped(text, columns,
                 [](char32_t value) { return static_cast<double>(display_width(value)); });
}

}  // namespace yubifu::base
