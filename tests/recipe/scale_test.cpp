#include "recipe/scale.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "recipe/starting.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

Recipe some() {
  return {.volume_l = 19.0,
          .composts = {{.kind = "mixed", .mass_g = 760.0}, {.kind = "worm", .mass_g = 13.7}},
          .foods = {{"molasses", {{0.013, Dimension::volume}}}, {"kelp meal", {{7.3, Dimension::mass}}}}};
}

RC_GTEST_PROP(scaling_a_recipe, scales_every_amount_by_the_same_factor_exactly, (int thousandths)) {
  RC_PRE(thousandths > 0);
  const double factor = thousandths / 1000.0;
  const Recipe from = some();
  const Recipe to = scaled(from, factor).value();
  RC_ASSERT(to.volume_l == from.volume_l * factor);
  for (std::size_t i = 0; i < from.composts.size(); ++i)
    RC_ASSERT(to.composts[i].mass_g == from.composts[i].mass_g * factor);
  for (std::size_t i = 0; i < from.foods.size(); ++i) {
    RC_ASSERT(to.foods[i].amount.measured.value == from.foods[i].amount.measured.value * factor);
    RC_ASSERT(to.foods[i].amount.measured.dimension == from.foods[i].amount.measured.dimension);
  }
}

TEST(scaling_to_a_vessel, gives_its_volume_and_keeps_amounts_per_litre) {
  const Recipe to = scaled_to(some(), 200.0).value();
  EXPECT_DOUBLE_EQ(to.volume_l, 200.0);
  EXPECT_NEAR(to.composts[0].mass_g / 200.0, 40.0, 1e-12);
}

TEST(scaling, refuses_what_is_no_positive_number) {
  for (const double bad : {0.0, -2.0, unset, std::numeric_limits<double>::infinity()}) {
    EXPECT_EQ(scaled(some(), bad).refusals().front().code, "recipe.scale.factor_not_positive");
    EXPECT_EQ(scaled_to(some(), bad).refusals().front().code, "recipe.scale.volume_not_positive");
  }
}

std::vector<StartingRecipe> starting() {
  return read_starting_recipes(data::file("recipes.toml"), shipped().foods, shipped().composts);
}

PlanAsk ask_for(const StartingRecipe& recipe, double volume_l) {
  PlanAsk ask = usual();
  ask.volume_l = volume_l;
  ask.aim = recipe.aim;
  ask.length_h = recipe.length_h;
  const Recipe amounts = scaled_to(recipe.per_litre, volume_l).value();
  ask.composts = amounts.composts;
  ask.foods = amounts.foods;
  return ask;
}

TEST(starting_recipes, are_one_for_each_aim_with_reasons_in_both_languages) {
  std::set<Aim> aims;
  const auto recipes = starting();
  for (const StartingRecipe& recipe : recipes) {
    aims.insert(recipe.aim);
    EXPECT_GT(recipe.reason_en.size(), 80u) << recipe.id;
    EXPECT_GT(recipe.reason_es.size(), 80u) << recipe.id;
    EXPECT_NE(recipe.english, recipe.spanish);
  }
  EXPECT_EQ(recipes.size(), 3u);
  EXPECT_EQ(aims.size(), 3u);
}

TEST(starting_recipes, stay_within_the_lines_for_sugar_salt_ratio_and_nitrogen) {
  const auto recipes = starting();
  for (const StartingRecipe& recipe : recipes) {
    for (const double volume_l : {10.0, 19.0, 200.0}) {
      PlanAsk ask = ask_for(recipe, volume_l);
      ask.vessel_diameter_m = volume_l > 100.0 ? 0.6 : 0.28;
      ask.air.rated_flow_l_per_h = volume_l * 110.0;
      const auto plan = plan_brew_with(ask, shipped(), pretended);
      ASSERT_TRUE(plan.ok()) << recipe.id << " " << plan.refusals().front().code;
      for (const char* code : {"sugar_share", "salty", "low_nitrogen", "much_compost", "little_compost", "much_food"}) {
        EXPECT_FALSE(has(plan->warnings, std::string("recipe.warning.") + code)) << recipe.id << " " << code;
      }
    }
  }
}

// Laid down by the real forecast; the promise of docs/recipe/starting.md.
TEST(starting_recipes, hold_their_oxygen_and_are_ready_in_a_bucket_with_a_usual_pump) {
  const auto recipes = starting();
  for (const StartingRecipe& recipe : recipes) {
    PlanAsk ask = ask_for(recipe, 19.0);
    ask.water_temperature_c = ask.room_temperature_c = 20.0;
    ask.members_count = 256;
    const auto plan = plan_brew(ask, shipped());
    ASSERT_TRUE(plan.ok()) << recipe.id;
    EXPECT_EQ(plan->verdict, Verdict::holds) << recipe.id << " " << plan->forecast.probability_oxygen_stays_above_6;
    EXPECT_TRUE(plan->forecast.ready.exists) << recipe.id;
    EXPECT_LE(plan->forecast.ready.from_h, recipe.length_h) << recipe.id;
  }
}

TEST(a_broken_recipe_file, is_our_fault) {
  const std::string text(data::file("recipes.toml"));
  const auto broken = [&](const std::string& from, const std::string& to) {
    std::string changed = text;
    changed.replace(changed.find(from), from.size(), to);
    return changed;
  };
  const auto reads = [&](const std::string& toml) { read_starting_recipes(toml, shipped().foods, shipped().composts); };
  EXPECT_NO_THROW(reads(text));
  EXPECT_THROW(reads(broken("blackstrap molasses", "treacle of nobody")), BrokenPromise);
  EXPECT_THROW(reads(broken("kind = \"fungal\"", "kind = \"lunar\"")), BrokenPromise);
  EXPECT_THROW(reads(broken("unit = \"mL/L\"", "unit = \"tsp\"")), BrokenPromise);
  EXPECT_THROW(reads(broken("amount = 30.0", "amount = -30.0")), BrokenPromise);
  EXPECT_THROW(reads(broken("aim = \"bacterial\"", "aim = \"sweet\"")), BrokenPromise);
}

}  // namespace
}  // namespace barm::recipe::test
