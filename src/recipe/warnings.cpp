#include <algorithm>
#include <cmath>

#include "recipe/lines.h"
#include "recipe/planning.h"

namespace barm::recipe {
namespace {

Quantity degrees(double value) {
  return {value, Dimension::temperature};
}
Quantity hours(double value) {
  return {value, Dimension::duration};
}
Quantity plain(double value) {
  return {value, Dimension::number};
}
Quantity share(double value) {
  return {value, Dimension::share};
}
Quantity oxygen_rate(double mg_per_l_per_h) {
  return {mg_per_l_per_h, Dimension::concentration};
}  // in one hour

void about_oxygen(const BrewPlan& plan, Remarks& all) {
  const Odds now = odds(plan.forecast, plan.ask.length_h);
  if (!(now.below_2 <= lines::below_2_most)) {
    all.push_back({"recipe.warning.oxygen_below_2", "air", {{"of_100", of_100(now.below_2)}}});
  }
  if (!(now.stays_above_6 >= lines::stays_above_6_least)) {
    all.push_back({"recipe.warning.oxygen_below_6", "air", {{"of_100", of_100(now.stays_above_6)}}});
  }
  if (plan.uptake_peak_mg_per_l_per_h > plan.supply_at_6_mg_per_l_per_h) {
    all.push_back({"recipe.warning.air_too_small",
                   "air.rated_flow",
                   {{"uptake", oxygen_rate(plan.uptake_peak_mg_per_l_per_h)},
                    {"supply", oxygen_rate(std::max(0.0, plan.supply_at_6_mg_per_l_per_h))}}});
  }
}

void about_food(const Brewing& brewing, const Contents& in, Remarks& all) {
  if (in.sugar_share > lines::sugar_most_share) {
    all.push_back({"recipe.warning.sugar_share",
                   "food",
                   {{"given", share(in.sugar_share)}, {"most", share(lines::sugar_most_share)}}});
  }
  if (in.food_cod_g_per_l > lines::food_cod_most_g_per_l) {
    all.push_back({"recipe.warning.much_food",
                   "food",
                   {{"given", Quantity{in.food_cod_g_per_l * 1000.0, Dimension::concentration}},
                    {"most", Quantity{lines::food_cod_most_g_per_l * 1000.0, Dimension::concentration}}}});
  }
  for (const FoodPortion& portion : brewing.foods) {
    if (portion.food->alpha_factor >= 1.0) continue;
    all.push_back({"recipe.warning.transfer_lowered", portion.field, named(*portion.food)});
    all.back().facts["to"] = share(portion.food->alpha_factor);
  }
  for (std::size_t i = 0; i < brewing.foods.size(); ++i) {
    const auto same = [&](const FoodPortion& other) { return other.food == brewing.foods[i].food; };
    const auto before = brewing.foods.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::none_of(brewing.foods.begin(), before, same)) continue;
    all.push_back({"recipe.warning.food_twice", brewing.foods[i].field, named(*brewing.foods[i].food)});
  }
}

void about_nitrogen_and_salt(const BrewPlan& plan, const Knowledge& knowledge, const Contents& in, Remarks& all) {
  const double yield = knowledge.priors.of("Y_B").middle;
  const double nitrogen_of_cells = knowledge.priors.of("i_NB").middle;
  const double food_used_mg_per_l = in.nitrogen_mg_per_l / nitrogen_of_cells / yield;
  const double ready_mg_per_l = in.ready_cod_g_per_l * 1000.0;
  if (ready_mg_per_l > 0.0 && food_used_mg_per_l < lines::nitrogen_covers_least_share * ready_mg_per_l) {
    all.push_back({"recipe.warning.low_nitrogen",
                   "food",
                   {{"nitrogen", Quantity{in.nitrogen_mg_per_l, Dimension::concentration}},
                    {"covered", share(food_used_mg_per_l / ready_mg_per_l)}}});
  }
  if (plan.conductivity_rise_ms_per_cm > lines::conductivity_most_ms_per_cm) {
    all.push_back({"recipe.warning.salty",
                   "food",
                   {{"given", Quantity{plan.conductivity_rise_ms_per_cm, Dimension::conductivity}},
                    {"most", Quantity{lines::conductivity_most_ms_per_cm, Dimension::conductivity}}}});
  }
}

void about_compost(const Brewing& brewing, Remarks& all) {
  double total_g = 0.0;
  for (const CompostPortion& portion : brewing.composts) total_g += portion.mass_g;
  const double water_per_compost = brewing.ask.volume_l * 1000.0 / total_g;
  const bool is_thick = water_per_compost < lines::water_per_compost_least;
  if (!is_thick && water_per_compost <= lines::water_per_compost_most) return;
  all.push_back({is_thick ? "recipe.warning.much_compost" : "recipe.warning.little_compost",
                 "compost",
                 {{"given", plain(water_per_compost)},
                  {"least", plain(lines::water_per_compost_least)},
                  {"most", plain(lines::water_per_compost_most)}}});
}

void about_time_and_heat(const BrewPlan& plan, Remarks& all) {
  const PlanAsk& ask = plan.ask;
  if (ask.length_h > lines::length_usual_h) {
    all.push_back({"recipe.warning.past_24_h",
                   "brew.length",
                   {{"given", hours(ask.length_h)}, {"most", hours(lines::length_usual_h)}}});
  }
  if (ask.water_temperature_c > lines::water_warm_c) {
    all.push_back({"recipe.warning.warm",
                   "water.temperature",
                   {{"given", degrees(ask.water_temperature_c)}, {"most", degrees(lines::water_warm_c)}}});
  }
  if (ask.water_temperature_c < lines::water_cool_c) {
    all.push_back({"recipe.warning.cold",
                   "water.temperature",
                   {{"given", degrees(ask.water_temperature_c)}, {"least", degrees(lines::water_cool_c)}}});
  }
  const brew::ReadyWindow& ready = plan.forecast.ready;
  if (!ready.exists) {
    all.push_back({"recipe.warning.never_ready", "brew.length", {{"given", hours(ask.length_h)}}});
  } else if (ready.from_h > ask.length_h) {
    all.push_back({"recipe.warning.not_ready_yet",
                   "brew.length",
                   {{"given", hours(ask.length_h)}, {"from", hours(ready.from_h)}, {"to", hours(ready.to_h)}}});
  } else if (ready.to_h < ask.length_h) {
    all.push_back({"recipe.warning.past_ready",
                   "brew.length",
                   {{"given", hours(ask.length_h)}, {"from", hours(ready.from_h)}, {"to", hours(ready.to_h)}}});
  }
}

void about_water(const Brewing& brewing, Remarks& all) {
  const PlanAsk& ask = brewing.ask;
  if (!ask.disinfectant_is_known) {
    all.push_back({"recipe.warning.chlorine_unknown",
                   "water.free_chlorine",
                   {{"assumed", Quantity{water::untested_tap_water().chloramine_mg_per_l, Dimension::concentration}}}});
  }
  if (brewing.depth_m() < lines::depth_shallow_m) {
    all.push_back({"recipe.warning.shallow",
                   "vessel.diameter",
                   {{"given", Quantity{brewing.depth_m(), Dimension::length}},
                    {"least", Quantity{lines::depth_shallow_m, Dimension::length}}}});
  }
}

}  // namespace

