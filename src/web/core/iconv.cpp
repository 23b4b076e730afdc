// iconv for WebAssembly. The one of its C library writes a star for a character that an encoding
// lacks, and knows other codes for Japanese than the systems on which the program runs elsewhere.
// This one fails as POSIX says, and has the tables of the machine that built it.
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <iconv.h>

namespace yubifu::web {
namespace {

// Codes that follow one another; a code is its bytes as one number.
struct Run {
  std::uint32_t first;
  std::uint16_t count;
};

// A character that is not written as the first code that is read as it; 0 for no code at all.
struct Exception {
  std::uint16_t character;
  std::uint32_t code;
};

struct Encoding {
  const char* names;  // in capitals, with a space before and behind each
  std::span<const Run> runs;
  std::span<const std::uint16_t> characters;  // of all the runs
  std::span<const Exception> exceptions;      // the last one only ends the list
};

#include "encodings.inc"

enum class Failure { invalid, incomplete };

// What was read, and of how many bytes.
struct Decoded {
  char32_t character = 0;
  std::size_t size = 0;
};

class Codec {
 public:
  virtual ~Codec() = default;
  virtual Decoded decode(std::string_view bytes, Failure& failure) = 0;
  // The bytes of a character; nothing when there are none.
  virtual std::optional<std::string> encode(char32_t character) = 0;
};

constexpr char32_t kLast = 0x10FFFF;
constexpr char32_t kByteOrderMark = 0xFEFF;
bool is_surrogate(char32_t value) {
  return value >= 0xD800 && value < 0xE000;
}

std::uint8_t byte_at(std::string_view bytes, std::size_t at) {
  return static_cast<std::uint8_t>(bytes[at]);
}

class Ascii : public Codec {
 public:
  Decoded decode(std::string_view bytes, Failure&) override {
    const std::uint8_t byte = byte_at(bytes, 0);
    return byte < 0x80 ? Decoded{byte, 1} : Decoded{};
  }
  std::optional<std::string> encode(char32_t character) override {
    if (character >= 0x80) return std::nullopt;
    return std::string(1, static_cast<char>(character));
  }
};

class Utf8 : public Codec {
 public:
  Decoded decode(std::string_view bytes, Failure& failure) override {
    const std::uint8_t lead = byte_at(bytes, 0);
    if (lead < 0x80) return {lead, 1};
    const std::size_t size = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4) return {};
    char32_t value = lead & (0x7FU >> size);
    for (std::size_t i = 1; i < size; ++i) {
      if (i == bytes.size()) {
        failure = Failure::incomplete;
        return {};
      }
      if ((byte_at(bytes, i) & 0xC0U) != 0x80) return {};
      value = value << 6 | (byte_at(bytes, i) & 0x3FU);
    }
    constexpr std::array<char32_t, 5> kFewest{0, 0, 0x80, 0x800, 0x10000};
    const bool sound = value >= kFewest[size] && value <= kLast && !is_surrogate(value);
    return sound ? Decoded{value, size} : Decoded{};
  }
  std::optional<std::string> encode(char32_t character) override {
    const auto byte = [](char32_t value) { return static_cast<char>(value); };
    const auto tail = [&](int shift) { return byte(0x80 | (character >> shift & 0x3F)); };
    if (character < 0x80) return std::string{byte(character)};
    if (character < 0x800) return std::string{byte(0xC0 | character >> 6), tail(0)};
    if (character < 0x10000) return std::string{byte(0xE0 | character >> 12), tail(6), tail(0)};
    return std::string{byte(0xF0 | character >> 18), tail(12), tail(6), tail(0)};
  }
};

enum class Order { little, big, marked };

// UTF-16 and UTF-32, by the bytes of a unit.
class Wide : public Codec {
 public:
  Wide(std::size_t unit, Order order) : unit_(unit), order_(order) {}

