#include "model/melody_evidence.h"

#include <algorithm>
#include <charconv>
#include <numeric>
#include <optional>

#include "base/message.h"
#include "base/utf8.h"

namespace yubifu::model {
namespace {

// --- What names say

// From what speaks most against a line to what speaks most for it.
enum class Says {
  bass,
  accompanies,
  plays_chords,  // an instrument of chords, melody or not
  lower_voice,
  nothing,
  flute,
  leads,
  is_melody,  // whoever plays it: "melody (tenor sax)", "soprano and alto"
};

struct NameWord {
  std::string_view text;  // a space stands for the end of a word; none where longer words count
  Says says;
};

// Of words that begin at one letter the longest counts. Names of scores, collections and
// sequencer tracks; General MIDI's own among them.
constexpr std::array kNameWords = std::to_array<NameWord>({
    // The melody, and the highest voice of a choir.
    {" melod", Says::is_melody},
    {"melodie ", Says::is_melody},
    {" mélod", Says::is_melody},
    {" мелоди", Says::is_melody},
    {"メロディ", Says::is_melody},
    {"ﾒﾛﾃﾞｨ", Says::is_melody},
    {"ﾒﾛﾃﾞｲ", Says::is_melody},
    {"旋律", Says::is_melody},
    {"멜로디", Says::is_melody},
    {" tune ", Says::is_melody},
    {" sopran", Says::is_melody},
    {"soprano ", Says::is_melody},
    {" sop ", Says::is_melody},
    {" szopr", Says::is_melody},
    {" сопран", Says::is_melody},
    {"ソプラノ", Says::is_melody},
    {"女高音", Says::is_melody},
    {"소프라노", Says::is_melody},
    {" cantus", Says::is_melody},
    {" superius", Says::is_melody},
    {" discant", Says::is_melody},
    {" diskant", Says::is_melody},
    {" triplex ", Says::is_melody},
    {" tiple", Says::is_melody},
    {" dessus ", Says::is_melody},
    {" treble", Says::is_melody},
    {" oberstimme", Says::is_melody},
    // Who sings or plays it; an instrument of that name is another.
    {" melodica", Says::nothing},
    {" melodion", Says::nothing},
    {"メロディカ", Says::nothing},
    {"メロディオン", Says::nothing},
    {" mezzo", Says::nothing},
    {" mezzo sopran", Says::nothing},
    {" mezzosopran", Says::nothing},
    {"メゾ", Says::nothing},
    {"メゾソプラノ", Says::nothing},
    {" solo", Says::leads},
    {"ソロ", Says::leads},
    {"独唱", Says::leads},
    {"独奏", Says::leads},
    {" lead ", Says::leads},
    {" voice", Says::leads},
    {" vocal", Says::leads},
    {" vox ", Says::leads},
    {" voix ", Says::leads},
    {" voce ", Says::leads},
    {" voci ", Says::leads},
    {" voz ", Says::leads},
    {" canto ", Says::leads},
    {" chant ", Says::leads},
    {" cant ", Says::leads},
    {" sing ", Says::leads},
    {" singer", Says::leads},
    {" singst", Says::leads},
    {" gesang", Says::leads},
    {"stimme ", Says::leads},
    {" sang ", Says::leads},
    {" sång ", Says::leads},
    {" zang ", Says::leads},
    {" laulu ", Says::leads},
    {" голос", Says::leads},
    {" соло ", Says::leads},
    {"ボーカル", Says::leads},
    {"ヴォーカル", Says::leads},
    {"ﾎﾞｰｶﾙ", Says::leads},
    {"歌", Says::leads},
    {"唄", Says::leads},
    {"謡", Says::leads},
    {"うた", Says::leads},
    {"人声", Says::leads},
    {"人聲", Says::leads},
    {"노래", Says::leads},
    {"보컬", Says::leads},
    {"笛", Says::leads},
    {"ふえ", Says::leads},
    {" fue ", Says::leads},
    {"bue ", Says::leads},
    // Flutes of the orchestra.
    {" flut", Says::flute},
    {" flaut", Says::flute},
    {" flöte", Says::flute},
    {"flöte ", Says::flute},
    {" floete", Says::flute},
    {" flûte", Says::flute},
    {" fluit", Says::flute},
    {" fløjte", Says::flute},
    {" fl ", Says::flute},
    {" pipe ", Says::flute},
    {" recorder", Says::flute},
    {" blockfl", Says::flute},
    {" whistle ", Says::flute},
    {"フルート", Says::flute},
    {"リコーダー", Says::flute},
    {"尺八", Says::flute},
    {" shakuhachi ", Says::flute},
    // Instruments of which scores have a first and a second.
    {" viol", Says::nothing},
    {" vln ", Says::nothing},
    {" vn ", Says::nothing},
    {" vl ", Says::nothing},
    {" geige", Says::nothing},
    {" oboe", Says::nothing},
    {" hautbois", Says::nothing},
    {" clarin", Says::nothing},
    {" klarin", Says::nothing},
    {" trump", Says::nothing},
    {" tromp", Says::nothing},
    {" tromba ", Says::nothing},
    {" horn ", Says::nothing},
    {" corn", Says::nothing},
    {" sax", Says::nothing},
    {"バイオリン", Says::nothing},
    {"ヴァイオリン", Says::nothing},
    {"トランペット", Says::nothing},
    {"クラリネット", Says::nothing},
    // A clarinet and a horn between alto and tenor, and no bass.
    {" basset", Says::nothing},
    // Lower voices, of men and of instruments.
    {" alto", Says::lower_voice},
    {"alto ", Says::lower_voice},
    {" alt ", Says::lower_voice},
    {" alti ", Says::lower_voice},
    {" altbl", Says::lower_voice},
    {" altfl", Says::lower_voice},
    {" altsax", Says::lower_voice},
    {" altst", Says::lower_voice},
    {" altus ", Says::lower_voice},
    {" alten ", Says::lower_voice},
    {" contralto", Says::lower_voice},
    {" haute contre ", Says::lower_voice},
    {" альт", Says::lower_voice},
    {"アルト", Says::lower_voice},
    {"女低音", Says::lower_voice},
    {"알토", Says::lower_voice},
    {" tenor", Says::lower_voice},
    {"tenor ", Says::lower_voice},
    {" ténor", Says::lower_voice},
    {" ten ", Says::lower_voice},
    {" taille ", Says::lower_voice},
    {" mittelst", Says::lower_voice},
    {" unterst", Says::lower_voice},
    {" тенор", Says::lower_voice},
    {"テノール", Says::lower_voice},
    {"テナー", Says::lower_voice},
    {"男高音", Says::lower_voice},
    {"테너", Says::lower_voice},
    {" countertenor", Says::lower_voice},
    {" counter tenor", Says::lower_voice},
    {" barit", Says::lower_voice},
    {" баритон", Says::lower_voice},
    {"バリトン", Says::lower_voice},
    {" viola", Says::lower_voice},
    {" vla ", Says::lower_voice},
    {" bratsche", Says::lower_voice},
    {"ビオラ", Says::lower_voice},
    {"ヴィオラ", Says::lower_voice},
    {" cello", Says::lower_voice},
    {" violonc", Says::lower_voice},
    {" vc ", Says::lower_voice},
    {" vcl ", Says::lower_voice},
    {"チェロ", Says::lower_voice},
    {" trombon", Says::lower_voice},
    {" posaune", Says::lower_voice},
    {"トロンボーン", Says::lower_voice},
    {" bassoon", Says::lower_voice},
    {" fagott", Says::lower_voice},
    {" euphon", Says::lower_voice},
    // Basses.
    {" bass", Says::bass},
    {"bass ", Says::bass},
    {" basse", Says::bass},
    {" bas ", Says::bass},
    {" bajo", Says::bass},
    {" contrabajo", Says::bass},
    {" baixo", Says::bass},
    {" контрабас", Says::bass},
    {" бас", Says::bass},
    {"ベース", Says::bass},
    {"ﾍﾞｰｽ", Says::bass},
    {"バス", Says::bass},
    {"低音", Says::bass},
    {"男低音", Says::bass},
    {"贝斯", Says::bass},
    {"베이스", Says::bass},
    {"바스", Says::bass},
    {" tuba ", Says::bass},
    {" continuo ", Says::bass},
    {" bc ", Says::bass},
    {" pedal", Says::bass},
    // Instruments of chords.
    {" piano", Says::plays_chords},
    {" klavier", Says::plays_chords},
    {" keyboard", Says::plays_chords},
    {" cembalo ", Says::plays_chords},
    {" harpsichord ", Says::plays_chords},
    {" clavecin ", Says::plays_chords},
    {" organ", Says::plays_chords},
    {" orgel ", Says::plays_chords},
    {" orgue ", Says::plays_chords},
    {" pno ", Says::plays_chords},
    {" guitar", Says::plays_chords},
    {" gitar", Says::plays_chords},
    {" harp ", Says::plays_chords},
    {" harfe ", Says::plays_chords},
    {" string", Says::plays_chords},
    {" streicher ", Says::plays_chords},
    {" right hand ", Says::plays_chords},
    {" rechte hand ", Says::plays_chords},
    {" main droite ", Says::plays_chords},
    {" mano derecha ", Says::plays_chords},
    {" mano destra ", Says::plays_chords},
    {" rh ", Says::plays_chords},
    {"右手", Says::plays_chords},
    {"ピアノ", Says::plays_chords},
    {"オルガン", Says::plays_chords},
    {"ギター", Says::plays_chords},
    {"ストリングス", Says::plays_chords},
    {"三味線", Says::plays_chords},
    {"三弦", Says::plays_chords},
    {"琴", Says::plays_chords},
    {"箏", Says::plays_chords},
    {" фортепиано", Says::plays_chords},
    // What goes with a melody.
    {" accomp", Says::accompanies},
    {" acomp", Says::accompanies},
    {" begleit", Says::accompanies},
    {" аккомп", Says::accompanies},
    {"伴奏", Says::accompanies},
    {"반주", Says::accompanies},
    {" left hand ", Says::accompanies},
    {" linke hand ", Says::accompanies},
    {" main gauche ", Says::accompanies},
    {" mano izquierda ", Says::accompanies},
    {" mano sinistra ", Says::accompanies},
    {" lh ", Says::accompanies},
    {" left ", Says::accompanies},
    {"左手", Says::accompanies},
    {" chord", Says::accompanies},
    {"コード", Says::accompanies},
    {"和音", Says::accompanies},
    {" pad ", Says::accompanies},
    {" backing", Says::accompanies},
    {" background", Says::accompanies},
    {" bgv ", Says::accompanies},
    {" harmon", Says::accompanies},
    {" harmonica", Says::nothing},
    {"ハモリ", Says::accompanies},
    {"ハーモニー", Says::accompanies},
    {" counter", Says::accompanies},
    {" gegenst", Says::accompanies},
    {" contrechant ", Says::accompanies},
    {" voice oohs ", Says::accompanies},
    {"対旋律", Says::accompanies},
    {"副旋律", Says::accompanies},
    {"対メロディ", Says::accompanies},
    {"オブリ", Says::accompanies},
    {" drum", Says::accompanies},
    {" perc", Says::accompanies},
    {" taiko ", Says::accompanies},
    {" timpani ", Says::accompanies},
    {" pauken ", Says::accompanies},
    {"ドラム", Says::accompanies},
    {"ﾄﾞﾗﾑ", Says::accompanies},
    {"太鼓", Says::accompanies},
    {"囃子", Says::accompanies},
    {"鳴物", Says::accompanies},
    {"鳴り物", Says::accompanies},
    {" ударн", Says::accompanies},
});

// Names that are nothing but a letter or two, a number aside.
constexpr std::array kShortNames = std::to_array<NameWord>({
    {"s", Says::is_melody},
    {"c", Says::is_melody},
    {"sa", Says::is_melody},
    {"ms", Says::nothing},
    {"v", Says::leads},
    {"a", Says::lower_voice},
    {"t", Says::lower_voice},
    {"ct", Says::lower_voice},
    {"br", Says::lower_voice},
    {"tb", Says::lower_voice},
    {"b", Says::bass},
});

// Numbers from 1 as names have them, beside digits.
struct NumberWord {
  std::string_view text;
  int number;
};
constexpr std::array kNumberWords = std::to_array<NumberWord>(
    {{"i", 1}, {"ii", 2}, {"iii", 3}, {"iv", 4}, {"first", 1}, {"second", 2}, {"third", 3}});
constexpr int kMostCounted = 9;

// Longer names are texts.
constexpr std::size_t kMostNameBytes = 400;

char32_t lower_case(char32_t c) {
  const bool full_width = c >= 0xFF01 && c <= 0xFF5E;
  if (full_width) c -= 0xFEE0;
  const bool latin = (c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7);
  const bool cyrillic = c >= 0x0410 && c <= 0x042F;
  return latin || cyrillic ? c + 0x20 : c;
}

bool is_digit(char32_t c) {
  return c >= '0' && c <= '9';
}

// The words and numbers of a name in lower case. Single letters with points or strokes between
// them are one word: R.H., S/A.
std::vector<std::string> words_of(std::string_view name) {
  name = name.substr(0, kMostNameBytes);
  std::vector<std::string> words;
  char32_t before = ' ';
  while (!name.empty()) {
    const base::CodePoint point = base::first_code_point(name);
    name.remove_prefix(point.size);
    const char32_t c = lower_case(point.value);
    if (!base::is_letter_or_digit(c) && !base::is_combining_mark(c)) {
      before = ' ';
      continue;
    }
    if (before == ' ' || is_digit(before) != is_digit(c)) words.emplace_back();
    base::append_utf8(words.back(), c);
    before = c;
  }
  const auto is_letter = [](const std::string& word) {
    return word.size() == 1 && word[0] >= 'a' && word[0] <= 'z' && word != "i" && word != "v";
  };
  std::vector<std::string> joined;
  bool grows = false;
  for (std::string& word : words) {
    const bool letter = is_letter(word);
    if (letter && grows) {
      joined.back() += word;
    } else {
      joined.push_back(std::move(word));
    }
    grows = letter;
  }
  return joined;
}

std::optional<int> number_in(const std::string& word) {
  for (const NumberWord& known : kNumberWords) {
    if (word == known.text) return known.number;
  }
  int value = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  const bool whole = error == std::errc() && end == word.data() + word.size();
  return whole && value >= 1 && value <= kMostCounted ? std::optional(value) : std::nullopt;
}

const NameWord* longest_at(std::string_view text) {
  const NameWord* best = nullptr;
  for (const NameWord& word : kNameWords) {
    if (!text.starts_with(word.text)) continue;
    if (best == nullptr || word.text.size() > best->text.size()) best = &word;
  }
  return best;
}

// Every word of the table in a name.
std::vector<Says> sayings_in(const std::string& letters) {
  std::vector<Says> found;
  std::string_view text = letters;
  while (!text.empty()) {
    const NameWord* word = longest_at(text);
    if (word == nullptr) {
      text.remove_prefix(1);
      continue;
    }
    found.push_back(word->says);
    // The space behind a word is also the one before the next.
    text.remove_prefix(word->text.size() - (word->text.ends_with(' ') ? 1 : 0));
  }
  return found;
}

Says taken_together(const std::vector<Says>& found) {
  const auto has = [&](Says one) {
    return std::find(found.begin(), found.end(), one) != found.end();
  };
  if (has(Says::accompanies)) return Says::accompanies;
  if (has(Says::is_melody)) return Says::leads;
  const bool leads = has(Says::leads);
  if (leads && !has(Says::bass) && !has(Says::lower_voice)) {
    return has(Says::plays_chords) ? Says::nothing : Says::leads;
  }
  return *std::min_element(found.begin(), found.end());
}

Says of_second_rank(Says says) {
  if (says == Says::leads) return Says::nothing;
  return says == Says::nothing || says == Says::flute ? Says::lower_voice : says;
}

// Nothing where the name has no word of the table.
std::optional<Says> said_by(std::string_view name) {
  std::string letters;
  int number = kMostCounted + 1;
  for (const std::string& word : words_of(name)) {
    if (const auto here = number_in(word)) {
      number = std::min(number, *here);
    } else {
      letters += " " + word;
    }
  }
  if (letters.empty()) return std::nullopt;
  std::vector<Says> found = sayings_in(letters + ' ');
  for (const NameWord& known : kShortNames) {
    if (std::string_view(letters).substr(1) == known.text) found.push_back(known.says);
  }
  if (found.empty()) return std::nullopt;
  const Says says = taken_together(found);
  return number > 1 && number <= kMostCounted ? of_second_rank(says) : says;
}

Says said_by(const LineEvidence& line) {
  for (const std::string& name : line.names) {
    if (const auto says = said_by(name)) return *says;
  }
  return Says::nothing;
}

// --- The table of evidence

// A line that plays in fewer bars than one in so many of the fullest line hardly plays.
constexpr std::size_t kHardlyPlays = 10;
// One in fewer than half of them does not go through.
constexpr std::size_t kPlaysThrough = 2;
// A text has a syllable for one attack in so many at least; a line has it that has at least half
// as many of them as the line with most.
constexpr std::size_t kSungAttacks = 8;
// Equal in height, in semitones.
constexpr int kSameHeight = 2;
// One attack in so many may be a chord where notes come one at a time.
constexpr std::size_t kChordShare = 10;

double sung_share(const LineEvidence& line) {
  return line.attacks == 0
             ? 0.0
             : static_cast<double>(line.syllables) / static_cast<double>(line.attacks);
}

int median_key(const LineEvidence& line) {
  const auto& counts = line.notes_at_key;
  const auto half = std::accumulate(counts.begin(), counts.end(), std::uint64_t{0}) / 2;
  std::uint64_t below = 0;
  for (std::size_t key = 0; key < counts.size(); ++key) {
    below += counts[key];
    if (below > half) return static_cast<int>(key);
  }
  return 0;
}

// The lines that are equal so far, and what is asked of each beside the others.
class Rivals {
 public:
  explicit Rivals(const std::vector<LineEvidence>& lines) : lines_(lines) {
    for (std::size_t i = 0; i < lines.size(); ++i) left_.push_back(i);
    survey();
  }

