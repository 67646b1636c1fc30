// Asks for tests: a usual bucket, and what is known, as shipped.
#pragma once

#include "data/embedded.h"
#include "recipe/planning.h"

namespace barm::recipe::test {

inline const Knowledge& shipped() {
  static const Knowledge knowledge{.foods = food::Library::read(data::file("foods.toml")),
                                   .composts = compost::Kinds::read(data::file("composts.toml")),
                                   .priors = brew::Priors::read(data::file("model.toml")),
                                   .instruments = brew::Instruments::read(data::file("instruments.toml"))};
  return knowledge;
}

inline constexpr double us_gal_l = 3.785411784;     // exact
inline constexpr double tbsp_l = 0.01478676478125;  // exact, US
inline constexpr double tsp_l = tbsp_l / 3.0;
inline constexpr double lb_g = 453.59237;  // exact

/// 5 US gal, 1.75 lb compost in a bag, a 570 US gal/h pump, 3.5 tbsp molasses, 4 tsp dry kelp, 4 tsp fish hydrolysate,
/// 21 degC. Source: common practice, no source.
inline PlanAsk usual() {
  PlanAsk ask;
  ask.name = "Quince Row";
  ask.volume_l = 5.0 * us_gal_l;
  ask.water_temperature_c = 21.0;
  ask.room_temperature_c = 21.0;
  ask.disinfectant = {.free_chlorine_mg_per_l = 0.5, .chloramine_mg_per_l = 0.0};
  ask.disinfectant_is_known = true;
  ask.air.rated_flow_l_per_h = 570.0 * us_gal_l;
  ask.composts = {{.kind = "mixed", .mass_g = 1.75 * lb_g}};
  ask.foods = {{"blackstrap molasses", {{3.5 * tbsp_l, Dimension::volume}}},
               {"dry kelp", {{4.0 * tsp_l, Dimension::volume}}},
               {"fish hydrolysate", {{4.0 * tsp_l, Dimension::volume}}}};
  ask.members_count = 64;
  return ask;
}

/// A forecast without a model, for tests of logic: oxygen sinks by demand over transfer, each member with its own
/// transfer.
inline Answer<brew::Forecast> pretended(const brew::Setup& setup, const brew::Priors&,
                                        const brew::EnsembleOptions& options) {
  double ready = 0.0;
  for (const auto& dose : setup.foods)
    ready += dose.mass_g / setup.volume_l * dose.food.cod_g_per_g * dose.food.readily_share;
  const double uptake =
      30.0 * ready * (1.0 + 0.1 * (setup.water_temperature_c - 20.0)) * std::min(1.0, setup.length_h / 20.0);
  brew::Forecast made;
  made.members_count = options.members_count;
  int above = 0, below = 0;
  for (int i = 0; i < options.members_count; ++i) {
    const double luck = 0.6 + 0.8 * (i + 0.5) / options.members_count;
    const double lowest = 9.0 - uptake / (0.7 * setup.kla20_per_h * luck);
    above += lowest >= 6.0;
    below += lowest < 2.0;
  }
  made.probability_oxygen_stays_above_6 = static_cast<double>(above) / options.members_count;
  made.probability_oxygen_below_2 = static_cast<double>(below) / options.members_count;
  made.time_h = {0.0, setup.length_h};
  made.saturation_mg_per_l = {9.0, 9.0};
  made.temperature_c.p50 = {setup.water_temperature_c, setup.water_temperature_c};
  made.uptake_mg_per_l_per_h.p50 = {0.0, uptake};
  made.oxygen_minimum_at_h = {16.0, 17.0, 18.0, 19.0, 20.0};
  made.low_hour_h = 18.0;
  made.minutes_to_2_after_air_off = {8.7, 10.0, 12.0, 15.0, 20.0};
  made.ready = {.exists = true, .from_h = 12.0, .to_h = 22.0, .why_from = "", .why_to = ""};
  return made;
}

inline bool has(const Remarks& remarks, std::string_view code) {
  for (const Remark& each : remarks) {
    if (each.code == code) return true;
  }
  return false;
}

}  // namespace barm::recipe::test
