#include <algorithm>
#include <cmath>
#include <string>

#include "recipe/planning.h"

namespace barm::recipe {
namespace {

using Facts = std::map<std::string, Remark::Fact>;

// Times before air on [h]. practice: fish stands 10 to 20 min in water first.
constexpr double fill_h = -1.0, hang_stone_h = -0.75, fish_stands_h = -0.40, fish_stands_until_h = -0.10, mix_h = -0.20;
constexpr double first_look_h = 2.0;    // judged: foam and fallen bags show by then
constexpr double clean_within_h = 0.5;  // practice: slime sets within hours, so at once
constexpr double sugary_share = 0.5;    // a liquid food whose COD is half ready or more is a syrup
constexpr double clear_slack_h = 0.25;  // judged: the strip is dipped and read before the tank is filled

const char* clearing_code(water::ClearingMethod method) {
  switch (method) {
    case water::ClearingMethod::stand:
      return "recipe.step.clear_by_standing";
    case water::ClearingMethod::bubble:
      return "recipe.step.clear_by_bubbling";
    case water::ClearingMethod::carbon_filter:
      return "recipe.step.clear_by_carbon";
    case water::ClearingMethod::ascorbic_acid:
      return "recipe.step.clear_by_ascorbic_acid";
    case water::ClearingMethod::sodium_ascorbate:
      return "recipe.step.clear_by_sodium_ascorbate";
    case water::ClearingMethod::sodium_thiosulfate:
      return "recipe.step.clear_by_thiosulfate";
    case water::ClearingMethod::humic_acid:
      return "recipe.step.clear_by_humic_acid";
  }
  return "";
}

void clear_water(const BrewPlan& plan, std::vector<Step>& all) {
  const water::Disinfectant& in = plan.ask.disinfectant;
  const bool is_clear = in.free_chlorine_mg_per_l <= 0.0 && in.chloramine_mg_per_l <= 0.0;
  double wait_h = 0.0;
  if (!(plan.ask.disinfectant_is_known && is_clear)) {
    const auto works =
        std::find_if(plan.clearing.begin(), plan.clearing.end(), [](const auto& each) { return each.works; });
    if (works != plan.clearing.end()) {
      if (std::isfinite(works->wait_high_h)) wait_h = works->wait_high_h;
      Facts facts{{"wait", Quantity{wait_h, Dimension::duration}}};
      if (works->dose_g > 0.0) facts["dose"] = Quantity{works->dose_g, Dimension::mass};
      const double from_h = fill_h - clear_slack_h - wait_h;
      all.push_back({clearing_code(works->method), from_h, from_h + wait_h, facts});
    }
  }
  all.push_back({"recipe.step.test_strip", fill_h - clear_slack_h, unset, {}});
}

/// The amount in the words of the measuring list, so that the two cannot differ.
std::string measured_out(const BrewPlan& plan, const food::Food& food) {
  for (const AmountLine& line : plan.amounts)
    if (line.id == "food." + food.id) return line.amount.text;
  throw BrokenPromise("every food of the plan has a line among its amounts");
}

void before_air(const BrewPlan& plan, const Brewing& brewing, std::vector<Step>& all) {
  all.push_back({"recipe.step.fill", fill_h, unset, {{"volume", Quantity{plan.ask.volume_l, Dimension::volume}}}});
  all.push_back({"recipe.step.hang_stone", hang_stone_h, unset, {}});
  for (const FoodPortion& portion : brewing.foods) {
    Facts facts = named(*portion.food);
    facts["amount"] = measured_out(plan, *portion.food);
    if (portion.food->is_fish) {
      all.push_back({"recipe.step.fish_stands", fish_stands_h, fish_stands_until_h, facts});
    } else if (portion.food->is_liquid && portion.food->readily_share >= sugary_share) {
      all.push_back({"recipe.step.dissolve", mix_h, unset, facts});
    } else {
      all.push_back({portion.food->is_liquid ? "recipe.step.dilute" : "recipe.step.make_paste", mix_h, unset, facts});
    }
  }
}

void start(const Brewing& brewing, std::vector<Step>& all) {
  all.push_back({"recipe.step.air_on", 0.0, unset, {}});
  const bool any_bag =
      std::any_of(brewing.composts.begin(), brewing.composts.end(), [](const auto& each) { return each.in_bag; });
  const bool any_loose =
      std::any_of(brewing.composts.begin(), brewing.composts.end(), [](const auto& each) { return !each.in_bag; });
  if (any_bag) all.push_back({"recipe.step.bag_in", 0.0, unset, {}});
  if (any_loose) all.push_back({"recipe.step.loose_in", 0.0, unset, {}});
  if (!brewing.foods.empty()) all.push_back({"recipe.step.food", 0.0, unset, {}});
}

/// When the middle of the uptake is highest while the brew runs [h]; not the median hour of the lowest oxygen, which
/// stands at the start when most brews never dip.
double hungriest_hour(const brew::Forecast& forecast, double length_h) {
  double most = 0.0, at_h = 0.0;
  for (std::size_t i = 0; i < forecast.time_h.size() && forecast.time_h[i] <= length_h; ++i)
    if (forecast.uptake_mg_per_l_per_h.p50[i] > most) {
      most = forecast.uptake_mg_per_l_per_h.p50[i];
      at_h = forecast.time_h[i];
    }
  return at_h;
}

void watch(const BrewPlan& plan, std::vector<Step>& all) {
  const double length_h = plan.ask.length_h;
  if (length_h > first_look_h) all.push_back({"recipe.step.first_look", first_look_h, unset, {}});
  const double hungriest_h = hungriest_hour(plan.forecast, length_h);
  if (hungriest_h > first_look_h) all.push_back({"recipe.step.reading", hungriest_h, unset, {}});
  const brew::ReadyWindow& ready = plan.forecast.ready;
  if (ready.exists && ready.from_h < length_h) {
    all.push_back({"recipe.step.earliest_look", ready.from_h, std::min(ready.to_h, length_h), {}});
  }
}

void finish(const BrewPlan& plan, std::vector<Step>& all) {
  const double length_h = plan.ask.length_h;
  Facts facts;
  if (const double sooner = plan.forecast.minutes_to_2_after_air_off.p05; std::isfinite(sooner)) {
    const double minutes = std::max(1.0, std::floor(sooner));  // a watch shows whole ones
    facts["flat_after"] = Quantity{minutes / 60.0, Dimension::duration};
  }
  all.push_back({"recipe.step.bag_out", length_h, unset, {}});
  all.push_back({facts.empty() ? "recipe.step.air_off" : "recipe.step.use_at_once", length_h, unset, facts});
  all.push_back({"recipe.step.clean", length_h + clean_within_h, unset, {}});
}

}  // namespace

std::vector<Step> steps(const BrewPlan& plan, const Brewing& brewing) {
  std::vector<Step> all;
  clear_water(plan, all);
  before_air(plan, brewing, all);
  start(brewing, all);
  watch(plan, all);
  finish(plan, all);
  std::stable_sort(all.begin(), all.end(), [](const Step& a, const Step& b) { return a.at_h < b.at_h; });
  return all;
}

}  // namespace barm::recipe
