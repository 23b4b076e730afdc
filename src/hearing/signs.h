// Which tone of a recording is which sign: by the order of the signs, and by the flute that this
// one is like.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "flute/flute.h"
#include "hearing/tones.h"

namespace yubifu::hearing {

/// The entry of a flute that a text names by its sign, printed or in ASCII: "三", "三メ", "r3m".
std::optional<std::size_t> entry_named(const flute::Flute& flute, std::string_view text);

/// The plain signs of a flute from its lowest to its highest, as indexes of its entries: what is
/// played where nobody says otherwise. Half holes and cross-fingerings are not among them.
std::vector<std::size_t> upward_signs(const flute::Flute& flute);

/// A sign and the tone that is surely its own.
struct HeardSign {
  std::size_t entry = 0;  ///< index of an entry of the flute that this one is like
  Tone tone;              ///< its octave settled
};

/// Gives each sign its tone. `signs` are indexes of entries of `like`, in the order of playing. As
/// many tones as signs that go up and down as the signs do are taken one for one; else each sign
/// gets the tone that suits it where no other way of reading the recording is nearly as good, and
/// none otherwise. Reports `sign-repeated`, `sign-unheard`, `tone-extra` and `octave-doubt`, each
/// with its seconds. The signs that have a tone, in their order.
base::Outcome<std::vector<HeardSign>> signs_of(const std::vector<Tone>& tones,
                                               const std::vector<std::size_t>& signs,
                                               const flute::Flute& like);

}  // namespace yubifu::hearing
