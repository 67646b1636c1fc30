// Air pressure at a site from its altitude. Source: S04 (ISO 2533, constant lapse rate).
#pragma once

namespace barm::water {

/// Pressure of the standard atmosphere [kPa] at a geopotential altitude [m]. Range: -500 to 11,000 m. Left out: weather
/// (about +-3 kPa).
double pressure_at_altitude_kpa(double altitude_m);

}  // namespace barm::water
