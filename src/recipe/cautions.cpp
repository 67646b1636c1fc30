#include <algorithm>

#include "recipe/planning.h"

namespace barm::recipe {
namespace {

// More than one person should lift alone, water and vessel. memory: lifting guides put 20 to 25 kg as the upper end.
constexpr double lift_alone_l = 10.0;

bool any_food(const Brewing& brewing, bool food::Food::*claim) {
  return std::any_of(brewing.foods.begin(), brewing.foods.end(),
                     [&](const FoodPortion& portion) { return portion.food->*claim; });
}

}  // namespace

Remarks cautions(const BrewPlan& plan, const Brewing& brewing) {
  Remarks all;
  const auto say = [&](const char* code) { all.push_back({code, "", {}}); };
  say("recipe.caution.electricity");
  say("recipe.caution.pump_above_water");
  say("recipe.caution.raw_manure");
  say("recipe.caution.food_contact");
  say("recipe.caution.aerosol");
  say("recipe.caution.weak_immunity");
  say("recipe.caution.hands");
  say("recipe.caution.backflow");
  say("recipe.caution.slips");
  say("recipe.caution.closed_vessel");
  say("recipe.caution.disinfectant");
  const bool has_fish = any_food(brewing, &food::Food::is_fish);
  if (!brewing.foods.empty()) say(has_fish ? "recipe.caution.fish" : "recipe.caution.allergens");
  if (any_food(brewing, &food::Food::is_animal_origin)) say("recipe.caution.animal_origin");
  if (plan.ask.volume_l > lift_alone_l) {
    all.push_back({"recipe.caution.lifting", "", {{"given", Quantity{plan.ask.volume_l * 1000.0, Dimension::mass}}}});
  }
  say("recipe.caution.local_rules");
  return all;
}

}  // namespace barm::recipe
