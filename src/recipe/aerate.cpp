#include <cmath>

#include "recipe/planning.h"

namespace barm::recipe {
namespace {

// Spread of a measured KLa whose error nobody gave, as standard deviation of its logarithm. judged: a single pair of
// readings.
constexpr double measured_spread_ln = 0.35;

/// Fields of air/pump.h and air/transfer.h under the names they have in a plan.
std::string plan_field(const std::string& field) {
  if (field.find('.') != std::string::npos) return field;
  if (field == "volume") return "water.volume";
  if (field == "diameter" || field == "depth") return "vessel.diameter";
  if (field == "water_temperature" || field == "temperature") return "water.temperature";
  if (field == "air_pressure") return "garden.altitude";
  return field.empty() ? "air" : "air." + field;
}

template <class T>
std::optional<T> take_renamed(Findings& findings, Answer<T> part) {
  for (Remark why : part.refusals()) {
    why.field = plan_field(why.field);
    findings.refuse(std::move(why));
  }
  for (Remark doubt : part.doubts()) {
    doubt.field = plan_field(doubt.field);
    findings.doubt(std::move(doubt));
  }
  if (!part.ok()) return std::nullopt;
  return std::move(part.value());
}

Answer<Aeration> estimate(const Brewing& brewing, double factor) {
  Findings findings;
  air::Supply supply = brewing.ask.air;
  supply.rated_flow_l_per_h *= factor;
  const auto delivered = take_renamed(
      findings, air::deliver(supply, brewing.vessel(), brewing.ask.water_temperature_c, brewing.pressure_kpa));
  if (!delivered) return std::move(findings).refusal<Aeration>();
  const auto kla = take_renamed(findings, air::estimate_kla(*delivered, brewing.vessel(), supply.diffuser));
  if (!kla) return std::move(findings).refusal<Aeration>();
  return std::move(findings).answer(Aeration{*delivered, *kla});
}

}  // namespace

Answer<Aeration> aerate(const Brewing& brewing, double factor) {
  Answer<Aeration> result = estimate(brewing, factor);
  const double measured_per_h = brewing.ask.measured_kla20_per_h;
  if (!result.ok() || std::isnan(measured_per_h)) return result;
  double growth = 1.0;
  if (factor != 1.0) {
    Answer<Aeration> now = estimate(brewing, 1.0);
    if (!now.ok()) return now;
    growth = result->kla.kla20_per_h / now->kla.kla20_per_h;
  }
  const double error_per_h = brewing.ask.measured_kla20_error_per_h;
  air::KlaEstimate& kla = result.value().kla;
  kla.kla20_per_h = measured_per_h * growth;
  kla.spread_ln = std::isnan(error_per_h) ? measured_spread_ln : error_per_h / measured_per_h;
  return result;
}

Answer<Aeration> aerate(const Brewing& brewing) {
  return aerate(brewing, 1.0);
}

brew::Setup set_up(const Brewing& brewing, const Aeration& aeration) {
  const PlanAsk& ask = brewing.ask;
  brew::Setup setup;
  setup.aim = ask.aim;
  setup.volume_l = ask.volume_l;
  setup.diameter_m = ask.vessel_diameter_m;
  setup.water_temperature_c = ask.water_temperature_c;
  setup.room_temperature_c = ask.usual_room_c();
  setup.room_steps = room_steps(ask.room_day, ask.start_at);
  setup.room_humidity_share = ask.room_humidity_share;
  setup.pressure_kpa = brewing.pressure_kpa;
  setup.air_flow_l_per_h = aeration.air.flow_l_per_h;
  setup.kla20_per_h = aeration.kla.kla20_per_h;
  setup.kla20_spread_ln = aeration.kla.spread_ln;
  for (const CompostPortion& portion : brewing.composts) {
    setup.composts.push_back({.kind = portion.lot(), .mass_g = portion.mass_g, .in_bag = portion.in_bag});
  }
  for (const FoodPortion& portion : brewing.foods)
    setup.foods.push_back({.food = *portion.food, .mass_g = portion.mass_g});
  setup.length_h = ask.length_h;
  return setup;
}

}  // namespace barm::recipe
