#include "water/pressure.h"

#include <cmath>

#include "quantity/expects.h"

namespace barm::water {

double pressure_at_altitude_kpa(double altitude_m) {
  expects(altitude_m >= lowest_altitude_m && altitude_m <= highest_altitude_m, "an altitude the formula is made for");
  // S04: p0, T0, lapse rate, g0 and the gas constant of dry air, all fixed by the standard.
  constexpr double sea_level_kpa = 101.325;
  constexpr double sea_level_k = 288.15;
  constexpr double lapse_k_per_m = 0.0065;
  constexpr double gravity_m_per_s2 = 9.80665;
  constexpr double gas_constant_j_per_kg_k = 287.05287;
  return sea_level_kpa * std::pow(1.0 - lapse_k_per_m * altitude_m / sea_level_k,
                                  gravity_m_per_s2 / (gas_constant_j_per_kg_k * lapse_k_per_m));
}

}  // namespace barm::water
