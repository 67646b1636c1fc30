// A plan told in another size. Amounts go by the litre; air, depth, heat and the bag do not and are worked out anew.
// Model: docs/recipe/scale.md
#pragma once

#include "recipe/plan.h"

namespace barm::recipe {

inline constexpr double resized_least_l = 4.0, resized_most_l = 2000.0;  // judged: a jug, and a tank on a trailer

/// One size, as what does not scale sees it.
struct Size {
  double volume_l = unset, diameter_m = unset, depth_m = unset;
  double surface_m2_per_m3 = unset;   // open to the air
  double walls_m2_per_m3 = unset;     // all that gives off heat: top, side and bottom
  double rated_flow_l_per_h = unset;  // of the pump
  double water_head_kpa = unset;      // that the pump must push against before line and diffuser
  double vvm = unset;                 // air that arrives, volumes per volume and minute
  double kla20_per_h = unset;
  double lines_count = unset;            // of air, one diffuser each
  double bags_count = unset;             // as large as the plan's
  double one_bag_surface_share = unset;  // of the surface per gram, were it all in one bag of the same shape
};
struct Resized {
  double factor = unset;
  BrewPlan was, naive, proposed;  // naive: amounts and pump times the factor; empty when that cannot be brewed
  Remarks naive_refusals;         // why it cannot
  Size was_size, naive_size, proposed_size;
  Remarks sentences;  // on what does not scale
};

/// `volume_l` of water in a vessel as wide as `diameter_m`; unset: of the plan's shape. Refuses what a plan refuses, a
/// volume outside 4 to 2,000 L, and a vessel in which no pump up to 3 volumes a minute gives the plan's oxygen odds.
Answer<Resized> resize(PlanAsk ask, double volume_l, double diameter_m, const Knowledge& knowledge,
                       const brew::Parallel& parallel = brew::one_after_the_other);

}  // namespace barm::recipe