  const std::vector<std::size_t>& left() const { return left_; }

  // Keeps the lines of the greatest value, and those less by no more than `slack`.
  template <typename Value>
  void keep_greatest(Value value_of, int slack) {
    std::vector<int> values;
    for (const std::size_t line : left_) values.push_back(value_of(*this, lines_[line]));
    const int least = *std::max_element(values.begin(), values.end()) - slack;
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < left_.size(); ++i) {
      if (values[i] >= least) kept.push_back(left_[i]);
    }
    left_ = std::move(kept);
    survey();
  }

  bool plays_in_one_of(std::size_t share, const LineEvidence& line) const {
    return line.bars * share >= most_bars_;
  }

  bool is_sung(const LineEvidence& line) const {
    return best_share_ * kSungAttacks >= 1 && sung_share(line) * 2 >= best_share_;
  }

  // A bass that sings is a voice, and a singer among instruments no lower voice.
  Says name_of(const LineEvidence& line) const {
    const Says says = said_by(line);
    if (!is_sung(line) || says == Says::accompanies) return says;
    return std::max(says, all_sung_ ? Says::lower_voice : Says::flute);
  }

 private:
  void survey() {
    most_bars_ = 0;
    best_share_ = 0;
    for (const std::size_t line : left_) {
      most_bars_ = std::max(most_bars_, lines_[line].bars);
      best_share_ = std::max(best_share_, sung_share(lines_[line]));
    }
    all_sung_ = std::all_of(left_.begin(), left_.end(),
                            [&](std::size_t line) { return is_sung(lines_[line]); });
  }

