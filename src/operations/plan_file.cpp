#include "operations/plan_file.h"

#include <fmt/format.h>

#include <cmath>

#include "cards/local_time.h"
#include "operations/shipped.h"
#include "quantity/kitchen.h"
#include "recipe/planning.h"

namespace barm::operations {
namespace {

std::string quoted(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '"' || c == '\\') safe += '\\';
    safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return '"' + safe + '"';
}

/// Nine digits: what a reading in another unit leaves behind the last of them is not meant.
std::string measured(double value, const char* unit) {
  return fmt::format("\"{:.9g} {}\"", value, unit);
}

/// Six digits, which the planner rounds back to the same kitchen measure; the measure itself stands behind.
std::string amount_text(const recipe::PlannedFood& planned, const Customs& customs, double spoon_density_g_per_ml) {
  const Quantity& amount = planned.amount.measured;
  const bool is_volume = amount.dimension == Dimension::volume;
  const std::string text =
      is_volume ? fmt::format("\"{:.6g} mL\"", amount.value * 1000.0) : fmt::format("\"{:.6g} g\"", amount.value);
  const auto rounded = round_for_kitchen(amount, customs, spoon_density_g_per_ml);
  return rounded.ok() ? text + "  # " + rounded->text : text;
}

const char* aim_word(recipe::Aim aim) {
  return aim == recipe::Aim::bacterial ? "bacterial" : aim == recipe::Aim::fungal ? "fungal" : "balanced";
}

const char* diffuser_word(air::Diffuser diffuser) {
  return diffuser == air::Diffuser::stone ? "stone" : diffuser == air::Diffuser::fine ? "fine" : "open tube";
}

}  // namespace

std::string plan_toml(const recipe::PlanAsk& ask, const std::string& zone, const PlanBeside& beside) {
  std::string text;
  const auto table = [&](const char* name) { text += fmt::format("{}[{}]\n", text.empty() ? "" : "\n", name); };
  const auto line = [&](const char* key, const std::string& value) { text += fmt::format("{} = {}\n", key, value); };
  const auto price = [&](const recipe::Price& paid) {
    if (!(paid.paid > 0.0)) return;
    line("price", fmt::format("{:.9g}", paid.paid));
    const Quantity& amount = paid.amount.measured;
    const bool is_volume = amount.dimension == Dimension::volume;
    if (std::isfinite(amount.value))
      line("price_for", is_volume ? measured(amount.value * 1000.0, "mL") : measured(amount.value, "g"));
  };
  table("brew");
  line("name", quoted(ask.name));
  line("start", cards::iso_text(ask.start_at, zone));
  line("aim", quoted(aim_word(ask.aim)));
  line("length", measured(ask.length_h, "h"));
  line("members", std::to_string(ask.members_count));
  line("seed", std::to_string(ask.seed));
  table("garden");
  line("zone", quoted(zone));
  line("latitude", measured(ask.place.latitude_deg, "degree"));
  line("longitude", measured(ask.place.longitude_deg, "degree"));
  line("altitude", measured(ask.altitude_m, "m"));
  line("measures", quoted(ask.customs.measures == Measures::us ? "us" : "metric"));
  if (ask.customs.gallon) line("gallon", quoted(*ask.customs.gallon == Gallon::us ? "us" : "imperial"));
  table("water");
  line("volume", measured(ask.volume_l, "L"));
  line("temperature", measured(ask.water_temperature_c, "degC"));
  if (ask.disinfectant_is_known) {
    line("free_chlorine", measured(ask.disinfectant.free_chlorine_mg_per_l, "mg/L"));
    line("chloramine", measured(ask.disinfectant.chloramine_mg_per_l, "mg/L"));
  }
  table("vessel");
  line("diameter", measured(ask.vessel_diameter_m, "m"));
  table("air");
  line("rated_flow", measured(ask.air.rated_flow_l_per_h, "L/h"));
  if (std::isfinite(ask.air.maximum_pressure_kpa))
    line("maximum_pressure", measured(ask.air.maximum_pressure_kpa, "kPa"));
  line("diffuser", quoted(diffuser_word(ask.air.diffuser)));
  line("tube_length", measured(ask.air.tube_length_m, "m"));
  line("tube_bore", measured(ask.air.tube_bore_mm, "mm"));
  line("ageing", measured(ask.air.ageing_share * 100.0, "%"));
  if (std::isfinite(ask.measured_kla20_per_h)) line("measured_kla", measured(ask.measured_kla20_per_h, "1/h"));
  if (std::isfinite(ask.measured_kla20_error_per_h))
    line("measured_kla_error", measured(ask.measured_kla20_error_per_h, "1/h"));
  table("room");
  if (ask.room_day.is_of_two) {
    line("temperature", measured(ask.room_day.warmest_c(), "degC"));
    line("night", measured(ask.room_day.coldest_c(), "degC"));
  } else if (ask.room_day.is_told()) {
    std::string hours;
    for (const double hour_c : ask.room_day.by_hour_c) hours += (hours.empty() ? "" : ", ") + measured(hour_c, "degC");
    line("by_hour", "[" + hours + "]");
  } else {
    line("temperature", measured(ask.room_temperature_c, "degC"));
  }
  line("humidity", measured(ask.room_humidity_share * 100.0, "%"));
  for (const recipe::PlannedCompost& compost : ask.composts) {
    table("[compost]");
    line("kind", quoted(compost.kind));
    line("mass", measured(compost.mass_g, "g"));
    line("bag", compost.in_bag ? "true" : "false");
    price(compost.price);
  }
  for (const recipe::PlannedFood& food : ask.foods) {
    table("[food]");
    line("name", quoted(food.name));
    const auto known = shipped_knowledge().foods.find(food.name);
    line("amount", amount_text(food, ask.customs, known.ok() ? recipe::spoon_density(**known) : 0.0));
    price(food.price);
  }
  if (beside.is_animal_origin) {
    table("rule");
    line("animal_origin", quoted(*beside.is_animal_origin ? "yes" : "no"));
  }
  if (std::isfinite(beside.rate_l_per_ha)) {
    table("spread");
    line("rate", measured(beside.rate_l_per_ha, "L/ha"));
  }
  const recipe::Tariffs& tariffs = beside.tariffs;
  if (tariffs.currency.empty() && tariffs.pump_w == 0.0 && tariffs.labour_per_h == 0.0) return text;
  table("cost");
  if (!tariffs.currency.empty()) line("currency", quoted(tariffs.currency));
  line("electricity_per_kwh", fmt::format("{:.9g}", tariffs.electricity_per_kwh));
  line("pump_power", measured(tariffs.pump_w, "W"));
  line("water_per_m3", fmt::format("{:.9g}", tariffs.water_per_m3));
  line("labour", measured(tariffs.labour_minutes, "min"));
  line("wage_per_h", fmt::format("{:.9g}", tariffs.labour_per_h));
  return text;
}

}  // namespace barm::operations
