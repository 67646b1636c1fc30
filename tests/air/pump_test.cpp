#include "air/pump.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "answers.h"

namespace barm::air {
namespace {

constexpr double sea_level_kpa = 101.325;

Vessel vessel_of_depth(double depth_m, double diameter_m = 0.28) {
  return {.volume_l = 1000.0 * depth_m * std::numbers::pi / 4.0 * diameter_m * diameter_m, .diameter_m = diameter_m};
}

Answer<Delivered> deliver_at(const Supply& supply, const Vessel& vessel) {
  return deliver(supply, vessel, 20.0, sea_level_kpa);
}

TEST(pump, depth_of_the_bucket_is_volume_over_its_cross_section) {
  EXPECT_NEAR((Vessel{.volume_l = 19.0, .diameter_m = 0.28}.depth_m()), 0.3086, 5e-5);  // by hand
}

// source: common practice, no source: rated 2000 L/h gives 1200 to 1500 L/h at 0.3 m
TEST(pump, a_pump_rated_2000_gives_1200_to_1500_at_a_bucket_s_depth) {
  const auto air = deliver_at({.rated_flow_l_per_h = 2000.0}, vessel_of_depth(0.3));
  ASSERT_TRUE(air.ok());
  EXPECT_GE(air->flow_l_per_h, 1200.0);
  EXPECT_LE(air->flow_l_per_h, 1500.0);
}

// source: S19 (physical_constants), 9.789 kPa for each metre at 20 degC, last digit printed
TEST(pump, a_metre_of_water_weighs_what_the_tables_say) {
  const auto air = deliver_at({.rated_flow_l_per_h = 2000.0}, vessel_of_depth(1.0));
  ASSERT_TRUE(air.ok());
  EXPECT_NEAR(air->water_head_kpa, 9.789, 0.001);
}

// source: memory, friction from Darcy: about 1 kPa/m at 10 L/min in a 4 mm bore. "About" is taken as within 15 %.
TEST(pump, a_thin_line_loses_about_a_kilopascal_a_metre) {
  EXPECT_NEAR(line_loss_kpa({.length_m = 1.0, .bore_mm = 4.0, .free_air_l_per_h = 600.0}), 1.0, 0.15);
}

// source: memory, loss falls with d^-4.75 in turbulent flow (Blasius: exponent 19/4 exactly)
TEST(pump, turbulent_loss_falls_with_bore_to_the_power_19_over_4) {
  const double thin = line_loss_kpa({.length_m = 1.0, .bore_mm = 4.0, .free_air_l_per_h = 2000.0});
  const double wide = line_loss_kpa({.length_m = 1.0, .bore_mm = 8.0, .free_air_l_per_h = 2000.0});
  EXPECT_NEAR(std::log2(thin / wide), 4.75, 1e-9);
}

// Hagen-Poiseuille (any textbook, from memory): dp = 128 mu L Q / (pi d^4), with mu = 1.458e-6 T^1.5 / (T + 110.4), S19
TEST(pump, slow_air_loses_what_poiseuille_says) {
  const double t_k = 293.15;
  const double viscosity_pa_s = 1.458e-6 * std::pow(t_k, 1.5) / (t_k + 110.4);
  EXPECT_NEAR(viscosity_pa_s, 1.81e-5, 0.01e-5);  // air at 20 degC, three digits, from memory
  const double flow_m3_per_s = 60.0 / 1000.0 / 3600.0;
  const double wanted_kpa =
      128.0 * viscosity_pa_s * 1.0 * flow_m3_per_s / (std::numbers::pi * std::pow(0.004, 4)) / 1000.0;
  EXPECT_NEAR(line_loss_kpa({.length_m = 1.0, .bore_mm = 4.0, .free_air_l_per_h = 60.0}), wanted_kpa, 1e-9);
}

TEST(pump, compressed_air_is_slower_and_loses_less) {
  const Line open{.length_m = 1.0, .bore_mm = 4.0, .free_air_l_per_h = 2000.0};
  Line pressed = open;
  pressed.gauge_pressure_kpa = 30.0;
  EXPECT_LT(line_loss_kpa(pressed), line_loss_kpa(open));
}

TEST(pump, what_the_pump_gives_is_what_water_line_and_diffuser_take) {
  const Supply supply{.rated_flow_l_per_h = 1500.0, .maximum_pressure_kpa = 30.0};
  const auto air = deliver_at(supply, vessel_of_depth(0.5));
  ASSERT_TRUE(air.ok());
  const double pump_kpa = 30.0 * (1.0 - air->flow_l_per_h / (1500.0 * supply.ageing_share));
  EXPECT_NEAR(pump_kpa, air->back_pressure_kpa, 1e-6);
  EXPECT_NEAR(air->back_pressure_kpa, air->water_head_kpa + air->line_loss_kpa + air->diffuser_loss_kpa, 1e-9);
}

TEST(pump, vvm_is_the_flow_over_the_water_each_minute) {
  const Vessel vessel{.volume_l = 19.0, .diameter_m = 0.28};
  const auto air = deliver_at({.rated_flow_l_per_h = 2000.0}, vessel);
  ASSERT_TRUE(air.ok());
  EXPECT_NEAR(air->vvm, air->flow_l_per_h / 60.0 / 19.0, 1e-12);
}

TEST(pump, an_open_tube_passes_more_air_than_a_stone_and_a_stone_more_than_a_fine_diffuser) {
  const auto flow = [](Diffuser diffuser) {
    return deliver_at({.rated_flow_l_per_h = 2000.0, .diffuser = diffuser}, vessel_of_depth(0.3))->flow_l_per_h;
  };
  EXPECT_GT(flow(Diffuser::open_tube), flow(Diffuser::stone));
  EXPECT_GT(flow(Diffuser::stone), flow(Diffuser::fine));
}

TEST(pump, squeezing_all_the_air_through_one_thin_line_costs_flow) {
  const Vessel vessel = vessel_of_depth(0.3);
  EXPECT_LT(deliver_at({.rated_flow_l_per_h = 2000.0, .line_count = 1}, vessel)->flow_l_per_h,
            0.85 * deliver_at({.rated_flow_l_per_h = 2000.0, .line_count = 4}, vessel)->flow_l_per_h);
}

TEST(pump, an_unstated_pressure_is_assumed_aloud) {
  const auto assumed = deliver_at({.rated_flow_l_per_h = 2000.0}, vessel_of_depth(0.3));
  EXPECT_TRUE(doubts(assumed, "air.maximum_pressure.assumed"));
  EXPECT_EQ(fact(assumed.doubts().front(), "assumed"), 25.0);
  EXPECT_TRUE(
      deliver_at({.rated_flow_l_per_h = 2000.0, .maximum_pressure_kpa = 25.0}, vessel_of_depth(0.3)).doubts().empty());
  EXPECT_EQ(usual_maximum_pressure_kpa(100.0), 12.0);
  EXPECT_EQ(usual_maximum_pressure_kpa(200.0), 12.0);
  EXPECT_EQ(usual_maximum_pressure_kpa(2000.0), 25.0);
  EXPECT_EQ(usual_maximum_pressure_kpa(20000.0), 25.0);
}

TEST(pump, a_tired_pump_may_stop_reaching_the_water_without_the_answer_failing) {
  const auto air = deliver_at({.rated_flow_l_per_h = 2000.0, .maximum_pressure_kpa = 25.0}, vessel_of_depth(2.0));
  ASSERT_TRUE(air.ok());
  EXPECT_EQ(air->flow_low_l_per_h, 0.0);
  EXPECT_GT(air->flow_l_per_h, 0.0);
}

// A stone at 0.3 m needs 2.94 + 3 = 5.94 kPa before the first bubble.
TEST(pump, a_pump_too_weak_for_the_depth_is_refused_with_the_pressure_it_would_need) {
  const auto weak = deliver_at({.rated_flow_l_per_h = 2000.0, .maximum_pressure_kpa = 5.9}, vessel_of_depth(0.3));
  ASSERT_TRUE(refuses(weak, "air.pump.cannot_reach_depth"));
  EXPECT_NEAR(fact(weak.refusals().front(), "least"), 5.937, 0.001);
  EXPECT_FALSE(refuses(deliver_at({.rated_flow_l_per_h = 2000.0, .maximum_pressure_kpa = 6.5}, vessel_of_depth(0.3)),
                       "air.pump.cannot_reach_depth"));
}

TEST(pump, three_metres_is_the_deepest) {
  const Supply strong{.rated_flow_l_per_h = 5000.0, .maximum_pressure_kpa = 60.0};
  EXPECT_TRUE(deliver_at(strong, vessel_of_depth(2.999)).ok());
  EXPECT_TRUE(refuses(deliver_at(strong, vessel_of_depth(3.001)), "air.depth.too_deep"));
}

TEST(pump, a_trickle_is_refused_whether_rated_or_delivered) {
  EXPECT_TRUE(refuses(deliver_at({.rated_flow_l_per_h = 0.1}, vessel_of_depth(0.3)), "air.rated_flow.out_of_range"));
  EXPECT_TRUE(refuses(deliver_at({.rated_flow_l_per_h = 1.0}, vessel_of_depth(0.3)), "air.delivered.too_little"));
  EXPECT_TRUE(deliver_at({.rated_flow_l_per_h = 4.0}, vessel_of_depth(0.3)).ok());
}

TEST(pump, every_number_that_cannot_be_is_named_at_once) {
  const double nan = unset;
  const double infinite = std::numeric_limits<double>::infinity();
  const auto answer = deliver({.rated_flow_l_per_h = -5.0,
                               .maximum_pressure_kpa = 0.0,
                               .tube_length_m = -1.0,
                               .tube_bore_mm = 0.0,
                               .line_count = -1,
                               .ageing_share = 0.0},
                              {.volume_l = nan, .diameter_m = infinite}, 80.0, 0.0);
  for (const char* code :
       {"air.rated_flow.out_of_range", "air.maximum_pressure.out_of_range", "air.tube_length.out_of_range",
        "air.tube_bore.out_of_range", "air.lines.out_of_range", "air.ageing.out_of_range", "air.volume.missing",
        "air.diameter.missing", "air.temperature.out_of_range", "air.site_pressure.out_of_range"}) {
    EXPECT_TRUE(refuses(answer, code)) << code;
  }
  EXPECT_EQ(answer.refusals().size(), 10u);
}

double between(int low, int high, double scale) {
  return *rc::gen::inRange(low, high) * scale;
}

Supply any_supply() {
  return {.rated_flow_l_per_h = between(20, 10000, 1.0),
          .maximum_pressure_kpa = *rc::gen::arbitrary<bool>() ? between(50, 600, 0.1) : unset,
          .diffuser = *rc::gen::element(Diffuser::stone, Diffuser::fine, Diffuser::open_tube),
          .tube_length_m = between(0, 50, 0.1),
          .tube_bore_mm = between(20, 200, 0.1),
          .line_count = *rc::gen::inRange(0, 8)};
}

RC_GTEST_PROP(pump_law, deeper_water_never_raises_the_flow, ()) {
  const Supply supply = any_supply();
  const double depth_m = between(5, 250, 0.01);
  const double deeper_m = depth_m + between(1, 50, 0.01);
  const auto shallow = deliver_at(supply, vessel_of_depth(depth_m));
  const auto deep = deliver_at(supply, vessel_of_depth(deeper_m));
  if (!shallow.ok()) RC_ASSERT(!deep.ok());
  if (deep.ok()) RC_ASSERT(deep->flow_l_per_h <= shallow->flow_l_per_h);
}

RC_GTEST_PROP(pump_law, a_larger_pump_never_gives_less, ()) {
  Supply supply = any_supply();
  const Vessel vessel = vessel_of_depth(between(5, 100, 0.01));
  const auto small = deliver_at(supply, vessel);
  supply.rated_flow_l_per_h *= 1.0 + between(1, 100, 0.01);
  const auto large = deliver_at(supply, vessel);
  if (small.ok()) RC_ASSERT(large.ok() && large->flow_l_per_h >= small->flow_l_per_h);
}

RC_GTEST_PROP(pump_law, the_flow_lies_within_its_band_and_under_the_rating, ()) {
  const Supply supply = any_supply();
  const auto air = deliver_at(supply, vessel_of_depth(between(5, 250, 0.01)));
  if (!air.ok()) return;
  RC_ASSERT(air->flow_low_l_per_h >= 0.0 && air->flow_low_l_per_h <= air->flow_l_per_h);
  RC_ASSERT(air->flow_l_per_h <= air->flow_high_l_per_h);
  RC_ASSERT(air->flow_high_l_per_h <= supply.rated_flow_l_per_h);
}

}  // namespace
}  // namespace barm::air
