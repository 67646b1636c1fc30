// Air pressure at a site from its altitude. Source: S04 (ISO 2533, constant lapse rate). Model: docs/water/pressure.md
#pragma once

namespace barm::water {

/// Altitudes the formula is made for [m]; who takes an altitude from a person refuses what lies outside.
inline constexpr double lowest_altitude_m = -500.0;
inline constexpr double highest_altitude_m = 11'000.0;

/// Pressure of the standard atmosphere [kPa] at a geopotential altitude [m] between the two bounds above (a promise of
/// the caller). Left out: weather (about +-3 kPa).
double pressure_at_altitude_kpa(double altitude_m);

}  // namespace barm::water
