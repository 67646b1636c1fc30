// The lines a plan is held against, in one place. Reasons: docs/recipe/verdict.md
#pragma once

#include "brew/setup.h"

namespace barm::recipe::lines {

// Oxygen. 6 mg/L is the trade's margin for sensor error and dead corners, not a measured biological threshold; below 2
// mg/L fermentation begins and bacteria that live without oxygen are favoured (M01 saw pathogens grow where sugar was
// left).
inline constexpr double stays_above_6_least = 0.90;  // judged: 9 brews of 10
inline constexpr double below_2_most = 0.10;         // judged: 1 brew of 10
inline constexpr double length_usual_h = 24.0;       // practice: never past 24 h

// Asks that are refused.
inline constexpr double volume_least_l = 1.0, volume_most_l = 5000.0;             // judged
inline constexpr double water_coldest_c = 2.0, water_warmest_c = 38.0;            // judged: ice; what is wanted dies
inline constexpr double length_least_h = 1.0, length_most_h = 48.0;               // the model's reach
inline constexpr double depth_most_m = 3.0;                                       // what the pump model knows
inline constexpr double diameter_least_m = 0.05, diameter_most_m = 10.0;          // judged
inline constexpr double flow_least_l_per_h = 1.0, flow_most_l_per_h = 500'000.0;  // judged
inline constexpr double pump_pressure_least_kpa = 0.5, pump_pressure_most_kpa = 1000.0;  // judged
inline constexpr double altitude_least_m = -450.0, altitude_most_m = 5000.0;             // where people garden
using brew::room_coldest_c, brew::room_warmest_c;
inline constexpr double disinfectant_most_mg_per_l = 10.0;              // judged: over twice what a supplier may leave
inline constexpr double kla_least_per_h = 0.1, kla_most_per_h = 500.0;  // judged
inline constexpr double food_most_g_per_l = 50.0;                       // judged: ten times a rich brew
inline constexpr int members_least_count = 16, members_most_count = 65'536;  // brew/ensemble.h

// Asks that are merely unwise.
inline constexpr double water_cool_c = 12.0, water_warm_c = 26.0;  // judged about the trade's 65 to 75 degF (practice)
inline constexpr double sugar_most_share = 0.002;                  // M01: regrowth between 0.2 and 1 % molasses
inline constexpr double food_cod_most_g_per_l = 5.0;               // judged: a rich usual brew carries about 3.6
inline constexpr double water_per_compost_least = 10.0;            // M05: working range 1:10 to 1:100
inline constexpr double water_per_compost_most = 100.0;
inline constexpr double conductivity_most_ms_per_cm = 2.0;  // memory: above this, dilute for leaves and seedlings
inline constexpr double nitrogen_covers_least_share = 0.5;  // judged: half of the ready food can become cells
inline constexpr double depth_shallow_m = 0.10;             // judged: bubbles are gone before they give much

// Changes that are offered.
inline constexpr double air_most_vvm = 3.0;  // judged: more throws the water out

// What was measured of a lot of compost.
inline constexpr double compost_wettest_share = 0.95;           // judged: beyond it is a slurry
inline constexpr double compost_uptake_most_mg_per_g_h = 60.0;  // M09: raw waste draws 56
inline constexpr double compost_bacteria_most_per_g = 1e12;     // judged: hardly more fit in
inline constexpr double compost_bacteria_error_most = 3.0;      // judged: of the logarithm, a factor of 20

}  // namespace barm::recipe::lines
