// High notes are loud next to the ear.
#pragma once

#include <string>

#include "flute/entry.h"

namespace yubifu::flute {

/// True for an entry whose practice calls for the caution: the third register.
bool is_loud(const Entry& entry);

/// The one short caution given wherever a result holds loud notes.
std::string hearing_caution();

}  // namespace yubifu::flute