  Decoded decode(std::string_view bytes, Failure& failure) override {
    const std::size_t mark = order_ == Order::marked ? skip_mark(bytes) : 0;
    Decoded read = character_at(bytes.substr(mark), failure);
    if (read.size != 0) read.size += mark;
    return read;
  }
  std::optional<std::string> encode(char32_t character) override {
    std::string bytes;
    if (order_ == Order::marked) {
      order_ = Order::little;
      bytes = of_unit(kByteOrderMark);
    }
    if (unit_ == 4 || character < 0x10000) return bytes + of_unit(character);
    const char32_t beyond = character - 0x10000;
    return bytes + of_unit(0xD800 + (beyond >> 10)) + of_unit(0xDC00 + (beyond & 0x3FF));
  }

 private:
  // Without a mark the order is that of this machine.
  std::size_t skip_mark(std::string_view bytes) {
    order_ = Order::little;
    if (bytes.size() < unit_) return 0;
    if (unit_at(bytes, 0) == kByteOrderMark) return unit_;
    order_ = Order::big;
    if (unit_at(bytes, 0) == kByteOrderMark) return unit_;
    order_ = Order::little;
    return 0;
  }
  char32_t unit_at(std::string_view bytes, std::size_t at) const {
    char32_t value = 0;
    for (std::size_t i = 0; i < unit_; ++i) {
      value = value << 8 | byte_at(bytes, at + (order_ == Order::big ? i : unit_ - 1 - i));
    }
    return value;
  }
  std::string of_unit(char32_t value) const {
    std::string bytes;
    for (std::size_t i = 0; i < unit_; ++i) {
      const std::size_t place = order_ == Order::big ? unit_ - 1 - i : i;
      bytes += static_cast<char>(value >> 8 * place);
    }
    return bytes;
  }
  Decoded character_at(std::string_view bytes, Failure& failure) const {
    failure = Failure::incomplete;
    if (bytes.size() < unit_) return {};
    const char32_t first = unit_at(bytes, 0);
    if (!is_surrogate(first) && first <= kLast) return {first, unit_};
    failure = Failure::invalid;
    if (unit_ == 4 || first >= 0xDC00) return {};
    failure = Failure::incomplete;
    if (bytes.size() < 4) return {};
    failure = Failure::invalid;
    const char32_t second = unit_at(bytes, 2);
    if (second < 0xDC00 || second >= 0xE000) return {};
    return {0x10000 + ((first & 0x3FF) << 10) + (second & 0x3FF), 4};
  }

  std::size_t unit_;
  Order order_;
};

class Tabled : public Codec {
 public:
  explicit Tabled(const Encoding& encoding) : encoding_(encoding) {}

  Decoded decode(std::string_view bytes, Failure& failure) override {
    std::uint32_t code = 0;
    for (std::size_t i = 0; i < kLongest; ++i) {
      if (i == bytes.size()) {
        failure = Failure::incomplete;
        return {};
      }
      code = code << 8 | byte_at(bytes, i);
      if (const auto character = character_of(code)) return {*character, i + 1};
    }
    return {};
  }
  std::optional<std::string> encode(char32_t character) override {
    if (character > 0xFFFF) return std::nullopt;
    if (codes_.empty()) fill_codes();
    const std::uint32_t code = codes_[character];
    if (code == 0 && character != 0) return std::nullopt;
    std::string bytes;
    for (std::uint32_t shift = code > 0xFFFF ? 24 : code > 0xFF ? 16 : 8; shift > 0; shift -= 8) {
      bytes += static_cast<char>(code >> (shift - 8));
    }
    return bytes;
  }

 private:
  static constexpr std::size_t kLongest = 3;

  std::optional<char32_t> character_of(std::uint32_t code) {
    if (starts_.empty()) {
      std::size_t start = 0;
      for (const Run& run : encoding_.runs) {
        starts_.push_back(start);
        start += run.count;
      }
    }
    const auto behind =
        std::upper_bound(encoding_.runs.begin(), encoding_.runs.end(), code,
                         [](std::uint32_t value, const Run& run) { return value < run.first; });
    if (behind == encoding_.runs.begin()) return std::nullopt;
    const Run& run = *std::prev(behind);
    if (code - run.first >= run.count) return std::nullopt;
    const auto index = static_cast<std::size_t>(behind - encoding_.runs.begin()) - 1;
    return encoding_.characters[starts_[index] + (code - run.first)];
  }
  void fill_codes() {
    codes_.resize(0x10000);
    std::size_t at = encoding_.characters.size();
    // Backwards, so that the first code of a character stays.
    for (auto run = encoding_.runs.rbegin(); run != encoding_.runs.rend(); ++run) {
      for (std::uint32_t i = run->count; i > 0; --i) {
        codes_[encoding_.characters[--at]] = run->first + i - 1;
      }
    }
    for (const Exception& exception : encoding_.exceptions.first(encoding_.exceptions.size() - 1)) {
      codes_[exception.character] = exception.code;
    }
  }

