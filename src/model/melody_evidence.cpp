#include "model/melody_evidence.h"

#include <algorithm>
#include <numeric>
#include <optional>

#include <fmt/format.h>

#include "base/message.h"
#include "base/numbers.h"
#include "base/utf8.h"
#include "base/word_table.h"

namespace yubifu::model {
namespace {

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

struct NameWords {
  Says says;
  std::string_view words;  // with strokes between them
};

// Names of printed scores, collections and sequencer tracks, General MIDI's own among them. A space
// stands for the end of a word; longer words count where there is none. Of those that begin at one
// letter the longest counts.
constexpr std::array kNameWords = std::to_array<NameWords>({
    // The melody, and the highest voice of a choir.
    {Says::is_melody,
     " melod|melodie | mélod| мелоди|メロディ|ﾒﾛﾃﾞｨ|ﾒﾛﾃﾞｲ|旋律|멜로디| tune | sopr|soprano |"
     " sop | mel | szopr| сопран| дискант|ソプラノ|女高音|소프라노| cantus| superius|"
     " discant| diskant| triplex | triplum | tiple| dessus | treble| oberstimme"},
    // Who sings it, or plays it alone; the flutes of Japan before other instruments.
    {Says::leads,
     " solo|ソロ|独唱|独奏| lead | voice| vocal| voc | vox | voix | voce | voci | voz |"
     " canto | chant | cant | sing | singer| singst| gesang|stimme | sang | sång | zang |"
     " laulu | голос| соло |ボーカル|ヴォーカル|ﾎﾞｰｶﾙ|歌|唄|謡|うた|人声|人聲|노래|보컬|笛|"
     "ふえ| fue |bue "},
    {Says::flute,
     " flut| flaut| flöte|flöte | floete| flûte| fluit| fløjte| fl | pipe | recorder|"
     " blockfl| whistle |フルート|リコーダー|尺八| shakuhachi "},
    // Instruments of which scores have a first and a second, and other things than they seem.
    {Says::nothing,
     " melodica| melodion|メロディカ|メロディオン| mezzo| mezzo sopran| mezzosopran|メゾ|"
     "メゾソプラノ| viol| vln | vn | vl | geige| oboe| hautbois| clarin| klarin| trump|"
     " tromp| tromba | horn | corn| sax|バイオリン|ヴァイオリン|トランペット|クラリネット|"
     " basset| harmonica"},
    // Lower voices, of men and of instruments.
    {Says::lower_voice,
     " alto|alto | alt | alti | altbl| altfl| altsax| altst| altus | alten | contralt|"
     " contra | haute contre | альт|アルト|女低音|알토| tenor|tenor | ténor| ten | taille |"
     " mittelst| unterst| тенор|テノール|テナー|男高音|테너| countertenor| counter tenor|"
     " bar | barit| баритон|バリトン| viola| vla | bratsche|ビオラ|ヴィオラ| cello| violonc|"
     " vc | vcl |チェロ| trombon| posaune|トロンボーン| bassoon| fagott| euphon"},
    {Says::plays_chords,
     " piano| klavier| keyboard| cembalo | harpsichord | clavecin | organ| orgel | orgue |"
     " pno | guitar| gitar| harp | harfe | string| streicher | right hand | rechte hand |"
     " main droite | mano derecha | mano destra | rh |右手|ピアノ|オルガン|ギター|"
     "ストリングス|三味線|三弦|琴|箏| фортепиано"},
    {Says::accompanies,
     " accomp| acomp| begleit| аккомп|伴奏|반주| left hand | linke hand | main gauche |"
     " mano izquierda | mano sinistra | lh | left |左手| chord|コード|和音| pad | backing|"
     " background| bgv | harmon|ハモリ|ハーモニー| counter| gegenst| contrechant |"
     " voice oohs |対旋律|副旋律|対メロディ|オブリ| drum| perc| taiko | timpani | pauken |"
     "ドラム|ﾄﾞﾗﾑ|太鼓|囃子|鳴物|鳴り物| ударн"},
    {Says::bass,
     " bass|bass | basse| bas | bajo| contrabajo| baix| контрабас| бас|ベース|ﾍﾞｰｽ|バス|"
     "低音|男低音|贝斯|베이스|바스| tuba | continuo | bc | pedal"},
});

// Names that are nothing but a letter or two, a number aside.
constexpr std::array kShortNames = std::to_array<NameWords>({
    {Says::is_melody, "s|c|sa"},
    {Says::leads, "v"},
    {Says::nothing, "ms"},
    {Says::lower_voice, "a|t|ct|br|tb"},
    {Says::bass, "b"},
});

template <typename Take>
void for_each_word(const NameWords& known, Take take) {
  std::string_view words = known.words;
  while (!words.empty()) {
    const std::size_t end = std::min(words.find('|'), words.size());
    take(words.substr(0, end));
    words.remove_prefix(std::min(end + 1, words.size()));
  }
}

// Numbers from 1 as names have them, beside digits.
constexpr auto kNumberWords = base::word_table<int>(
    {{1, "i"}, {2, "ii"}, {3, "iii"}, {4, "iv"}, {1, "first"}, {2, "second"}, {3, "third"}});
constexpr int kMostCounted = 9;

// Longer names are texts.
constexpr std::size_t kMostNameBytes = 400;

char32_t lower_case(char32_t c) {
  c = base::narrowed(c);
  const bool latin = (c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7);
  const bool cyrillic = c >= 0x0410 && c <= 0x042F;
  return latin || cyrillic ? c + 0x20 : c;
}

// Words and numbers of a name in lower case; single letters in a row are one word: R.H., S/A.
std::vector<std::string> words_of(std::string_view name) {
  std::vector<std::string> words;
  char32_t before = ' ';
  const auto is_digit = [](char32_t c) { return c >= '0' && c <= '9'; };
  for (const char32_t point : base::code_points(name.substr(0, kMostNameBytes))) {
    const char32_t c = lower_case(point);
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
  for (const std::string& word : words) {
    const bool letter = is_letter(word);
    if (!letter || !grows) joined.emplace_back();
    joined.back() += word;
    grows = letter;
  }
  return joined;
}

std::optional<int> number_in(const std::string& word) {
  if (const auto known = kNumberWords.value_of(word)) return known;
  const auto value = base::whole_number(word);
  return value && *value >= 1 && *value <= kMostCounted ? value : std::nullopt;
}

// What every word of the table in a name says; `letters` has spaces around each word.
std::vector<Says> sayings_in(std::string_view letters) {
  std::vector<Says> found;
  while (!letters.empty()) {
    std::size_t longest = 0;
    Says says = Says::nothing;
    for (const NameWords& known : kNameWords) {
      for_each_word(known, [&](std::string_view word) {
        if (word.size() <= longest || !letters.starts_with(word)) return;
        longest = word.size();
        says = known.says;
      });
    }
    if (longest > 0) found.push_back(says);
    // The space behind a word is also the one before the next.
    const bool ends_word = longest > 1 && letters[longest - 1] == ' ';
    letters.remove_prefix(std::max<std::size_t>(1, longest - (ends_word ? 1 : 0)));
  }
  return found;
}

Says taken_together(const std::vector<Says>& found) {
  const auto has = [&](Says one) {
    return std::find(found.begin(), found.end(), one) != found.end();
  };
  if (has(Says::accompanies)) return Says::accompanies;
  if (has(Says::is_melody)) return Says::leads;
  if (has(Says::leads) && !has(Says::bass) && !has(Says::lower_voice)) {
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
  for (const NameWords& known : kShortNames) {
    for_each_word(known, [&](std::string_view word) {
      if (std::string_view(letters).substr(1) == word) found.push_back(known.says);
    });
  }
  if (found.empty()) return std::nullopt;
  const Says says = taken_together(found);
  return number > 1 && number <= kMostCounted ? of_second_rank(says) : says;
}

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
  return static_cast<double>(line.syllables) /
         static_cast<double>(std::max<std::size_t>(line.attacks, 1));
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

// What is asked of a line beside the others that are equal so far.
class Rivals {
 public:
  explicit Rivals(const std::vector<const LineEvidence*>& lines) {
    for (const LineEvidence* line : lines) {
      most_bars_ = std::max(most_bars_, line->bars);
      best_share_ = std::max(best_share_, sung_share(*line));
      names_differ_ = names_differ_ || line->names != lines.front()->names;
    }
    all_sung_ = std::all_of(lines.begin(), lines.end(),
                            [&](const LineEvidence* line) { return is_sung(*line); });
  }

  bool plays_in_one_of(std::size_t share, const LineEvidence& line) const {
    return line.bars * share >= most_bars_;
  }

  bool is_sung(const LineEvidence& line) const {
    return best_share_ * kSungAttacks >= 1 && sung_share(line) * 2 >= best_share_;
  }

  // One name for all says nothing.
  Says said_of(const LineEvidence& line) const {
    for (const std::string& name : line.names) {
      if (const auto says = names_differ_ ? said_by(name) : std::nullopt) return *says;
    }
    return Says::nothing;
  }

  // A bass that sings is a voice, and a singer among instruments no lower voice.
  Says name_of(const LineEvidence& line) const {
    const Says says = said_of(line);
    if (!is_sung(line) || says == Says::accompanies) return says;
    return std::max(says, all_sung_ ? Says::lower_voice : Says::flute);
  }

 private:
  std::size_t most_bars_ = 0;
  double best_share_ = 0;  // of attacks that are sung
  bool all_sung_ = false;
  bool names_differ_ = false;
};

using Line = LineEvidence;
using base::catalogued;

// Of the lines that are equal so far, those with the highest value are left.
struct Evidence {
  MelodyReason reason;
  std::string_view sentence;
  int (*value)(const Rivals&, const Line&);
  int slack = 0;
};

int counted(std::size_t number) {
  return static_cast<int>(std::min<std::size_t>(number, 1'000'000'000));
}

constexpr std::array kEvidence = std::to_array<Evidence>({
    {MelodyReason::pitched, catalogued("others are percussion"),
     [](const Rivals&, const Line& l) { return l.is_percussion ? 0 : 1; }},
    {MelodyReason::fingering, catalogued("the fingering stands there"),
     [](const Rivals&, const Line& l) { return l.has_fingering ? 1 : 0; }},
    {MelodyReason::plays, catalogued("others hardly play"),
     [](const Rivals& r, const Line& l) { return r.plays_in_one_of(kHardlyPlays, l) ? 1 : 0; }},
    {MelodyReason::name, catalogued("its name says so"),
     [](const Rivals& r, const Line& l) { return static_cast<int>(r.name_of(l)); }},
    {MelodyReason::names_of_others, catalogued("the names of others speak against them"), nullptr},
    {MelodyReason::sung, catalogued("it has the song text"),
     [](const Rivals& r, const Line& l) { return r.is_sung(l) ? 1 : 0; }},
    {MelodyReason::upper_staff, catalogued("it stands on the upper staff"),
     [](const Rivals&, const Line& l) { return -l.staff; }},
    {MelodyReason::fullest, catalogued("others are silent most of the time"),
     [](const Rivals& r, const Line& l) { return r.plays_in_one_of(kPlaysThrough, l) ? 1 : 0; }},
    {MelodyReason::highest, catalogued("it lies highest"),
     [](const Rivals&, const Line& l) { return median_key(l); }, kSameHeight},
    {MelodyReason::one_at_a_time, catalogued("it has one note at a time"),
     [](const Rivals&, const Line& l) { return l.chords * kChordShare <= l.attacks ? 1 : 0; }},
    {MelodyReason::place, catalogued("it comes first"),
     [](const Rivals&, const Line& l) { return -counted(l.place); }},
    {MelodyReason::count, catalogued("it has the most notes"),
     [](const Rivals&, const Line& l) { return counted(l.attacks); }},
});
static_assert(base::is_in_order(kEvidence, &Evidence::reason));

// What the names decided, said of the line that they left.
MelodyReason name_reason(const Rivals& before, const LineEvidence& best) {
  const Says says = before.said_of(best);
  if (says > Says::nothing) return MelodyReason::name;
  return before.name_of(best) > says ? MelodyReason::sung : MelodyReason::names_of_others;
}

}  // namespace

void LineEvidence::add_note(int key) {
  const int last = static_cast<int>(notes_at_key.size()) - 1;
  ++notes_at_key[static_cast<std::size_t>(std::clamp(key, 0, last))];
}

MelodyVerdict find_melody(const std::vector<LineEvidence>& lines) {
  std::vector<const LineEvidence*> left;
  for (const LineEvidence& line : lines) left.push_back(&line);
  MelodyVerdict verdict;
  for (const auto& [reason, sentence, value, slack] : kEvidence) {
    if (left.size() == 1) break;
    if (value == nullptr) continue;
    const Rivals rivals(left);
    std::vector<int> values;
    for (const LineEvidence* line : left) values.push_back(value(rivals, *line));
    const int least = *std::max_element(values.begin(), values.end()) - slack;
    auto next = values.begin();
    if (std::erase_if(left, [&](const LineEvidence*) { return *next++ < least; }) == 0) continue;
    const bool by_name = reason == MelodyReason::name;
    verdict.reasons.push_back(by_name ? name_reason(rivals, *left.front()) : reason);
  }
  verdict.line = static_cast<std::size_t>(left.front() - lines.data());
  return verdict;
}

std::string listed(const std::vector<std::string>& items) {
  constexpr std::size_t kMostListed = 8;
  const std::size_t more = items.size() - std::min(items.size(), kMostListed);
  std::string list = fmt::format(
      "{}", fmt::join(items.begin(), items.end() - static_cast<std::ptrdiff_t>(more), ", "));
  return more == 0 ? list : list + base::message(" and {} more", more);
}

std::string melody_sentence(std::string_view title, const MelodyVerdict& verdict,
                            const std::vector<std::string>& titles_left_out) {
  const auto told = [](MelodyReason reason) {
    return base::translated(kEvidence[static_cast<std::size_t>(reason)].sentence);
  };
  std::string why;
  for (const MelodyReason reason : verdict.reasons) {
    why = why.empty() ? told(reason) : base::message("{} and {}", why, told(reason));
  }
  if (why.empty()) why = told(MelodyReason::plays);
  return base::message("the melody is read from {}, because {}; left out: {}", title, why,
                       listed(titles_left_out));
}

}  // namespace yubifu::model
