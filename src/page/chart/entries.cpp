// What of a flute's table a chart shows, and what it calls it.
#include <algorithm>
#include <optional>
#include <variant>

#include "base/message.h"
#include "flute/flute.h"
#include "page/chart/chart.h"
#include "page/rules.h"

namespace yubifu::page {
namespace {

// The major key in which 一 is do, with at most six sharps or flats.
model::Key key_of(const flute::Flute& flute) {
  const int fifths = model::pitch_class(7 * flute.ichi().key);
  return {fifths > 6 ? fifths - 12 : fifths, model::Mode::major};
}

bool is_over_semitone(model::Step step) {
  return step == model::Step::c || step == model::Step::f;
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

// The fingerings of the measures [from, to).
void add_fingerings(std::vector<model::Fingering>& used, const model::Score& score,
                    std::size_t from, std::size_t to) {
  for (const model::Note& note : score.notes) {
    if (note.measure < from || note.measure >= to) continue;
    for_each_tone(note, [&](const model::Tone& tone) {
      if (tone.fingering) used.push_back(*tone.fingering);
    });
  }
}

}  // namespace

std::vector<FluteUse> flutes_used(const model::Score& score, const FluteList& flutes) {
  std::vector<FluteUse> used;
  const std::size_t count = std::min(flutes.size(), score.flutes.size());
  for (std::size_t i = 0; i < count; ++i) {
    const bool last = i + 1 == count;
    const std::size_t to = last ? score.measures.size() : score.flutes[i + 1].measure;
    const auto known = std::find_if(used.begin(), used.end(), [&](const FluteUse& use) {
      return use.flute->name() == flutes[i]->name();
    });
    FluteUse& use = known == used.end() ? used.emplace_back(FluteUse{flutes[i], {}}) : *known;
    add_fingerings(use.fingerings, score, score.flutes[i].measure, to);
  }
  return used;
}

std::vector<ChartEntry> all_entries(const flute::Flute& flute) {
  std::vector<ChartEntry> entries;
  for (std::size_t i = 0; i < flute.entries().size(); ++i) {
    entries.push_back({fingering_of(flute.entries()[i]), i});
  }
  // What a flute file adds to another flute stands behind it in the table.
  std::stable_sort(entries.begin(), entries.end(), [&](const ChartEntry& a, const ChartEntry& b) {
    return flute.entries()[a.entry].cents < flute.entries()[b.entry].cents;
  });
  return entries;
}

base::Outcome<std::vector<ChartEntry>> entries_of(const flute::Flute& flute,
                                                  const std::vector<model::Fingering>& wanted) {
  base::Outcome<std::vector<ChartEntry>> result;
  std::vector<ChartEntry> entries;
  std::vector<std::string> missing;
  for (model::Fingering fingering : wanted) {
    if (fingering.is_gap()) continue;
    fingering.bend_cents = 0;
    if (const auto entry = flute.find(fingering)) {
      entries.push_back({fingering, *entry});
    } else {
      missing.push_back(printed(fingering));
    }
  }
  const auto order = [&](const ChartEntry& a, const ChartEntry& b) {
    const double left = flute.entries()[a.entry].cents;
    const double right = flute.entries()[b.entry].cents;
    return left != right ? left < right : printed(a.fingering) < printed(b.fingering);
  };
  std::sort(entries.begin(), entries.end(), order);
  const auto same = [](const ChartEntry& a, const ChartEntry& b) {
    return a.fingering == b.fingering;
  };
  entries.erase(std::unique(entries.begin(), entries.end(), same), entries.end());
  std::sort(missing.begin(), missing.end());
  missing.erase(std::unique(missing.begin(), missing.end()), missing.end());
  for (const std::string& sign : missing) {
    result.diagnostics.push_back(
        report(rule::not_in_chart, std::nullopt,
               base::message("{} is not in the table of the flute {}", sign, flute.title())));
  }
  result.value = std::move(entries);
  return result;
}

bool has_loud(const flute::Flute& flute, const std::vector<ChartEntry>& entries) {
  return std::any_of(entries.begin(), entries.end(), [&](const ChartEntry& shown) {
    return flute::is_loud(flute, shown.fingering);
  });
}

std::string register_name(model::Register in) {
  switch (in) {
    case model::Register::tube:
      return base::message("Tube tone (all closed)");
    case model::Register::low:
      return base::message("Low register (ryo)");
    case model::Register::second:
      return base::message("Second register (kan)");
    case model::Register::third:
      return base::message("Third register (daikan)");
  }
  return {};
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
    const bool strange =
        lowered.alter < -1 || (lowered.alter == -1 && is_over_semitone(lowered.step));
    if (!strange && midi_key(lowered) == pitch.key) return lowered;
  }
  return model::spell_in_key(pitch.key, key);
}

}  // namespace yubifu::page
