#include "page/chart_notes.h"

#include <optional>
#include <variant>

#include "base/message.h"

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

}  // namespace

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

model::Spelling staff_note(const flute::Flute& flute, const flute::Entry& entry) {
  const model::Pitch pitch = model::pitch_at(flute.ichi().total_cents() + entry.cents);
  const model::Key key = key_of(flute);
  if (const flute::Entry* plain = lowered_entry(flute, entry)) {
    const double cents = flute.ichi().total_cents() + plain->cents;
    model::Spelling lowered = model::spell_in_key(model::pitch_at(cents).key, key);
    --lowered.alter;
    // Nobody calls E F flat or B C flat.
    const bool strange =
        lowered.alter < -1 || (lowered.alter == -1 && is_over_semitone(lowered.step));
    if (!strange && midi_key(lowered) == pitch.key) return lowered;
  }
  return model::spell_in_key(pitch.key, key);
}

bool is_approximate(const flute::Flute& flute, const flute::Entry& entry) {
  return entry.kind == flute::EntryKind::cross &&
         std::holds_alternative<model::FluteSize>(flute.name());
}

std::string printed_note(const model::Spelling& spelling) {
  std::string printed;
  for (const char c : to_text(spelling)) {
    if (c == '#') {
      printed += "♯";
    } else if (c == 'b') {
      printed += "♭";
    } else {
      printed += c;
    }
  }
  return printed;
}

}  // namespace yubifu::page
