// When a brew is worth using: from the hour its life has grown enough for the aim until growth is over, the oxygen
// gives out, or the day is full. Rules and their reasons: docs/brew/ready.md
#pragma once

#include "brew/forecast.h"
#include "brew/setup.h"

namespace barm::brew {

/// The window by the middle of the bands. Needs the bands of a forecast with air on up to its horizon.
ReadyWindow ready_window(const Forecast& forecast, Aim aim);

}  // namespace barm::brew
