// Oxygen that open water can hold. Model and sources: docs/water/oxygen.md
#pragma once

#include "quantity/answer.h"

namespace barm::water {

struct Surface {                  // what the water meets at the top of the tank
  double temperature_c = unset;   // of the water, not the air
  double pressure_kpa = 101.325;  // at the site, not reduced to sea level
  double salinity_g_per_kg = 0.0;
};

/// Oxygen in air-saturated water [mg/L]. Source: S01. Range: 0 to 40 degC, 50 to 110 kPa, 0 to 40 g/kg. Left out:
/// dissolved sugars and humic matter, supersaturation. Warmer, thinner or saltier than the range: answers with a doubt.
/// Refuses: below freezing, above 60 degC, no pressure, more than 500 kPa, a pressure at which the water would boil,
/// salt below none or above 260 g/kg, not a number. Fields of the remarks: "temperature", "pressure", "salinity".
Answer<double> saturation_mg_per_l(const Surface& at);

/// The same at mid depth of a bubbled tank, where most oxygen passes [mg/L]: surface saturation times the mean of the
/// pressure ratio at the diffuser and the share of oxygen left in the bubbles. Source: S15.
double mid_depth_saturation_mg_per_l(double surface_mg_per_l, double pressure_ratio_at_diffuser,
                                     double transfer_efficiency_share);

/// Salinity from electrical conductivity at 25 degC [g/kg]. Source: S02.
double salinity_g_per_kg(double conductivity_us_per_cm);

}  // namespace barm::water
