// The one reading that would narrow the forecast most. Method: docs/brew/learning.md
#pragma once

#include <optional>

#include "brew/forecast.h"
#include "brew/instruments.h"
#include "brew/run.h"

namespace barm::brew {

/// Oxygen, temperature or a count of bacteria, at some half hour after `from_h` and early enough to act on: before half
/// of the members are at their lowest. Of readings that tell nearly as much as the best, the soonest. Nothing when no
/// reading would narrow it by a twentieth, or the brew is over.
std::optional<NextReading> next_reading(const Members& members, const Instruments& instruments, double from_h,
                                        double length_h, std::uint64_t seed = 1);

}  // namespace barm::brew
