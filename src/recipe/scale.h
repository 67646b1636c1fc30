// A recipe is amounts for some water; scaling it to another vessel multiplies every amount by the same factor.
#pragma once

#include <vector>

#include "recipe/plan.h"

namespace barm::recipe {

struct Recipe {
  double volume_l = unset;  // of the water the amounts are meant for
  std::vector<PlannedCompost> composts;
  std::vector<PlannedFood> foods;
};

/// Every amount, and the water, times `factor` exactly; rounding to kitchen measures comes later. Refuses a factor that
/// is not a positive number.
Answer<Recipe> scaled(const Recipe& recipe, double factor);

/// The recipe for that much water [L]. Refuses a volume that is not a positive number.
Answer<Recipe> scaled_to(const Recipe& recipe, double volume_l);

}  // namespace barm::recipe
