#include "air/transfer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "air/bounds.h"
#include "air/vessel.h"

namespace barm::air {
namespace {

constexpr double seconds_per_h = 3600.0;
constexpr double standard_pressure_kpa = 101.325;  // S14
constexpr double air_kg_per_m3 = 1.204;            // S19, dry, 20 degC, 1 atm
constexpr double oxygen_share_of_air = 0.2314;     // S19, by mass
constexpr double oxygen_kg_per_m3_of_air = air_kg_per_m3 * oxygen_share_of_air;
constexpr double saturation20_mg_per_l = 9.092;  // S01, fresh water, 20 degC, 1 atm

// Route 1, air stone in a small vessel: fitted to 23 clean-water runs at 22 degC, 0.75 L, 0.19 to 1.84 vvm (M16; the
// test fits them again). The law leaves 0.27 of scatter in ln KLa.
constexpr double jar_kla22_per_h = 27.0;
constexpr double jar_exponent = 0.53;
constexpr double jar_temperature_c = 22.0;
constexpr double jar_least_vvm = 0.19;
constexpr double jar_most_vvm = 1.84;

// Route 2, bubble columns, coalescing water, KLa in 1/s from gas speed in m/s: Deckwer as in Shah 1982 (M14, memory)
// and Heijnen & van 't Riet 1984 (M14, memory). Stated for 0.5 to 8 cm/s and to 30 cm/s.
constexpr double deckwer_per_s = 0.467;
constexpr double deckwer_exponent = 0.82;
constexpr double heijnen_per_s = 0.32;
constexpr double heijnen_exponent = 0.7;
constexpr double column_least_m_per_s = 0.005;
constexpr double column_most_m_per_s = 0.08;

// Route 3, share of the oxygen blown that dissolves for each metre of water. S17: coarse bubbles 1.5 to 3 %/m; fine
// ones 3 to 5 when they rise in one place, 5.5 to 7.5 from a floor full of them. An air stone is fine bubbles in one
// place.
constexpr double efficiency_per_m(Diffuser diffuser) {
  switch (diffuser) {
    case Diffuser::stone:
      return 0.04;
    case Diffuser::fine:
      return 0.06;
    case Diffuser::open_tube:
      return 0.025;
  }
  expects(false, "a diffuser is one of three");
  return unset;
}

// What the diffuser does to routes 1 and 2, which were measured with stones and spargers between the two (judged).
constexpr double diffuser_factor(Diffuser diffuser) {
  switch (diffuser) {
    case Diffuser::stone:
      return 1.0;
    case Diffuser::fine:
      return 1.2;
    case Diffuser::open_tube:
      return 0.5;
  }
  expects(false, "a diffuser is one of three");
  return unset;
}

constexpr double spread_ln = 0.35;           // judged, from the scatter of the three routes about each other
constexpr double spread_stretched_ln = 0.5;  // judged

// 0 up to `from`, 1 beyond `to`, straight in the logarithm between: a vessel a litre larger is never a jump.
double share_past(double size, double from, double to) {
  return std::clamp(std::log(size / from) / std::log(to / from), 0.0, 1.0);
}

// How much each route counts in a vessel of this size (judged; the 5 L are from the jar, where columns came out at a
// third of what was measured).
struct Weights {
  double jar;
  double columns;
  double efficiency;
};
constexpr double jar_gone_l = 200.0;
Weights weights_of(const Vessel& vessel) {
  return {
      .jar = 1.0 - share_past(vessel.volume_l, 50.0, jar_gone_l),
      .columns = share_past(vessel.volume_l, 5.0, 15.0),
      // Under a metre the surface passes oxygen too, and what was measured per metre in deep tanks comes out too low.
      .efficiency = share_past(vessel.depth_m(), 0.5, 1.0) * share_past(vessel.volume_l, 5.0, 15.0)};
}

double blend_per_h(const KlaEstimate& of, const Weights& weights, double factor) {
  double sum_ln =
      weights.columns * (std::log(factor * of.column_deckwer_per_h) + std::log(factor * of.column_heijnen_per_h));
  double sum_weight = 2.0 * weights.columns;
  if (weights.jar > 0.0) sum_ln += weights.jar * std::log(factor * of.small_vessel_per_h);
  sum_weight += weights.jar;
  sum_ln += weights.efficiency * std::log(of.efficiency_per_h);
  sum_weight += weights.efficiency;
  return std::exp(sum_ln / sum_weight);
}

// Says where the air is thinner or harder than what the counted routes were measured with.
void doubt_bubbling(const KlaEstimate& of, double vvm, const Weights& weights, Findings& findings) {
  const auto doubt = [&](const char* code, Quantity given, double least, double most) {
    findings.doubt({.code = code,
                    .field = "rated_flow",
                    .facts = {{"given", given},
                              {"least", Quantity{least, given.dimension}},
                              {"most", Quantity{most, given.dimension}}}});
  };
  const Quantity speed{of.gas_speed_m_per_s, Dimension::speed};
  if (weights.columns > 0.0 && speed.value < column_least_m_per_s) {
    doubt("air.transfer.thin_bubbling", speed, column_least_m_per_s, column_most_m_per_s);
  }
  if (weights.columns > 0.0 && speed.value > column_most_m_per_s) {
    doubt("air.transfer.hard_bubbling", speed, column_least_m_per_s, column_most_m_per_s);
  }
  if (weights.jar > 0.0 && (vvm < jar_least_vvm || vvm > jar_most_vvm)) {
    doubt("air.transfer.outside_jar_range", {vvm, Dimension::number}, jar_least_vvm, jar_most_vvm);
  }
}

constexpr Bounds delivered_bounds{.missing = "air.delivered.missing",
                                  .out_of_range = "air.delivered.out_of_range",
                                  .field = "flow",
                                  .dimension = Dimension::flow,
                                  .least = 1.0,
                                  .most = 1e6};

}  // namespace

Answer<KlaEstimate> estimate_kla(const Delivered& air, const Vessel& vessel, Diffuser diffuser) {
  Findings findings;
  inside(delivered_bounds, air.flow_l_per_h, findings);
  will_do(vessel, findings);
  if (findings.refused()) return std::move(findings).refusal<KlaEstimate>();

  const double air_m3_per_h = air.flow_l_per_h / 1000.0;
  const double cross_section_m2 = std::numbers::pi / 4.0 * vessel.diameter_m * vessel.diameter_m;
  const double vvm = air.flow_l_per_h / 60.0 / vessel.volume_l;
  const Weights weights = weights_of(vessel);

  KlaEstimate out;
  out.gas_speed_m_per_s = air_m3_per_h / seconds_per_h / cross_section_m2;
  if (weights.jar > 0.0) {
    out.small_vessel_per_h =
        jar_kla22_per_h * std::pow(vvm, jar_exponent) / kla_at_temperature_per_h(1.0, jar_temperature_c);
  }
  out.column_deckwer_per_h = seconds_per_h * deckwer_per_s * std::pow(out.gas_speed_m_per_s, deckwer_exponent);
  out.column_heijnen_per_h = seconds_per_h * heijnen_per_s * std::pow(out.gas_speed_m_per_s, heijnen_exponent);
  const double dissolved_kg_per_h =
      efficiency_per_m(diffuser) * vessel.depth_m() * air_m3_per_h * oxygen_kg_per_m3_of_air;
  out.efficiency_per_h =
      dissolved_kg_per_h / standard_transfer_kg_per_h(1.0, saturation20_mg_per_l, vessel.volume_l / 1000.0);

  out.kla20_per_h = blend_per_h(out, weights, diffuser_factor(diffuser));
  doubt_bubbling(out, vvm, weights, findings);
  out.spread_ln = findings.doubts().empty() ? spread_ln : spread_stretched_ln;
  return std::move(findings).answer(out);
}

double kla_at_temperature_per_h(double kla20_per_h, double temperature_c, double theta) {
  return kla20_per_h * std::pow(theta, temperature_c - 20.0);  // S14, theta = 1.024
}

double standard_transfer_kg_per_h(double kla20_per_h, double saturation20, double volume_m3) {
  return kla20_per_h * saturation20 / 1000.0 * volume_m3;  // S14; mg/L are g/m3
}

double standard_efficiency_share(double transfer_kg_per_h, double air_m3_per_h) {
  return transfer_kg_per_h / (air_m3_per_h * oxygen_kg_per_m3_of_air);  // S14, S19
}

double field_transfer_kg_per_h(double standard_kg_per_h, const Field& field) {
  const double omega = field.pressure_kpa / standard_pressure_kpa;
  const double saturation_mg_per_l = field.beta * field.tau * omega * field.saturation20_mg_per_l;
  const double kla_share = field.alpha * field.fouling_factor * std::pow(field.theta, field.temperature_c - 20.0);
  // S14: OTR = SOTR alpha F theta^(T-20) (beta tau omega C*20 - C) / C*20
  return standard_kg_per_h * kla_share * (saturation_mg_per_l - field.oxygen_mg_per_l) / field.saturation20_mg_per_l;
}

}  // namespace barm::air