  const Encoding& encoding_;
  std::vector<std::size_t> starts_;   // where the characters of each run begin
  std::vector<std::uint32_t> codes_;  // of each character
};

bool is_one_of(std::string_view names, std::string_view name) {
  return names.find(' ' + std::string(name) + ' ') != std::string_view::npos;
}

std::unique_ptr<Codec> codec_of(std::string name) {
  std::transform(name.begin(), name.end(), name.begin(),
                 [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
  if (is_one_of(" UTF-8 UTF8 ", name)) return std::make_unique<Utf8>();
  if (is_one_of(" ASCII US-ASCII ANSI_X3.4-1968 ISO-IR-6 ISO646-US US CP367 ", name)) {
    return std::make_unique<Ascii>();
  }
  if (is_one_of(" UTF-16 UTF16 ", name)) return std::make_unique<Wide>(2, Order::marked);
  if (is_one_of(" UTF-16LE UTF16LE ", name)) return std::make_unique<Wide>(2, Order::little);
  if (is_one_of(" UTF-16BE UTF16BE ", name)) return std::make_unique<Wide>(2, Order::big);
  if (is_one_of(" UTF-32 UTF32 ", name)) return std::make_unique<Wide>(4, Order::marked);
  if (is_one_of(" UTF-32LE UTF32LE ", name)) return std::make_unique<Wide>(4, Order::little);
  if (is_one_of(" UTF-32BE UTF32BE ", name)) return std::make_unique<Wide>(4, Order::big);
  const auto table =
      std::find_if(std::begin(kTables), std::end(kTables),
                   [&](const Encoding& encoding) { return is_one_of(encoding.names, name); });
  return table == std::end(kTables) ? nullptr : std::make_unique<Tabled>(*table);
}

struct Conversion {
  std::unique_ptr<Codec> from;
  std::unique_ptr<Codec> to;
};

std::size_t failed(int error) {
  errno = error;
  return static_cast<std::size_t>(-1);
}

}  // namespace
}  // namespace yubifu::web

using yubifu::web::Conversion;

extern "C" iconv_t iconv_open(const char* to, const char* from) {
  auto conversion = std::make_unique<Conversion>();
  conversion->from = yubifu::web::codec_of(from);
  conversion->to = yubifu::web::codec_of(to);
  if (conversion->from && conversion->to) return conversion.release();
  errno = EINVAL;
  return reinterpret_cast<iconv_t>(-1);
}

extern "C" int iconv_close(iconv_t handle) {
  const std::unique_ptr<Conversion> conversion(static_cast<Conversion*>(handle));
  return 0;
}

extern "C" std::size_t iconv(iconv_t handle, char** input, std::size_t* left, char** output,
                             std::size_t* room) {
  using yubifu::web::Failure;
  auto& conversion = *static_cast<Conversion*>(handle);
  if (input == nullptr || *input == nullptr) return 0;
  while (*left > 0) {
    Failure failure = Failure::invalid;
    const auto [character, size] = conversion.from->decode({*input, *left}, failure);
    if (size == 0) return yubifu::web::failed(failure == Failure::incomplete ? EINVAL : EILSEQ);
    const auto bytes = conversion.to->encode(character);
    if (!bytes) return yubifu::web::failed(EILSEQ);
    if (bytes->size() > *room) return yubifu::web::failed(E2BIG);
    *output = std::copy(bytes->begin(), bytes->end(), *output);
    *room -= bytes->size();
    *input += size;
    *left -= size;
  }
  return 0;
}