Remarks warnings(const BrewPlan& plan, const Brewing& brewing, const Knowledge& knowledge, const Contents& in) {
  Remarks all;  // most serious first: what may hurt the brew or its eaters, then what wastes it
  about_oxygen(plan, all);
  about_food(brewing, in, all);
  about_time_and_heat(plan, all);
  about_water(brewing, all);
  about_compost(brewing, all);
  about_nitrogen_and_salt(plan, knowledge, in, all);
  if (plan.forecast.failed_members_count > 0) {
    all.push_back(
        {"recipe.warning.members_failed",
         "",
         {{"given", plain(plan.forecast.failed_members_count)}, {"most", plain(plan.forecast.members_count)}}});
  }
  return all;
}

Remarks evidence(const BrewPlan& plan) {
  Remarks notes;
  notes.push_back({"recipe.note.six_is_a_margin", "", {}});
  notes.push_back({"recipe.note.compost_varies", "", {}});
  if (std::isnan(plan.ask.measured_kla20_per_h)) notes.push_back({"recipe.note.air_is_estimated", "", {}});
  notes.push_back({"recipe.note.fungi_are_indicative", "", {}});
  if (plan.ask.aim != Aim::balanced) notes.push_back({"recipe.note.aim_is_a_habit", "", {}});
  notes.push_back({"recipe.note.benefit_is_mixed", "", {}});
  notes.push_back({"recipe.note.use_time", "", {}});
  return notes;
}

}  // namespace barm::recipe
