#include "midi/surroundings.h"

#include <algorithm>
#include <set>

#include "midi/messages.h"
#include "midi/own_text.h"

namespace yubifu::midi {
namespace {

constexpr std::uint8_t kFirstText = 0x01;
constexpr std::uint8_t kLastText = 0x0F;  // 01 to 0F are kept for texts (SMF 1.1)

model::Key key_of(std::string_view data) {
  return {static_cast<std::int8_t>(data[0]),
          data[1] == 1 ? model::Mode::minor : model::Mode::major};
}

bool is_sung(const MetaEvent& meta, const std::vector<MetaEvent>& sung) {
  return !sung.empty() && sung.front().type == meta.type && sung.front().track == meta.track;
}

template <typename T>
void sort_by_time(std::vector<Timed<T>>& list) {
  std::stable_sort(list.begin(), list.end(),
                   [](const Timed<T>& a, const Timed<T>& b) { return a.tick < b.tick; });
}

// One key a tick, the last one, and none twice in a row.
void tidy_keys(std::vector<Timed<model::Key>>& keys) {
  sort_by_time(keys);
  std::vector<Timed<model::Key>> tidy;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const bool replaced = i + 1 < keys.size() && keys[i + 1].tick == keys[i].tick;
    if (replaced || (!tidy.empty() && tidy.back().value == keys[i].value)) continue;
    tidy.push_back(keys[i]);
  }
  keys = std::move(tidy);
}

}  // namespace

Surroundings read_surroundings(const ScannedFile& file, const std::vector<bool>& listened,
                               const std::vector<MetaEvent>& sung, const TextDecoder& decoder) {
  Surroundings found;
  std::set<std::string> rights;
  for (const MetaEvent& meta : file.metas) {
    if (meta.type == kKey) found.keys.push_back({meta.tick, key_of(meta.data)});
    if (meta.type < kFirstText || meta.type > kLastText) continue;
    if (const auto own = own_text(meta)) {
      found.own_fields.push_back(
          {meta.tick,
           {one_line_of(decoder.decode(own->key)), one_line_of(decoder.decode(own->value))}});
      continue;
    }
    const std::string text = one_line_of(decoder.decode(meta.data));
    if (text.empty()) continue;
    if (meta.type == kCopyright && rights.insert(text).second) {
      found.rights += (found.rights.empty() ? "" : "; ") + text;
    }
    if (meta.type == kTrackName && meta.track == 0 && found.title.empty()) found.title = text;
    const bool marker = meta.type == kMarker || meta.type == kCuePoint;
    if ((!marker && meta.type != kText) || !listened[meta.track] || is_sung(meta, sung)) continue;
    found.texts.push_back({meta.tick, {marker ? TextUse::marker : TextUse::text, text}});
  }
  tidy_keys(found.keys);
  sort_by_time(found.texts);
  sort_by_time(found.own_fields);
  return found;
}

std::vector<std::string> track_names(const ScannedFile& file, const TextDecoder& decoder) {
  std::vector<std::string> names(file.track_ends.size());
  for (const MetaEvent& meta : file.metas) {
    if (meta.type != kTrackName && meta.type != kInstrumentName) continue;
    const std::string name = one_line_of(decoder.decode(meta.data));
    std::string& known = names[meta.track];
    if (!name.empty()) known += (known.empty() ? "" : ", ") + name;
  }
  return names;
}

std::vector<std::string_view> all_texts(const ScannedFile& file) {
  std::vector<std::string_view> texts;
  for (const MetaEvent& meta : file.metas) {
    if (meta.type >= kFirstText && meta.type <= kLastText) texts.push_back(meta.data);
  }
  return texts;
}

}  // namespace yubifu::midi
