#include "air/pump.h"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <numbers>

#include "air/bounds.h"
#include "air/vessel.h"

namespace barm::air {
namespace {

constexpr double gravity_m_per_s2 = 9.80665;              // defined
constexpr double gas_constant_j_per_mol_k = 8.314462618;  // S19
constexpr double air_kg_per_mol = 0.0289647;              // S19
constexpr double zero_celsius_k = 273.15;                 // defined
constexpr double seconds_per_h = 3600.0;

constexpr double least_flow_l_per_h = 1.0;  // judged: less is a reading error or a blocked line

// Pressure a diffuser keeps for itself [kPa]. Air stones hold 1.5 when new and 6 when slimed over (memory); the middle
// is their geometric mean. Fine diffusers, ceramic or slit rubber, hold more (memory). An open tube holds nothing to
// speak of.
struct Holds {
  double fresh_kpa;
  double middle_kpa;
  double clogging_kpa;
};
constexpr Holds holds(Diffuser diffuser) {
  switch (diffuser) {
    case Diffuser::stone:
      return {1.5, 3.0, 6.0};
    case Diffuser::fine:
      return {3.0, 5.0, 9.0};
    case Diffuser::open_tube:
      return {0.0, 0.0, 0.0};
  }
  expects(false, "a diffuser is one of three");
  return {};
}

// How far a used pump may be from the share it is said to keep: 0.8 to 0.95 about 0.9 (memory).
constexpr double tired_below = 0.1;
constexpr double fresh_above = 0.05;
// An assumed pressure may be this much too high (judged); one read off the pump is believed.
constexpr double assumed_pressure_low_share = 0.8;

constexpr double rating_of_one_line_l_per_h =
    500.0;  // practice: small outlets of a pump or manifold feed about this much

// Density of fresh water [kg/m3]. Source: memory; 998.2 at 20 degC gives the 9.789 kPa/m of S19.
double water_kg_per_m3(double temperature_c) {
  const double from_densest = temperature_c - 3.9863;
  return 1000.0 *
         (1.0 - (temperature_c + 288.9414) * from_densest * from_densest / (508929.2 * (temperature_c + 68.12963)));
}

// Viscosity of air [Pa s], Sutherland's form in the constants of S19 (memory).
double air_viscosity_pa_s(double t_k) {
  return 1.458e-6 * std::pow(t_k, 1.5) / (t_k + 110.4);
}

// Darcy's friction factor in a smooth tube: laminar 64/Re, turbulent 0.3164 Re^-1/4 (Blasius), memory. The larger of
// the two has no jump where the flow turns, and is the cautious one between Re 1187 and 2300.
double friction_factor(double reynolds) {
  return std::max(64.0 / reynolds, 0.3164 / std::pow(reynolds, 0.25));
}

// Everything the air meets on one course from pump to water.
struct Course {
  double maximum_pressure_kpa;
  double rated_l_per_h;  // ageing taken off
  double water_head_kpa;
  double diffuser_kpa;
  double lines_count;
  Line line;

  double loss_kpa(double flow_l_per_h) const {
    Line one = line;
    one.free_air_l_per_h = flow_l_per_h / lines_count;
    one.gauge_pressure_kpa = water_head_kpa + diffuser_kpa;
    return line_loss_kpa(one);
  }
  // Straight from the rating at no pressure to nothing at the maximum (judged: makers' curves sag a little below it).
  double pump_kpa(double flow_l_per_h) const { return maximum_pressure_kpa * (1.0 - flow_l_per_h / rated_l_per_h); }
  double left_over_kpa(double flow_l_per_h) const {
    return pump_kpa(flow_l_per_h) - water_head_kpa - diffuser_kpa - loss_kpa(flow_l_per_h);
  }
  bool reaches_the_water() const { return left_over_kpa(0.0) > 0.0; }

