// Laws of what the air carries, and the plant groups as told.
#include "recipe/equipment.h"

#include <gtest/gtest.h>

#include "recipe/crop.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

PlanAsk lean() {
  PlanAsk ask = usual();
  ask.foods.resize(1);
  ask.foods[0].amount.measured.value = tsp_l;
  return ask;
}

TEST(food_carried, falls_as_the_water_warms_and_rises_with_air) {
  PlanAsk ask = lean();
  ask.members_count = 1024;  // with few members the draws decide more than the change
  const auto all = equipment(ask, shipped());
  ASSERT_TRUE(all.ok()) << all.refusals().front().code;
  for (std::size_t i = 1; i < all->frontier.size(); ++i)
    EXPECT_LE(all->frontier[i].factor, all->frontier[i - 1].factor) << all->frontier[i].temperature_c;
  EXPECT_GT(all->second_pump.factor, all->factor);
  EXPECT_GE(all->second_stone.kla20_per_h, all->kla20_per_h);
  EXPECT_GT(all->measured.factor, all->factor);
}

TEST(the_pump_that_is_needed, carries_the_food_and_a_tenth_less_does_not) {
  PlanAsk ask = lean();
  const auto all = equipment(ask, shipped());
  ASSERT_TRUE(all.ok());
  for (const auto& [factor, holds] : {std::pair{1.02, true}, std::pair{0.85, false}}) {
    ask.air.rated_flow_l_per_h = all->pump_stone_l_per_h * factor;
    EXPECT_EQ(equipment(ask, shipped())->stays_above_6 >= 0.9, holds) << factor;
  }
}

TEST(equipment_of_a_plan_without_food, is_refused) {
  PlanAsk ask = usual();
  ask.foods.clear();
  EXPECT_TRUE(has(equipment(ask, shipped()).refusals(), "recipe.equipment.no_food"));
}

TEST(plant_groups, are_found_by_name_and_say_that_no_trial_supports_them) {
  const Crops crops = Crops::read(data::file("crops.toml"));
  EXPECT_EQ((*crops.find("Tomatoes"))->id, "fruiting_vegetables");
  EXPECT_EQ((*crops.find("vides"))->said().code, "recipe.crop.convention");
  EXPECT_EQ(crops.find("orchids of nobody").refusals().front().code, "recipe.crop.unknown");
}

}  // namespace
}  // namespace barm::recipe::test
