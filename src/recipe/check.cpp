#include <cmath>
#include <numbers>

#include "recipe/lines.h"
#include "recipe/planning.h"
#include "water/pressure.h"

namespace barm::recipe {
namespace {

struct Bounds {
  double least, most;
};

class Checker {
 public:
  explicit Checker(Findings& findings) : findings_(findings) {}

  /// True when the value is a number inside its bounds.
  bool within(const std::string& field, Quantity given, Bounds bounds, const char* code = "recipe.plan.out_of_range") {
    if (given.value >= bounds.least && given.value <= bounds.most) return true;
    findings_.refuse({.code = code,
                      .field = field,
                      .facts = {{"given", given},
                                {"least", Quantity{bounds.least, given.dimension}},
                                {"most", Quantity{bounds.most, given.dimension}}}});
    return false;
  }
  bool positive(const std::string& field, Quantity given) {
    if (given.value > 0.0 && std::isfinite(given.value)) return true;
    findings_.refuse({.code = "recipe.plan.not_positive", .field = field, .facts = {{"given", given}}});
    return false;
  }

 private:
  Findings& findings_;
};

/// Refusals of a part, told under the plan's field.
template <class T>
std::optional<T> take_as(Findings& findings, Answer<T> part, const std::string& field) {
  if (part.ok()) return std::move(part.value());
  for (Remark why : part.refusals()) {
    why.field = field;
    findings.refuse(std::move(why));
  }
  return std::nullopt;
}

void check_site(const PlanAsk& ask, Checker& is) {
  is.within("garden.altitude", {ask.altitude_m, Dimension::length}, {lines::altitude_least_m, lines::altitude_most_m});
  is.within("garden.latitude", {ask.place.latitude_deg, Dimension::angle}, {-90.0, 90.0});
  is.within("garden.longitude", {ask.place.longitude_deg, Dimension::angle}, {-180.0, 180.0});
  is.within("room.temperature", {ask.room_temperature_c, Dimension::temperature},
            {lines::room_coldest_c, lines::room_warmest_c});
  for (const double hour_c : ask.room_day.by_hour_c)
    is.within("room.by_hour", {hour_c, Dimension::temperature}, {lines::room_coldest_c, lines::room_warmest_c});
  is.within("room.humidity", {ask.room_humidity_share, Dimension::share}, {0.0, 1.0});
}

void check_water(const PlanAsk& ask, Checker& is, Findings& findings) {
  const bool volume_is_good =
      is.within("water.volume", {ask.volume_l, Dimension::volume}, {lines::volume_least_l, lines::volume_most_l});
  is.within("water.temperature", {ask.water_temperature_c, Dimension::temperature},
            {lines::water_coldest_c, lines::water_warmest_c}, "recipe.plan.water_temperature_out_of_range");
  const Bounds strength{0.0, lines::disinfectant_most_mg_per_l};
  is.within("water.free_chlorine", {ask.disinfectant.free_chlorine_mg_per_l, Dimension::concentration}, strength);
  is.within("water.chloramine", {ask.disinfectant.chloramine_mg_per_l, Dimension::concentration}, strength);
  const bool diameter_is_good = is.within("vessel.diameter", {ask.vessel_diameter_m, Dimension::length},
                                          {lines::diameter_least_m, lines::diameter_most_m});
  if (!volume_is_good || !diameter_is_good) return;
  const double depth_m = air::Vessel{ask.volume_l, ask.vessel_diameter_m}.depth_m();
  if (depth_m <= lines::depth_most_m) return;
  const double wide_enough_m = std::sqrt(4.0 * ask.volume_l / 1000.0 / std::numbers::pi / lines::depth_most_m);
  findings.refuse({.code = "recipe.plan.too_deep",
                   .field = "vessel.diameter",
                   .facts = {{"given", Quantity{ask.vessel_diameter_m, Dimension::length}},
                             {"depth", Quantity{depth_m, Dimension::length}},
                             {"most", Quantity{lines::depth_most_m, Dimension::length}},
                             {"least", Quantity{wide_enough_m, Dimension::length}}}});
}

void check_air(const PlanAsk& ask, Checker& is) {
  is.within("air.rated_flow", {ask.air.rated_flow_l_per_h, Dimension::flow},
            {lines::flow_least_l_per_h, lines::flow_most_l_per_h}, "recipe.plan.air_flow_out_of_range");
  if (!std::isnan(ask.air.maximum_pressure_kpa)) {
    is.within("air.maximum_pressure", {ask.air.maximum_pressure_kpa, Dimension::pressure},
              {lines::pump_pressure_least_kpa, lines::pump_pressure_most_kpa});
  }
  is.within("air.tube_length", {ask.air.tube_length_m, Dimension::length}, {0.0, 100.0});
  is.within("air.tube_bore", {ask.air.tube_bore_mm / 1000.0, Dimension::length}, {0.001, 0.2});
  is.within("air.ageing", {ask.air.ageing_share, Dimension::share}, {0.1, 1.0});
  if (std::isnan(ask.measured_kla20_per_h)) return;
  const Bounds transfer{lines::kla_least_per_h, lines::kla_most_per_h};
  is.within("air.measured_kla", {ask.measured_kla20_per_h, Dimension::rate}, transfer);
  if (std::isnan(ask.measured_kla20_error_per_h)) return;
  is.within("air.measured_kla_error", {ask.measured_kla20_error_per_h, Dimension::rate},
            {0.0, ask.measured_kla20_per_h});
}

void check_brew(const PlanAsk& ask, Checker& is) {
  is.within("brew.length", {ask.length_h, Dimension::duration}, {lines::length_least_h, lines::length_most_h},
            "recipe.plan.length_out_of_range");
  is.within("brew.members", {static_cast<double>(ask.members_count), Dimension::number},
            {lines::members_least_count, lines::members_most_count});
  constexpr double year_9999_ms = 253'370'764'800'000.0;  // no calendar is kept beyond; the past is as far back
  is.within("brew.start", {static_cast<double>(ask.start_at), Dimension::number}, {-year_9999_ms / 4.0, year_9999_ms});
}

/// What no compost is; what was not measured is unset.
void check_measured(const std::string& row, const compost::LotMeasured& lot, Checker& is) {
  const auto within = [&](const char* field, double value, Dimension dimension, Bounds bounds) {
    if (!std::isnan(value)) is.within(row + field, {value, dimension}, bounds);
  };
  within(".moisture", lot.moisture_share, Dimension::share, {0.0, lines::compost_wettest_share});
  within(".uptake", lot.uptake_mg_per_g_vs_h, Dimension::number, {0.0, lines::compost_uptake_most_mg_per_g_h});
  within(".bacteria", lot.bacteria_per_g, Dimension::number, {1.0, lines::compost_bacteria_most_per_g});
  within(".bacteria_error", lot.bacteria_ln_error, Dimension::number, {0.0, lines::compost_bacteria_error_most});
}

void look_up_composts(const PlanAsk& ask, const compost::Kinds& kinds, Checker& is, Findings& findings, Brewing& into) {
  double total_g = 0.0;
  for (std::size_t i = 0; i < ask.composts.size(); ++i) {
    const std::string row = "compost[" + std::to_string(i + 1) + "]";
    const PlannedCompost& planned = ask.composts[i];
    const auto kind = take_as(findings, kinds.find(planned.kind), row + ".kind");
    const bool mass_is_good = is.positive(row + ".mass", {planned.mass_g, Dimension::mass});
    if (mass_is_good) total_g += planned.mass_g;
    check_measured(row, planned.measured, is);
    if (kind && mass_is_good) into.composts.push_back({*kind, planned.mass_g, planned.in_bag, planned.measured});
  }
  if (ask.composts.empty()) findings.refuse({.code = "recipe.plan.no_compost", .field = "compost", .facts = {}});
  const double water_g = ask.volume_l * 1000.0;  // 1 kg/L
  if (total_g >= water_g) {
    findings.refuse({.code = "recipe.plan.compost_heavier_than_water",
                     .field = "compost",
                     .facts = {{"given", Quantity{total_g, Dimension::mass}},
                               {"water", Quantity{water_g, Dimension::mass}},
                               {"most", Quantity{water_g / lines::water_per_compost_least, Dimension::mass}}}});
  }
}

void look_up_foods(const PlanAsk& ask, const food::Library& library, Findings& findings, Brewing& into) {
  double total_g = 0.0;
  for (std::size_t i = 0; i < ask.foods.size(); ++i) {
    const std::string row = "food[" + std::to_string(i + 1) + "]";
    const auto food = take_as(findings, library.find(ask.foods[i].name), row + ".name");
    if (!food) continue;
    const auto mass_g = take_as(findings, food::mass_g(**food, ask.foods[i].amount), row + ".amount");
    if (!mass_g) continue;
    total_g += *mass_g;
    into.foods.push_back({*food, ask.foods[i].amount.measured, *mass_g, row + ".amount"});
  }
  const double most_g = lines::food_most_g_per_l * ask.volume_l;
  if (total_g > most_g) {
    findings.refuse(
        {.code = "recipe.plan.too_much_food",
         .field = "food",
         .facts = {{"given", Quantity{total_g, Dimension::mass}}, {"most", Quantity{most_g, Dimension::mass}}}});
  }
}

}  // namespace

std::optional<Brewing> check(const PlanAsk& ask, const Knowledge& knowledge, Findings& findings) {
  Checker is(findings);
  Brewing brewing{.ask = ask, .composts = {}, .foods = {}};
  check_brew(ask, is);
  check_site(ask, is);
  check_water(ask, is, findings);
  check_air(ask, is);
  look_up_composts(ask, knowledge.composts, is, findings, brewing);
  look_up_foods(ask, knowledge.foods, findings, brewing);
  if (findings.refused()) return std::nullopt;
  brewing.pressure_kpa = water::pressure_at_altitude_kpa(ask.altitude_m);
  return brewing;
}

}  // namespace barm::recipe
