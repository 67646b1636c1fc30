// Laws of a plan told in another size, with the real forecast.
#include "recipe/resize.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "support/published.h"
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

TEST(a_pump_beyond_any, when_multiplied_does_not_refuse_the_scaling) {
  PlanAsk ask = lean();
  ask.volume_l = 20.0;
  ask.air.rated_flow_l_per_h = 5'100.0;  // times 100 it is past 500,000 L/h
  ask.air.maximum_pressure_kpa = 9.0;    // of which depth and stone take most
  const auto all = resize(ask, 2000.0, unset, shipped());
  ASSERT_TRUE(all.ok()) << all.refusals().front().code;
  EXPECT_TRUE(has(all->naive_refusals, "recipe.plan.air_flow_out_of_range"));
  EXPECT_TRUE(has(all->sentences, "recipe.scale.naive_refused"));
  EXPECT_TRUE(all->naive.amounts.empty());
  EXPECT_LE(all->proposed.air.vvm, 3.0);
  ask.air.rated_flow_l_per_h = 4'900.0;
  const auto less = resize(ask, 2000.0, unset, shipped());
  ASSERT_TRUE(less.ok());
  EXPECT_TRUE(less->naive_refusals.empty());
  EXPECT_FALSE(less->naive.amounts.empty());
}

// source: M14 (Deckwer, exponent 0.82; Heijnen and van 't Riet, 0.7, found from 0.08 to 11.6 m wide), S17 (efficiency
// by the metre). At one vvm and one shape the air over the cross-section and the depth go with the cube root of the
// volume, so tenfold water has 10^(0.7/3) to 10^(1/3) times the KLa. Tolerance: none, but the air that arrives differs
// a little and is taken out, by its own least and most power. From 200 L up, where the jars of M16 no longer count.
TEST(multiplying, gains_the_transfer_that_columns_were_found_to_gain) {
  PlanAsk ask = lean();
  ask.volume_l = 200.0;
  ask.vessel_diameter_m = 0.62;
  ask.composts[0].mass_g *= 200.0 / 19.0;
  ask.air.rated_flow_l_per_h *= 200.0 / 19.0;
  const auto all = resize(ask, 2000.0, unset, shipped());
  ASSERT_TRUE(all.ok()) << all.refusals().front().code;
  const double air = all->naive_size.vvm / all->was_size.vvm;
  const double gained = all->naive_size.kla20_per_h / all->was_size.kla20_per_h;
  EXPECT_GE(gained, std::pow(10.0, 0.7 / 3.0) * std::min(std::pow(air, 0.7), air));
  EXPECT_LE(gained, std::pow(10.0, 1.0 / 3.0) * std::max(std::pow(air, 0.7), air));
}

// source: S17 (aeration_typical_ranges): clean water takes 3 to 5 % of the oxygen for each metre of depth from fine
// bubbles that rise in one place, 1.5 to 3 % from coarse ones. What each proposal counts on, from its own figures.
TEST(proposals, count_on_no_more_oxygen_out_of_the_air_than_tanks_were_found_to_take) {
  double coarse_low = unset, fine_high = unset;
  for (const auto& row : barm::test::published("aeration_typical_ranges.csv")) {
    if (row.text("device") == "coarse_bubble" && row.text("unit") == "percent_per_m") coarse_low = row.number("low");
    if (row.text("device") == "fine_pore_full_floor") fine_high = row.number("high");
  }
  ASSERT_TRUE(std::isfinite(coarse_low) && std::isfinite(fine_high));
  for (const double volume_l : {500.0, 2000.0}) {
    const auto all = resize(lean(), volume_l, unset, shipped());
    ASSERT_TRUE(all.ok());
    const Size& size = all->proposed_size;
    // S14: SOTR = KLa C* V; S19: 1.204 kg/m3 of air, 0.2314 of it oxygen; S01: 9.092 mg/L at 20 degC
    const double taken_kg_per_h = size.kla20_per_h * 9.092e-3 * size.volume_l / 1000.0;
    const double blown_kg_per_h = size.vvm * size.volume_l * 60.0 / 1000.0 * 1.204 * 0.2314;
    const double percent_per_m = 100.0 * taken_kg_per_h / blown_kg_per_h / size.depth_m;
    EXPECT_GE(percent_per_m, coarse_low) << volume_l;
    EXPECT_LE(percent_per_m, fine_high) << volume_l;
  }
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
