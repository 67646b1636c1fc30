// What the air of a brew carries: food against temperature at equal risk, the pump it needs, and what a second stone, a
// second pump or a measured re-aeration would change. Model: docs/recipe/equipment.md
#pragma once

#include <vector>

#include "recipe/plan.h"

namespace barm::recipe {

inline constexpr double carried_most = 16.0;  // judged: of a plan's food; more is another brew

/// The most food the air carries: so many times the plan's, at the line of 9 brews in 10 above 6 mg/L.
struct Carried {
  double temperature_c = unset;  // of water and room
  double factor = unset;         // of every food of the plan; 0: not even none; carried_most: or more
  double food_g_per_l = unset;   // oxygen demand of what may be eaten
  double sugar_share = unset;    // told as molasses; above 0.002 is past another line
};
/// One change of the air.
struct AirChange {
  double kla20_per_h = unset;
  double stays_above_6 = unset;  // with the plan's food
  double factor = unset;         // of food carried
};
struct Equipment {
  double stays_above_6 = unset;  // as it is
  double factor = unset;         // of food carried, as it is
  double kla20_per_h = unset;
  std::vector<Carried> frontier;        // by temperature
  double pump_stone_l_per_h = unset;    // smallest rating that carries the plan's food; unset: none up to 3 vvm
  double pump_fine_l_per_h = unset;     // the same with a fine diffuser
  AirChange second_stone, second_pump;  // the pump's air on twice the stones; two such pumps
  AirChange measured;                   // a test that finds just what is estimated, to 10 %
};

/// Refuses what a plan refuses, and a plan without food. The answer does not depend on `parallel`.
Answer<Equipment> equipment(const PlanAsk& ask, const Knowledge& knowledge,
                            const brew::Parallel& parallel = brew::one_after_the_other);

}  // namespace barm::recipe
