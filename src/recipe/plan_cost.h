// What a planned brew costs, from the prices its plan tells. Arithmetic and what is left out: docs/recipe/cost.md
#pragma once

#include <string>
#include <vector>

#include "quantity/answer.h"
#include "recipe/batch_cost.h"
#include "recipe/plan.h"

namespace barm::recipe {

struct PlanCost {
  BatchCost cost{};
  /// What goes in and has no price, so that it counts as nothing: rows of the plan ("compost[1]", "food[2]"), "water",
  /// "electricity", "labour".
  std::vector<std::string> not_priced{};
  bool is_priced() const { return cost.batch > 0.0; }
};

/// Refuses a price of a compost or food that does not say for how much, and an amount of a food that cannot be weighed.
/// A food nobody knows has no price here; planning it is what refuses it. `rate_l_per_ha`: what is spread on a hectare;
/// unset: the cost per area stays unset.
Answer<PlanCost> plan_cost(const PlanAsk& ask, const Tariffs& tariffs, double rate_l_per_ha,
                           const Knowledge& knowledge);

}  // namespace barm::recipe