  // What is left over falls as the flow grows, from something to less than nothing, so there is one meeting point.
  double flow_l_per_h() const {
    const auto left = [this](double flow) { return left_over_kpa(flow); };
    std::uintmax_t steps = 200;
    const auto [below, above] = boost::math::tools::toms748_solve(left, 0.0, rated_l_per_h,
                                                                  boost::math::tools::eps_tolerance<double>(45), steps);
    return 0.5 * (below + above);
  }
};

constexpr Bounds rated_flow_bounds{.missing = "air.rated_flow.missing",
                                   .out_of_range = "air.rated_flow.out_of_range",
                                   .field = "rated_flow",
                                   .dimension = Dimension::flow,
                                   .least = least_flow_l_per_h,
                                   .most = 1e6};
constexpr Bounds pressure_bounds{.missing = "air.maximum_pressure.missing",
                                 .out_of_range = "air.maximum_pressure.out_of_range",
                                 .field = "maximum_pressure",
                                 .dimension = Dimension::pressure,
                                 .least = 0.1,
                                 .most = 200.0};
constexpr Bounds length_bounds{.missing = "air.tube_length.missing",
                               .out_of_range = "air.tube_length.out_of_range",
                               .field = "tube_length",
                               .dimension = Dimension::length,
                               .least = 0.0,
                               .most = 100.0};
constexpr Bounds bore_bounds{.missing = "air.tube_bore.missing",
                             .out_of_range = "air.tube_bore.out_of_range",
                             .field = "tube_bore",
                             .dimension = Dimension::length,
                             .least = 0.5e-3,
                             .most = 0.3};
constexpr Bounds lines_bounds{.missing = "air.lines.missing",
                              .out_of_range = "air.lines.out_of_range",
                              .field = "line_count",
                              .dimension = Dimension::number,
                              .least = 0.0,
                              .most = 1000.0};
constexpr Bounds ageing_bounds{.missing = "air.ageing.missing",
                               .out_of_range = "air.ageing.out_of_range",
                               .field = "ageing_share",
                               .dimension = Dimension::share,
                               .least = 0.1,
                               .most = 1.0};
constexpr Bounds temperature_bounds{.missing = "air.temperature.missing",
                                    .out_of_range = "air.temperature.out_of_range",
                                    .field = "temperature",
                                    .dimension = Dimension::temperature,
                                    .least = 0.0,
                                    .most = 60.0};
constexpr Bounds site_bounds{.missing = "air.site_pressure.missing",
                             .out_of_range = "air.site_pressure.out_of_range",
                             .field = "air_pressure",
                             .dimension = Dimension::pressure,
                             .least = 30.0,
                             .most = 120.0};

bool can_be_planned(const Supply& supply, const Vessel& vessel, double water_temperature_c, double air_pressure_kpa,
                    Findings& findings) {
  inside(rated_flow_bounds, supply.rated_flow_l_per_h, findings);
  if (!std::isnan(supply.maximum_pressure_kpa)) inside(pressure_bounds, supply.maximum_pressure_kpa, findings);
  inside(length_bounds, supply.tube_length_m, findings);
  inside(bore_bounds, supply.tube_bore_mm / 1000.0, findings);
  inside(lines_bounds, supply.line_count, findings);
  inside(ageing_bounds, supply.ageing_share, findings);
  inside(temperature_bounds, water_temperature_c, findings);
  inside(site_bounds, air_pressure_kpa, findings);
  will_do(vessel, findings);
  return !findings.refused();
}

Course course_of(const Supply& supply, const Vessel& vessel, double water_temperature_c, double air_pressure_kpa) {
  return {.maximum_pressure_kpa = std::isnan(supply.maximum_pressure_kpa)
                                      ? usual_maximum_pressure_kpa(supply.rated_flow_l_per_h)
                                      : supply.maximum_pressure_kpa,
          .rated_l_per_h = supply.rated_flow_l_per_h * supply.ageing_share,
          .water_head_kpa = water_head_kpa(vessel, water_temperature_c),
          .diffuser_kpa = holds(supply.diffuser).middle_kpa,
          .lines_count = static_cast<double>(lines_count(supply)),
          .line = {.length_m = supply.tube_length_m,
                   .bore_mm = supply.tube_bore_mm,
                   .air_pressure_kpa = air_pressure_kpa,
                   .temperature_c = water_temperature_c}};
}

double tired_flow_l_per_h(Course course, const Supply& supply) {
  course.rated_l_per_h = supply.rated_flow_l_per_h * std::max(supply.ageing_share - tired_below, 0.05);
  course.diffuser_kpa = holds(supply.diffuser).clogging_kpa;
  if (std::isnan(supply.maximum_pressure_kpa)) course.maximum_pressure_kpa *= assumed_pressure_low_share;
  return course.reaches_the_water() ? course.flow_l_per_h() : 0.0;
}

double fresh_flow_l_per_h(Course course, const Supply& supply) {
  course.rated_l_per_h = supply.rated_flow_l_per_h * std::min(supply.ageing_share + fresh_above, 1.0);
  course.diffuser_kpa = holds(supply.diffuser).fresh_kpa;
  return course.flow_l_per_h();
}

}  // namespace

double Vessel::depth_m() const {
  return volume_l / 1000.0 / (std::numbers::pi / 4.0 * diameter_m * diameter_m);
}

int lines_count(const Supply& supply) {
  if (supply.line_count > 0) return supply.line_count;
  return static_cast<int>(std::ceil(supply.rated_flow_l_per_h / rating_of_one_line_l_per_h));
}

double water_head_kpa(const Vessel& vessel, double water_temperature_c) {
  return water_kg_per_m3(water_temperature_c) * gravity_m_per_s2 * vessel.depth_m() / 1000.0;
}

double usual_maximum_pressure_kpa(double rated_flow_l_per_h) {
  const double along = std::clamp(std::log10(rated_flow_l_per_h / 200.0), 0.0, 1.0);
  return 12.0 + along * (25.0 - 12.0);
}

double line_loss_kpa(const Line& line) {
  if (line.free_air_l_per_h <= 0.0 || line.length_m <= 0.0) return 0.0;
  const double t_k = line.temperature_c + zero_celsius_k;
  const double absolute_kpa = line.air_pressure_kpa + line.gauge_pressure_kpa;
  const double density_kg_per_m3 = absolute_kpa * 1000.0 * air_kg_per_mol / (gas_constant_j_per_mol_k * t_k);
  const double bore_m = line.bore_mm / 1000.0;
  const double compressed_m3_per_s =
      line.free_air_l_per_h / 1000.0 / seconds_per_h * line.air_pressure_kpa / absolute_kpa;
  const double speed_m_per_s = compressed_m3_per_s / (std::numbers::pi / 4.0 * bore_m * bore_m);
  const double reynolds = density_kg_per_m3 * speed_m_per_s * bore_m / air_viscosity_pa_s(t_k);
  return friction_factor(reynolds) * line.length_m / bore_m * 0.5 * density_kg_per_m3 * speed_m_per_s * speed_m_per_s /
         1000.0;
}

Answer<Delivered> deliver(const Supply& supply, const Vessel& vessel, double water_temperature_c,
                          double air_pressure_kpa) {
  Findings findings;
  if (!can_be_planned(supply, vessel, water_temperature_c, air_pressure_kpa, findings)) {
    return std::move(findings).refusal<Delivered>();
  }
  const Course course = course_of(supply, vessel, water_temperature_c, air_pressure_kpa);
  if (!course.reaches_the_water()) {
    findings.refuse({.code = "air.pump.cannot_reach_depth",
                     .field = "maximum_pressure",
                     .facts = {{"given", Quantity{course.maximum_pressure_kpa, Dimension::pressure}},
                               {"least", Quantity{course.water_head_kpa + course.diffuser_kpa, Dimension::pressure}},
                               {"depth", Quantity{vessel.depth_m(), Dimension::length}}}});
    return std::move(findings).refusal<Delivered>();
  }
  Delivered out;
  out.flow_l_per_h = course.flow_l_per_h();
  if (out.flow_l_per_h < least_flow_l_per_h) {
    findings.refuse({.code = "air.delivered.too_little",
                     .field = "rated_flow",
                     .facts = {{"given", Quantity{supply.rated_flow_l_per_h, Dimension::flow}},
                               {"delivered", Quantity{out.flow_l_per_h, Dimension::flow}},
                               {"least", Quantity{least_flow_l_per_h, Dimension::flow}}}});
    return std::move(findings).refusal<Delivered>();
  }
  if (std::isnan(supply.maximum_pressure_kpa)) {
    findings.doubt({.code = "air.maximum_pressure.assumed",
                    .field = "maximum_pressure",
                    .facts = {{"assumed", Quantity{course.maximum_pressure_kpa, Dimension::pressure}}}});
  }
  out.flow_low_l_per_h = tired_flow_l_per_h(course, supply);
  out.flow_high_l_per_h = fresh_flow_l_per_h(course, supply);
  out.vvm = out.flow_l_per_h / 60.0 / vessel.volume_l;
  out.water_head_kpa = course.water_head_kpa;
  out.diffuser_loss_kpa = course.diffuser_kpa;
  out.line_loss_kpa = course.loss_kpa(out.flow_l_per_h);
  out.back_pressure_kpa = out.water_head_kpa + out.diffuser_loss_kpa + out.line_loss_kpa;
  return std::move(findings).answer(out);
}

}  // namespace barm::air
