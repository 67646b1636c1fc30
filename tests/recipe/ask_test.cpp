// What a plan refuses and what it merely warns of, on both sides of every bound.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <set>

#include "recipe/lines.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

Answer<BrewPlan> planned(const PlanAsk& ask) {
  return plan_brew_with(ask, shipped(), pretended);
}

std::set<std::string> refused_fields(const PlanAsk& ask) {
  std::set<std::string> fields;
  const auto plan = planned(ask);  // outlives the loop over its refusals
  for (const Remark& why : plan.refusals()) fields.insert(why.field);
  return fields;
}

struct Bound {
  const char* field;
  double PlanAsk::*value;
  double good, bad;
};

TEST(an_ask, is_refused_past_each_bound_and_taken_at_it) {
  const std::vector<Bound> bounds = {
      {"water.temperature", &PlanAsk::water_temperature_c, lines::water_warmest_c, 38.01},
      {"water.temperature", &PlanAsk::water_temperature_c, lines::water_coldest_c, 1.99},
      {"water.temperature", &PlanAsk::water_temperature_c, 38.0, 40.0},
      {"brew.length", &PlanAsk::length_h, 48.0, 48.01},
      {"brew.length", &PlanAsk::length_h, 1.0, 0.99},
      {"garden.altitude", &PlanAsk::altitude_m, 5000.0, 5001.0},
      {"garden.altitude", &PlanAsk::altitude_m, -450.0, -451.0},
      {"room.temperature", &PlanAsk::room_temperature_c, 45.0, 45.1},
      {"room.humidity", &PlanAsk::room_humidity_share, 1.0, 1.01},
      {"water.volume", &PlanAsk::volume_l, 10.0, 0.99},
      {"water.volume", &PlanAsk::volume_l, 10.0, 5001.0},
      {"vessel.diameter", &PlanAsk::vessel_diameter_m, 0.3, 0.049},
      {"vessel.diameter", &PlanAsk::vessel_diameter_m, 0.3, 0.08},  // over 3 m deep
  };
  for (const Bound& bound : bounds) {
    PlanAsk ask = usual();
    ask.*bound.value = bound.good;
    EXPECT_TRUE(planned(ask).ok()) << bound.field << " = " << bound.good;
    for (const double bad : {bound.bad, unset, std::numeric_limits<double>::infinity()}) {
      ask.*bound.value = bad;
      EXPECT_TRUE(refused_fields(ask).contains(bound.field)) << bound.field << " = " << bad;
    }
  }
}

TEST(an_ask, hears_of_every_wrong_field_at_once) {
  PlanAsk ask = usual();
  ask.length_h = -1.0;
  ask.water_temperature_c = 40.0;
  ask.air.rated_flow_l_per_h = 0.1;
  ask.composts[0].kind = "fungle";
  ask.foods[1].name = "kelpmeal";
  ask.foods[2].amount.measured.value = -2.0;
  EXPECT_EQ(refused_fields(ask), (std::set<std::string>{"brew.length", "water.temperature", "air.rated_flow",
                                                        "compost[1].kind", "food[2].name", "food[3].amount"}));
}

TEST(an_ask, needs_compost_lighter_than_its_water) {
  PlanAsk ask = usual();
  ask.composts[0].mass_g = ask.volume_l * 1000.0 - 1.0;
  EXPECT_TRUE(planned(ask).ok());
  ask.composts[0].mass_g = ask.volume_l * 1000.0;
  EXPECT_EQ(planned(ask).refusals().front().code, "recipe.plan.compost_heavier_than_water");
  ask.composts.clear();
  EXPECT_EQ(planned(ask).refusals().front().code, "recipe.plan.no_compost");
}

TEST(an_ask, with_food_past_any_brew_is_refused) {
  PlanAsk ask = usual();
  ask.foods = {{"molasses", {{49.0 * ask.volume_l, Dimension::mass}}}};
  EXPECT_TRUE(planned(ask).ok());
  ask.foods[0].amount.measured.value = 51.0 * ask.volume_l;
  EXPECT_EQ(planned(ask).refusals().front().code, "recipe.plan.too_much_food");
}

TEST(an_ask, far_in_the_past_is_fine) {
  PlanAsk ask = usual();
  ask.start_at = -1'000'000'000'000;
  EXPECT_TRUE(planned(ask).ok());
}

struct Warned {
  const char* code;
  double PlanAsk::*value;
  double quiet, warned;
};

TEST(an_unwise_ask, is_answered_with_a_warning) {
  for (const Warned& each : std::vector<Warned>{{"recipe.warning.warm", &PlanAsk::water_temperature_c, 26.0, 26.1},
                                                {"recipe.warning.cold", &PlanAsk::water_temperature_c, 12.0, 11.9},
                                                {"recipe.warning.past_24_h", &PlanAsk::length_h, 24.0, 24.5},
                                                {"recipe.warning.shallow", &PlanAsk::vessel_diameter_m, 0.3, 0.6},
                                                {"recipe.warning.not_ready_yet", &PlanAsk::length_h, 12.0, 11.0},
                                                {"recipe.warning.past_ready", &PlanAsk::length_h, 22.0, 22.5}}) {
    PlanAsk ask = usual();
    ask.*each.value = each.quiet;
    EXPECT_FALSE(has(planned(ask)->warnings, each.code)) << each.code;
    ask.*each.value = each.warned;
    EXPECT_TRUE(has(planned(ask)->warnings, each.code)) << each.code;
  }
}

// Source: M01, regrowth of pathogens between 0.2 and 1 % molasses.
TEST(sugar, is_warned_of_above_two_in_a_thousand) {
  PlanAsk ask = usual();
  ask.foods = {{"molasses", {{0.0019 * ask.volume_l * 1000.0, Dimension::mass}}}};
  EXPECT_FALSE(has(planned(ask)->warnings, "recipe.warning.sugar_share"));
  ask.foods[0].amount.measured.value = 0.0022 * ask.volume_l * 1000.0;
  const auto plan = planned(ask);
  EXPECT_TRUE(has(plan->warnings, "recipe.warning.sugar_share"));
  EXPECT_NEAR(plan->sugar_share, 0.0022,
              0.0001);  // one gram of molasses counts as one gram; rounding to the kitchen scale
}

TEST(compost, is_warned_of_outside_one_in_ten_to_one_in_a_hundred) {
  PlanAsk ask = usual();
  const double water_g = ask.volume_l * 1000.0;
  for (const auto& [mass_g, thick, thin] :
       {std::tuple{water_g / 8.0, true, false}, std::tuple{water_g / 40.0, false, false},
        std::tuple{water_g / 120.0, false, true}}) {
    ask.composts[0].mass_g = mass_g;
    EXPECT_EQ(has(planned(ask)->warnings, "recipe.warning.much_compost"), thick) << mass_g;
    EXPECT_EQ(has(planned(ask)->warnings, "recipe.warning.little_compost"), thin) << mass_g;
  }
}

TEST(unknown_water, is_said_and_planned_for) {
  PlanAsk ask = usual();
  EXPECT_FALSE(has(planned(ask)->warnings, "recipe.warning.chlorine_unknown"));
  ask.disinfectant_is_known = false;
  EXPECT_TRUE(has(planned(ask)->warnings, "recipe.warning.chlorine_unknown"));
}

TEST(yucca, is_said_to_lower_oxygen_transfer) {
  PlanAsk ask = usual();
  ask.foods.push_back({"yucca extract", {{tsp_l, Dimension::volume}}});
  EXPECT_TRUE(has(planned(ask)->warnings, "recipe.warning.transfer_lowered"));
}

}  // namespace
}  // namespace barm::recipe::test
