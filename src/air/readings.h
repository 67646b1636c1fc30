// What is asked of any run of oxygen readings before it is fitted.
#pragma once

#include <span>
#include <string>

#include "air/reaeration.h"

namespace barm::air {

/// Refuses runs with too few readings, numbers that are none or that no oxygen probe shows, and times that do not
/// increase. `name` is the field's ("readings"); says whether the run will do.
bool will_do(std::span<const OxygenReading> readings, int least_count, const std::string& name, Findings& findings);

}  // namespace barm::air
