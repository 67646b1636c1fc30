// Which unknowns decide how low the oxygen falls in this brew, told from the ensemble itself.
#pragma once

#include <string>
#include <vector>

#include "brew/run.h"

namespace barm::brew {

struct Driver {
  std::string symbol;   // as in Unknowns: "kla", "compost1.cells", "food2.cod", "mu_B"
  double share = 0.0;   // of the spread of the lowest oxygen's ranks that goes with it alone, 0 to 1
  bool raises = false;  // more of it, more oxygen
};

/// The six that matter most, those under a fiftieth left out. Method: regression of the ranks of the lowest oxygen on
/// the ranks of one unknown at a time and their square, less what chance gives. Left out: what unknowns do together.
std::vector<Driver> drivers_of(const Members& members, const std::vector<double>& lowest_mg_per_l);

}  // namespace barm::brew