  const std::vector<LineEvidence>& lines_;
  std::vector<std::size_t> left_;
  std::size_t most_bars_ = 0;
  double best_share_ = 0;  // of attacks that are sung
  bool all_sung_ = false;
};

struct Evidence {
  MelodyReason reason;
  int (*value)(const Rivals&, const LineEvidence&);
  int slack = 0;
};

int counted(std::size_t number) {
  return static_cast<int>(std::min<std::size_t>(number, 1'000'000'000));
}

constexpr std::array kEvidence = std::to_array<Evidence>({
    {MelodyReason::pitched,
     [](const Rivals&, const LineEvidence& l) { return l.is_percussion ? 0 : 1; }},
    {MelodyReason::fingering,
     [](const Rivals&, const LineEvidence& l) { return l.has_fingering ? 1 : 0; }},
    {MelodyReason::plays,
     [](const Rivals& r, const LineEvidence& l) {
       return r.plays_in_one_of(kHardlyPlays, l) ? 1 : 0;
     }},
    {MelodyReason::name,
     [](const Rivals& r, const LineEvidence& l) { return static_cast<int>(r.name_of(l)); }},
    {MelodyReason::sung,
     [](const Rivals& r, const LineEvidence& l) { return r.is_sung(l) ? 1 : 0; }},
    {MelodyReason::upper_staff, [](const Rivals&, const LineEvidence& l) { return -l.staff; }},
    {MelodyReason::fullest,
     [](const Rivals& r, const LineEvidence& l) {
       return r.plays_in_one_of(kPlaysThrough, l) ? 1 : 0;
     }},
    {MelodyReason::highest, [](const Rivals&, const LineEvidence& l) { return median_key(l); },
     kSameHeight},
    {MelodyReason::one_at_a_time,
     [](const Rivals&,
        const LineEvidence& l) { return l.chords * kChordShare <= l.attacks ? 1 : 0; }},
    {MelodyReason::place, [](const Rivals&, const LineEvidence& l) { return -counted(l.place); }},
    {MelodyReason::count, [](const Rivals&, const LineEvidence& l) { return counted(l.attacks); }},
});

std::string_view words_for(MelodyReason reason) {
  using base::catalogued;
  switch (reason) {
    case MelodyReason::pitched:
      return catalogued("others are percussion");
    case MelodyReason::fingering:
      return catalogued("the fingering stands there");
    case MelodyReason::plays:
      return catalogued("others hardly play");
    case MelodyReason::name:
      return catalogued("its name says so");
    case MelodyReason::names_of_others:
      return catalogued("the names of others speak against them");
    case MelodyReason::sung:
      return catalogued("it has the song text");
    case MelodyReason::upper_staff:
      return catalogued("it stands on the upper staff");
    case MelodyReason::fullest:
      return catalogued("others are silent most of the time");
    case MelodyReason::highest:
      return catalogued("it lies highest");
    case MelodyReason::one_at_a_time:
      return catalogued("it has one note at a time");
    case MelodyReason::place:
      return catalogued("it comes first");
    case MelodyReason::count:
      return catalogued("it has the most notes");
  }
  return {};
}

// What the names decided, said of the line that they left.
MelodyReason name_reason(const Rivals& before, const LineEvidence& best) {
  const Says says = said_by(best);
  if (says > Says::nothing) return MelodyReason::name;
  return before.name_of(best) > says ? MelodyReason::sung : MelodyReason::names_of_others;
}

}  // namespace

void LineEvidence::add_note(int key) {
  const int last = static_cast<int>(notes_at_key.size()) - 1;
  ++notes_at_key[static_cast<std::size_t>(std::clamp(key, 0, last))];
}

MelodyVerdict find_melody(const std::vector<LineEvidence>& lines) {
  Rivals rivals(lines);
  MelodyVerdict verdict;
  for (const Evidence& evidence : kEvidence) {
    if (rivals.left().size() == 1) break;
    const Rivals before = rivals;
    rivals.keep_greatest(evidence.value, evidence.slack);
    if (rivals.left().size() == before.left().size()) continue;
    const LineEvidence& best = lines[rivals.left().front()];
    verdict.reasons.push_back(evidence.reason == MelodyReason::name ? name_reason(before, best)
                                                                    : evidence.reason);
  }
  verdict.line = rivals.left().front();
  return verdict;
}

std::string listed(const std::vector<std::string>& items) {
  constexpr std::size_t kMostListed = 8;
  std::string list;
  for (std::size_t i = 0; i < std::min(items.size(), kMostListed); ++i) {
    if (i > 0) list += ", ";
    list += items[i];
  }
  if (items.size() > kMostListed) {
    list += base::message(" and {} more", items.size() - kMostListed);
  }
  return list;
}

std::string melody_sentence(std::string_view title, const MelodyVerdict& verdict,
                            const std::vector<std::string>& titles_left_out) {
  std::string why;
  for (const MelodyReason reason : verdict.reasons) {
    std::string here = base::translated(words_for(reason));
    why = why.empty() ? std::move(here) : base::message("{} and {}", why, here);
  }
  if (why.empty()) why = base::translated(words_for(MelodyReason::plays));
  return base::message("the melody is read from {}, because {}; left out: {}", title, why,
                       listed(titles_left_out));
}

}  // namespace yubifu::model
