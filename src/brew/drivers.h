// Which unknowns decide how low the oxygen falls in this brew, told from the ensemble itself.
#pragma once

#include <vector>

#include "brew/forecast.h"
#include "brew/run.h"

namespace barm::brew {

/// The six that matter most, those that chance may give left out. Method: regression of the ranks of the lowest oxygen
/// on the ranks of one unknown at a time and their square, less what chance gives. Left out: what unknowns do together.
std::vector<Driver> drivers_of(const Members& members, const std::vector<double>& lowest_mg_per_l);

}  // namespace barm::brew
