#include "water/oxygen.h"

#include <cmath>

#include "water/bounds.h"

namespace barm::water {
namespace {

constexpr double kpa_per_atm = 101.325;  // exact by definition
constexpr double zero_celsius_k = 273.15;

// Where the equation was measured (S01); outside it the answer carries a doubt.
constexpr double warmest_measured_c = 40.0;
constexpr double thinnest_air_measured_kpa = 50.0;
constexpr double thickest_air_measured_kpa = 110.0;
constexpr double saltiest_measured_g_per_kg = 40.0;

constexpr Bounds temperature_bounds{.field = "temperature",
                                    .dimension = Dimension::temperature,
                                    .least = 0.0,
                                    .most = 60.0,  // judged: hotter water is no brew
                                    .least_allowed = true,
                                    .not_a_number = "water.temperature.not_a_number",
                                    .below = "water.temperature.freezing",
                                    .above = "water.temperature.too_hot"};
constexpr Bounds pressure_bounds{.field = "pressure",
                                 .dimension = Dimension::pressure,
                                 .least = 0.0,
                                 .most = 500.0,  // judged: more is hPa or mmHg read as kPa
                                 .least_allowed = false,
                                 .not_a_number = "water.pressure.not_a_number",
                                 .below = "water.pressure.not_positive",
                                 .above = "water.pressure.too_high"};
constexpr Bounds salinity_bounds{.field = "salinity",
                                 .dimension = Dimension::salinity,
                                 .least = 0.0,
                                 .most = 260.0,  // memory: water full of table salt
                                 .least_allowed = true,
                                 .not_a_number = "water.salinity.not_a_number",
                                 .below = "water.salinity.negative",
                                 .above = "water.salinity.too_high"};

// S01, fresh water under moist air at 1 atm.
double ln_saturation_fresh(double t_k) {
  return -139.34411 + 1.575701e5 / t_k - 6.642308e7 / (t_k * t_k) + 1.243800e10 / (t_k * t_k * t_k) -
         8.621949e11 / (t_k * t_k * t_k * t_k);
}

// S01, what a gram of salt per kilogram takes off the logarithm.
double ln_loss_per_g_per_kg(double t_k) {
  return 0.017674 - 10.754 / t_k + 2140.7 / (t_k * t_k);
}

// S01, vapour pressure of water [atm].
double vapour_pressure_atm(double t_k) {
  return std::exp(11.8571 - 3840.70 / t_k - 216961.0 / (t_k * t_k));
}

// S01, share of the 1 atm saturation left at `pressure_atm`; the bracket with q is oxygen's departure from an ideal
// gas.
double pressure_share(double temperature_c, double pressure_atm) {
  const double u = vapour_pressure_atm(temperature_c + zero_celsius_k);
  const double q = 9.75e-4 - 1.426e-5 * temperature_c + 6.436e-8 * temperature_c * temperature_c;
  return pressure_atm * (1.0 - u / pressure_atm) * (1.0 - q * pressure_atm) / ((1.0 - u) * (1.0 - q));
}

void refuse_boiling(const Surface& at, Findings& findings) {
  const double boils_below_kpa = kpa_per_atm * vapour_pressure_atm(at.temperature_c + zero_celsius_k);
  if (at.pressure_kpa > boils_below_kpa) return;
  Remark remark = remark_on(pressure_bounds, "water.pressure.boils", at.pressure_kpa);
  remark.facts["least"] = Quantity{boils_below_kpa, Dimension::pressure};
  remark.facts["temperature"] = Quantity{at.temperature_c, Dimension::temperature};
  findings.refuse(std::move(remark));
}

void doubt(const Bounds& of, const char* code, double given, double least, double most, Findings& findings) {
  Remark remark = remark_on(of, code, given);
  remark.facts["least"] = Quantity{least, of.dimension};
  remark.facts["most"] = Quantity{most, of.dimension};
  findings.doubt(std::move(remark));
}

void doubt_outside_measured_range(const Surface& at, Findings& findings) {
  if (at.temperature_c > warmest_measured_c) {
    doubt(temperature_bounds, "water.temperature.above_range", at.temperature_c, 0.0, warmest_measured_c, findings);
  }
  if (at.pressure_kpa < thinnest_air_measured_kpa) {
    doubt(pressure_bounds, "water.pressure.below_range", at.pressure_kpa, thinnest_air_measured_kpa,
          thickest_air_measured_kpa, findings);
  }
  if (at.pressure_kpa > thickest_air_measured_kpa) {
    doubt(pressure_bounds, "water.pressure.above_range", at.pressure_kpa, thinnest_air_measured_kpa,
          thickest_air_measured_kpa, findings);
  }
  if (at.salinity_g_per_kg > saltiest_measured_g_per_kg) {
    doubt(salinity_bounds, "water.salinity.above_range", at.salinity_g_per_kg, 0.0, saltiest_measured_g_per_kg,
          findings);
  }
}

}  // namespace

Answer<double> saturation_mg_per_l(const Surface& at) {
  Findings findings;
  const bool warm_enough = check(temperature_bounds, at.temperature_c, findings);
  const bool under_air = check(pressure_bounds, at.pressure_kpa, findings);
  check(salinity_bounds, at.salinity_g_per_kg, findings);
  if (warm_enough && under_air) refuse_boiling(at, findings);
  if (findings.refused()) return std::move(findings).refusal<double>();
  doubt_outside_measured_range(at, findings);

  const double t_k = at.temperature_c + zero_celsius_k;
  const double at_1_atm = std::exp(ln_saturation_fresh(t_k) - at.salinity_g_per_kg * ln_loss_per_g_per_kg(t_k));
  return std::move(findings).answer(at_1_atm * pressure_share(at.temperature_c, at.pressure_kpa / kpa_per_atm));
}

double mid_depth_saturation_mg_per_l(double surface_mg_per_l, double pressure_ratio_at_diffuser,
                                     double transfer_efficiency_share) {
  return surface_mg_per_l * (pressure_ratio_at_diffuser + 1.0 - transfer_efficiency_share) / 2.0;  // S15
}

double salinity_g_per_kg(double conductivity_us_per_cm) {
  return 5.572e-4 * conductivity_us_per_cm + 2.02e-9 * conductivity_us_per_cm * conductivity_us_per_cm;  // S02
}

}  // namespace barm::water
