// What a planned brew costs, beside sums worked by hand. docs/recipe/cost.md
#include "recipe/plan_cost.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "usual.h"

namespace barm::recipe::test {
namespace {

Price price(double paid, double value, Dimension dimension) {
  return {paid, {{value, dimension}}};
}

/// 19 L for 18 h; 760 g of compost at 6.50 for 25 kg, 10 g of dry kelp at 8.90 for 1 kg.
PlanAsk priced() {
  PlanAsk ask = usual();
  ask.volume_l = 19.0;
  ask.length_h = 18.0;
  ask.composts = {{.kind = "mixed", .mass_g = 760.0, .price = price(6.5, 25'000.0, Dimension::mass)}};
  ask.foods = {{"dry kelp", {{10.0, Dimension::mass}}, price(8.9, 1000.0, Dimension::mass)}};
  return ask;
}

// Worked by hand: compost 6.50 x 0.76 / 25 = 0.1976; kelp 8.90 x 0.010 = 0.089; with the water, the pump and the work
// of the example in docs/recipe/cost.md (0.038 + 0.189 + 9.00) a batch costs 9.5136.
TEST(a_plan, costs_what_the_sum_by_hand_says) {
  const auto told = plan_cost(priced(),
                              {.currency = "EUR",
                               .electricity_per_kwh = 0.30,
                               .pump_w = 35.0,
                               .water_per_m3 = 2.0,
                               .labour_minutes = 45.0,
                               .labour_per_h = 12.0},
                              400.0, shipped());
  ASSERT_TRUE(told.ok());
  EXPECT_NEAR(told->cost.compost, 0.1976, 1e-12);
  EXPECT_NEAR(told->cost.foods, 0.089, 1e-12);
  EXPECT_NEAR(told->cost.batch, 9.5136, 1e-12);
  EXPECT_NEAR(told->cost.per_l, 9.5136 / 19.0, 1e-12);
  EXPECT_NEAR(told->cost.per_100m2, 9.5136 / 19.0 * 4.0, 1e-12);
  EXPECT_TRUE(told->not_priced.empty());
  EXPECT_TRUE(told->is_priced());
}

TEST(a_plan, says_what_it_has_no_price_of) {
  PlanAsk ask = priced();
  ask.foods.push_back({"blackstrap molasses", {{0.04, Dimension::volume}}});
  const auto told = plan_cost(ask, {.currency = {}, .electricity_per_kwh = 0.30}, unset, shipped());
  ASSERT_TRUE(told.ok());
  EXPECT_EQ(told->not_priced, (std::vector<std::string>{"food[2]", "water", "electricity", "labour"}));
  EXPECT_TRUE(std::isnan(told->cost.per_100m2));
}

TEST(a_plan_without_prices, costs_nothing_that_is_known) {
  const auto told = plan_cost(usual(), {}, unset, shipped());
  ASSERT_TRUE(told.ok());
  EXPECT_FALSE(told->is_priced());
  EXPECT_EQ(told->not_priced.size(), 1u + 3u + 3u);
}

TEST(a_price, needs_its_amount) {
  PlanAsk ask = priced();
  ask.composts[0].price = {6.5, {{unset, Dimension::mass}}};
  ask.foods[0].price = {8.9, {{unset, Dimension::mass}}};
  const auto told = plan_cost(ask, {}, unset, shipped());
  ASSERT_FALSE(told.ok());
  ASSERT_EQ(told.refusals().size(), 2u);
  EXPECT_EQ(told.refusals()[0].code, "recipe.cost.for_how_much");
  EXPECT_EQ(told.refusals()[0].field, "compost[1].price_for");
  EXPECT_EQ(told.refusals()[1].field, "food[1].price_for");
}

// A price by the litre and an amount by the spoon meet through the density: the same spoonfuls of the same jar.
TEST(a_liquid, is_priced_by_volume) {
  PlanAsk ask = priced();
  ask.foods = {{"blackstrap molasses", {{0.05, Dimension::volume}}, price(12.0, 1.0, Dimension::volume)}};
  const auto told = plan_cost(ask, {}, unset, shipped());
  ASSERT_TRUE(told.ok());
  EXPECT_NEAR(told->cost.foods, 0.6, 1e-12);
}

TEST(a_food_nobody_knows, is_left_to_the_plan_to_refuse) {
  PlanAsk ask = priced();
  ask.foods[0].name = "kelp mael";
  const auto told = plan_cost(ask, {}, unset, shipped());
  ASSERT_TRUE(told.ok());
  EXPECT_EQ(told->not_priced.front(), "food[1]");
}

RC_GTEST_PROP(a_plan, costs_twice_as_much_for_twice_the_stuff, ()) {
  PlanAsk once = priced();
  once.composts[0].mass_g = *rc::gen::inRange(1, 5000);
  once.foods[0].amount.measured.value = *rc::gen::inRange(1, 500);
  PlanAsk twice = once;
  twice.composts[0].mass_g *= 2.0;
  twice.foods[0].amount.measured.value *= 2.0;
  const auto one = plan_cost(once, {}, unset, shipped()), two = plan_cost(twice, {}, unset, shipped());
  RC_ASSERT(one.ok() && two.ok());
  RC_ASSERT(std::abs(two->cost.batch - 2.0 * one->cost.batch) < 1e-9 * two->cost.batch);
}

}  // namespace
}  // namespace barm::recipe::test
