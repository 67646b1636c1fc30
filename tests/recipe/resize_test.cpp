// Laws of a plan told in another size, with the real forecast.
#include "recipe/resize.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "usual.h"

namespace barm::recipe::test {
namespace {

PlanAsk lean() {
  PlanAsk ask = usual();
  ask.foods.resize(1);
  ask.foods[0].amount.measured.value = tbsp_l;
  return ask;
}

TEST(a_scale_of_one, changes_nothing) {
  const auto all = resize(lean(), lean().volume_l, unset, shipped());
  ASSERT_TRUE(all.ok()) << all.refusals().front().code;
  EXPECT_EQ(all->factor, 1.0);
  EXPECT_EQ(all->proposed.ask.air.rated_flow_l_per_h, all->was.ask.air.rated_flow_l_per_h);
  EXPECT_EQ(all->proposed.ask.composts[0].mass_g, all->was.ask.composts[0].mass_g);
  EXPECT_EQ(all->proposed.ask.foods[0].amount.measured.value, all->was.ask.foods[0].amount.measured.value);
  EXPECT_EQ(all->proposed.forecast.oxygen_mg_per_l.p05, all->was.forecast.oxygen_mg_per_l.p05);
  ASSERT_EQ(all->sentences.size(), 1u);
  EXPECT_EQ(all->sentences[0].code, "recipe.scale.same");
}

TEST(a_larger_vessel_of_the_same_shape, has_less_surface_and_wall_by_the_litre) {
  double surface_before = 1e9, walls_before = 1e9, depth_before = 0.0;
  for (const double volume_l : {4.0, 19.0, 100.0, 2000.0}) {
    const auto all = resize(lean(), volume_l, unset, shipped());
    ASSERT_TRUE(all.ok()) << volume_l << " " << all.refusals().front().code;
    const Size& size = all->proposed_size;
    EXPECT_LT(size.surface_m2_per_m3, surface_before) << volume_l;
    EXPECT_LT(size.walls_m2_per_m3, walls_before) << volume_l;
    EXPECT_GT(size.depth_m, depth_before) << volume_l;
    // an upright cylinder, worked out the long way
    const double area_m2 = std::numbers::pi / 4.0 * size.diameter_m * size.diameter_m;
    EXPECT_NEAR(size.surface_m2_per_m3, area_m2 / (size.volume_l / 1000.0), 1e-9);
    EXPECT_NEAR(size.walls_m2_per_m3,
                (2.0 * area_m2 + std::numbers::pi * size.diameter_m * size.depth_m) / (size.volume_l / 1000.0), 1e-9);
    surface_before = size.surface_m2_per_m3;
    walls_before = size.walls_m2_per_m3;
    depth_before = size.depth_m;
  }
}

TEST(the_proposed_air, gives_the_odds_there_were) {
  for (const double volume_l : {8.0, 200.0}) {
    const auto all = resize(lean(), volume_l, unset, shipped());
    ASSERT_TRUE(all.ok()) << all.refusals().front().code;
    EXPECT_NEAR(all->proposed.forecast.probability_oxygen_stays_above_6,
                all->was.forecast.probability_oxygen_stays_above_6, 2.5 / 64.0)
        << volume_l;
    EXPECT_NE(all->proposed.ask.air.rated_flow_l_per_h, all->naive.ask.air.rated_flow_l_per_h) << volume_l;
  }
}

TEST(a_proposal, is_repeated_by_the_planner) {
  const auto all = resize(lean(), 100.0, unset, shipped());
  ASSERT_TRUE(all.ok());
  const auto again = plan_brew(all->proposed.ask, shipped());
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(again->forecast.oxygen_mg_per_l.p05, all->proposed.forecast.oxygen_mg_per_l.p05);
  EXPECT_EQ(again->forecast.bacteria_per_ml.p50, all->proposed.forecast.bacteria_per_ml.p50);
}

// Common practice, no source: 1.5 to 2 lb of compost for 5 US gal, and as much by the gallon in larger brewers of its
// kind; amounts by the litre hold within what kitchen measures round.
TEST(amounts, go_by_the_litre) {
  const auto all = resize(lean(), 100.0, unset, shipped());
  ASSERT_TRUE(all.ok());
  const double by_litre = all->proposed.ask.composts[0].mass_g / all->proposed.ask.volume_l;
  EXPECT_NEAR(by_litre / (all->was.ask.composts[0].mass_g / all->was.ask.volume_l), 1.0, 0.05);
}

TEST(a_size, is_refused_on_both_sides_and_taken_at_them) {
  for (const double bad : {3.99, 2000.5, unset})
    EXPECT_TRUE(has(resize(lean(), bad, unset, shipped()).refusals(), "recipe.scale.volume_outside")) << bad;
  for (const double good : {4.0, 2000.0}) EXPECT_TRUE(resize(lean(), good, unset, shipped()).ok()) << good;
}

TEST(a_shallow_pan, that_no_pump_makes_as_good_is_refused) {
  PlanAsk ask = lean();
  ask.air.rated_flow_l_per_h = 4000.0;  // near three volumes a minute
  EXPECT_TRUE(has(resize(ask, 19.0, 2.0, shipped()).refusals(), "recipe.scale.no_such_air"));
}

TEST(a_deeper_vessel, asks_for_a_pump_that_reaches_down) {
  PlanAsk ask = lean();
  ask.air.maximum_pressure_kpa = 20.0;
  const auto all = resize(ask, 200.0, unset, shipped());
  ASSERT_TRUE(all.ok()) << all.refusals().front().code;
  // S19: 9.789 kPa for each metre of water at 20 degC
  const double deeper_m = all->proposed_size.depth_m - all->was_size.depth_m;
  EXPECT_NEAR(all->proposed.ask.air.maximum_pressure_kpa, 20.0 + 9.789 * deeper_m, 0.01);
  EXPECT_TRUE(has(all->sentences, "recipe.scale.pressure"));
  EXPECT_FALSE(has(resize(ask, 10.0, unset, shipped())->sentences, "recipe.scale.pressure"));
}

TEST(a_plan_that_does_not_hold, is_scaled_with_a_word_about_it) {
  PlanAsk ask = lean();
  ask.foods[0].amount.measured.value *= 6.0;
  const auto all = resize(ask, 100.0, unset, shipped());
  EXPECT_TRUE(has(all->sentences, "recipe.scale.does_not_hold"));
  EXPECT_TRUE(all->was.mends.empty() && all->naive.mends.empty() && all->proposed.mends.empty()) << "none are told";
  ask.foods.clear();
  EXPECT_FALSE(has(resize(ask, 100.0, unset, shipped())->sentences, "recipe.scale.does_not_hold"));
}

TEST(a_vessel_far_too_deep, is_refused_as_a_plan_is) {
  EXPECT_TRUE(has(resize(lean(), 200.0, 0.2, shipped()).refusals(), "recipe.plan.too_deep"));
}

}  // namespace
}  // namespace barm::recipe::test
