// A food of a plan that is not to be had: what gives the same instead, in amounts that can be measured out, and what
// comes of it. Model: docs/recipe/substitute.md
#pragma once

#include <string>
#include <vector>

#include "recipe/likeness.h"
#include "recipe/plan.h"

namespace barm::recipe {

/// A plan and what it comes to.
struct Coming {
  BrewPlan plan{};
  double ready_mg_per_l = unset;    // oxygen demand of its foods that is eaten at once: what sugar caps
  double covered_mg_per_l = unset;  // as much of it as the nitrogen on offer lets become cells: what nitrogen caps
  double carbon_to_nitrogen = unset;
  double yield = unset;        // of the aim when the air stops
  double yield_share = unset;  // of the plan's as it was
};

struct Substitute {
  const food::Food* food = nullptr;
  Part part = Part::slow;
  AmountLine amount{};              // of this food in the new plan
  bool adds_to_what_is_in = false;  // the plan held some already, which the amount counts in
  Brings brings{};                  // what came in place of the missing food, as measured out
  double misfit = unset;
  Coming coming{};
  Remarks sentences{};  // what changes for people, and which lines it newly misses
};

struct Substituted {
  const food::Food* instead_of = nullptr;
  Part part = Part::slow;
  Brings brought{};
  Coming was{}, without{};               // the plan, and the plan with the food just left out
  std::vector<Substitute> candidates{};  // those that hold as the plan did first, then the same part, then the likest
  Remarks notes{};
};

struct SubstituteAsk {
  std::string instead_of;
  std::vector<std::string> with{};  // foods on hand; empty: all that are known
};

/// Refuses what a plan refuses, a food nobody knows, one that is not in the plan, and when no food can stand in. A food
/// put in its own place gives back its amount. The answer does not depend on `parallel`.
Answer<Substituted> substitute(PlanAsk ask, const SubstituteAsk& wanted, const Knowledge& knowledge,
                               const brew::Parallel& parallel = brew::one_after_the_other);

}  // namespace barm::recipe
