// What of a flute's table a chart shows, and what it calls it.
#include <algorithm>
#include <set>
#include <utility>
#include <variant>

#include "base/message.h"
#include "page/chart/chart.h"
#include "page/rules.h"

namespace yubifu::page {
namespace {

// The major key in which 一 is do, with at most six sharps or flats.
model::Key key_of(const flute::Flute& flute) {
  const int fifths = model::pitch_class(7 * flute.ichi().key);
  return {fifths > 6 ? fifths - 12 : fifths, model::Mode::major};
}

// The plain entry that a half-holed or cross-fingered one lowers.
const flute::Entry* lowered_entry(const flute::Flute& flute, const flute::Entry& entry) {
  const auto sign = entry.kind == flute::EntryKind::cross
                        ? model::Sign::standard(model::Register::low, 7)
                        : std::optional(entry.sign);
  if (entry.half == model::HalfHole::over) return nullptr;
  if (entry.half == model::HalfHole::none && entry.kind != flute::EntryKind::cross) return nullptr;
  const auto plain = flute.find({*sign, model::HalfHole::none, 0});
  return plain ? &flute.entries()[*plain] : nullptr;
}

}  // namespace

std::vector<ChartOfFlute> flutes_used(const model::Score& score, const FluteList& flutes) {
  std::vector<ChartOfFlute> used;
  const std::size_t count = std::min(flutes.size(), score.flutes.size());
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t from = score.flutes[i].measure;
    const std::size_t to = i + 1 == count ? score.measures.size() : score.flutes[i + 1].measure;
    auto use = std::find_if(used.begin(), used.end(), [&](const ChartOfFlute& one) {
      return one.flute->name() == flutes[i]->name();
    });
    if (use == used.end()) use = used.insert(use, {flutes[i], std::vector<model::Fingering>()});
    for (const model::Note& note : score.notes) {
      if (note.measure < from || note.measure >= to) continue;
      for_each_tone(note, [&](const model::Tone& tone) {
        if (tone.fingering) use->only->push_back(*tone.fingering);
      });
    }
  }
  return used;
}

base::Outcome<std::vector<ChartEntry>> entries_of(const ChartOfFlute& chart) {
  const flute::Flute& flute = *chart.flute;
  std::vector<ChartEntry> entries;
  if (!chart.only) {
    for (const flute::Entry& entry : flute.entries()) {
      entries.push_back({fingering_of(entry), &entry});
    }
    // What a flute file adds to another flute stands behind it in the table.
    std::stable_sort(entries.begin(), entries.end(), [](const ChartEntry& a, const ChartEntry& b) {
      return a.entry->cents < b.entry->cents;
    });
    return {std::move(entries), {}};
  }
  std::set<std::string> missing;
  for (model::Fingering fingering : *chart.only) {
    if (fingering.is_gap()) continue;
    fingering.bend_cents = 0;
    if (const auto entry = flute.find(fingering)) {
      entries.push_back({fingering, &flute.entries()[*entry]});
    } else {
      missing.insert(printed(fingering));
    }
  }
  std::sort(entries.begin(), entries.end(), [](const ChartEntry& a, const ChartEntry& b) {
    if (a.entry->cents != b.entry->cents) return a.entry->cents < b.entry->cents;
    return printed(a.fingering) < printed(b.fingering);
  });
  const auto same = [](const ChartEntry& a, const ChartEntry& b) {
    return a.fingering == b.fingering;
  };
  entries.erase(std::unique(entries.begin(), entries.end(), same), entries.end());
  base::Diagnostics found;
  for (const std::string& sign : missing) {
    found.push_back(
        report(rule::not_in_chart, std::nullopt,
               base::message("{} is not in the table of the flute {}", sign, flute.title())));
  }
  return {std::move(entries), std::move(found)};
}

bool has_loud(const flute::Flute& flute, const std::vector<ChartEntry>& entries) {
  return std::any_of(entries.begin(), entries.end(), [&](const ChartEntry& shown) {
    return flute::is_loud(flute, shown.fingering);
  });
}

std::string register_name(model::Register in) {
  if (in == model::Register::tube) return base::message("Tube tone (all closed)");
  if (in == model::Register::low) return base::message("Low register (ryo)");
  if (in == model::Register::second) return base::message("Second register (kan)");
  return base::message("Third register (daikan)");
}

model::Pitch pitch_of(const flute::Flute& flute, const flute::Entry& entry) {
  return model::pitch_at(flute.ichi().total_cents() + entry.cents);
}

bool is_approximate(const flute::Flute& flute, const flute::Entry& entry) {
  return entry.kind == flute::EntryKind::cross &&
         std::holds_alternative<model::FluteSize>(flute.name());
}

model::Spelling staff_note(const flute::Flute& flute, const flute::Entry& entry) {
  const model::Pitch pitch = pitch_of(flute, entry);
  const model::Key key = key_of(flute);
  if (const flute::Entry* plain = lowered_entry(flute, entry)) {
    model::Spelling lowered = model::spell_in_key(pitch_of(flute, *plain).key, key);
    --lowered.alter;
    // Nobody calls E F flat or B C flat.
    const bool is_over_semitone = lowered.step == model::Step::c || lowered.step == model::Step::f;
    const bool strange = lowered.alter < -1 || (lowered.alter == -1 && is_over_semitone);
    if (!strange && midi_key(lowered) == pitch.key) return lowered;
  }
  return model::spell_in_key(pitch.key, key);
}

}  // namespace yubifu::page
