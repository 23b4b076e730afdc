// The fingering value: a sign, perhaps half-holed, perhaps bent. What it sounds is the flute's
// affair.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace yubifu::model {

/// The registers of the flute, low to high. The tube tone (all holes closed) stands apart.
enum class Register { tube, low, second, third };

/// A printed sign: 筒, 一 … 七, 0 … 7, 8, 2̇ … 7̇, or one of its own that a flute file defines. Which
/// signs exist is decided by the flute.
class Sign {
 public:
  /// Of its canonical printed form; nothing is checked.
  explicit Sign(std::string printed) : printed_(std::move(printed)) {}

  /// The standard sign of a register; nothing if there is none. The low register has 1 to 7, the
  /// second 0 to 7, the third 1 (printed 8) to 7.
  static std::optional<Sign> standard(Register in, int number);

  const std::string& printed() const { return printed_; }

  friend bool operator==(const Sign&, const Sign&) = default;
  // Not `<=>`, which strings lack in libc++ 14.
  friend bool operator<(const Sign& a, const Sign& b) { return a.printed_ < b.printed_; }

 private:
  std::string printed_;
};

/// Where a standard sign belongs: register and number (tube tone 0, third-register 8 is 1).
struct SignPlace {
  Register in = Register::low;
  int number = 0;
  friend bool operator==(const SignPlace&, const SignPlace&) = default;
};

/// Nothing for a sign that only a flute file defines.
std::optional<SignPlace> standard_place(const Sign& sign);

/// True for a sign that a flute file may define: one letter or digit of any script (kana and kanji
/// included) with combining marks, which the fingering text does not use for anything else.
bool is_own_sign(std::string_view text);

/// The ASCII spelling of a standard sign ("rt", "r1", "0", "8", "d2"); others as printed.
std::string ascii(const Sign& sign);

/// メ is a semitone under the sign, カ a semitone over it.
enum class HalfHole { none, under, over };

/// What stands before the cents of a bend as printed; and its limit either way (our choice: a whole
/// tone).
inline constexpr std::string_view kBendDown = "↓";
inline constexpr std::string_view kBendUp = "↑";
inline constexpr int kMostBendCents = 200;

/// What the fingers and the breath do for one note. Without a sign it is a gap: a note that the
/// flute cannot finger, kept by its pitch alone (the bend still counts).
struct Fingering {
  std::optional<Sign> sign;
  HalfHole half = HalfHole::none;
  int bend_cents = 0;  ///< lowered is negative; -200 to 200

  bool is_gap() const { return !sign.has_value(); }
  friend bool operator==(const Fingering&, const Fingering&) = default;
};

/// The printed signs, or the spellings that any keyboard has.
enum class Alphabet { printed, ascii };

/// Sign, half hole and bend: 三, 三メ, 三メ↓20; in ASCII r3, r3m, r3mv20. Empty for a gap.
std::string printed(const Fingering& fingering, Alphabet alphabet = Alphabet::printed);

/// Reads exactly the printed form of a bend, ↓20 or ↑15, as cents: 1 to 200, no leading zero.
std::optional<int> parse_bend(std::string_view text);

/// Reads exactly the printed form of a standard sign with half hole and bend.
std::optional<Fingering> parse_printed(std::string_view text);

/// The same for a sign of any flute, also one that only a flute file defines: for texts that are
/// known to be fingering, where parse_printed would take "い" for song text.
std::optional<Fingering> parse_printed_of_any_flute(std::string_view text);

/// One finger hole. A steadying hole is closed only to hold the flute, whatever the pitch.
enum class Hole { closed, open, half, steadying };

/// The holes from the mouth end to the foot.
struct HolePattern {
  std::vector<Hole> holes;
  friend bool operator==(const HolePattern&, const HolePattern&) = default;
};

/// ● closed, ○ open, ◐ half, ◎ steadying; in ASCII x, o, h and s.
std::string printed(const HolePattern& pattern, Alphabet alphabet = Alphabet::printed);
/// Reads either form, also mixed; nothing for an empty text or another character.
std::optional<HolePattern> parse_hole_pattern(std::string_view text);

}  // namespace yubifu::model
