// The hour of a brew that its oxygen picture turns on.
#pragma once

#include "brew/forecast.h"

namespace barm::brew {

/// When the middle brew is at its lowest [h since start]; where it never dips, since it starts at its lowest, when the
/// hungriest 5 of 100 are. Unset when the forecast holds no figures.
double low_hour_h(const Forecast& forecast, double length_h);

}  // namespace barm::brew
