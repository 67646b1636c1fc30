// The trade's common practice, no source, as facts to bracket: a usual brew is accepted as one, and its ready window
// overlaps the hours the trade gives at 20 to 22 degC. And the law that more air never hurts, both with the real
// forecast.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "usual.h"

namespace barm::recipe::test {
namespace {

struct Case {
  Aim aim;
  const char* compost;
  double from_h, to_h;  // common practice, no source
};

PlanAsk usual_for(const Case& is, double temperature_c) {
  PlanAsk ask = usual();
  ask.aim = is.aim;
  ask.composts[0].kind = is.compost;
  ask.water_temperature_c = temperature_c;
  ask.room_temperature_c = temperature_c;
  if (is.aim == Aim::fungal) ask.foods[0].name = "humic acid";  // humic acid instead of molasses, the same spoons
  ask.members_count = 128;
  return ask;
}

TEST(a_usual_brew, is_accepted_and_its_window_overlaps_the_trades_hours) {
  for (const Case& is : {Case{Aim::bacterial, "bacterial", 12.0, 18.0}, Case{Aim::fungal, "fungal", 16.0, 24.0},
                         Case{Aim::balanced, "mixed", 16.0, 24.0}}) {
    for (const double temperature_c : {20.0, 21.0, 22.0}) {
      const auto plan = plan_brew(usual_for(is, temperature_c), shipped());
      ASSERT_TRUE(plan.ok()) << plan.refusals().front().code;
      const brew::ReadyWindow& ready = plan->forecast.ready;
      ASSERT_TRUE(ready.exists) << is.compost << " " << temperature_c;
      EXPECT_LE(ready.from_h, is.to_h) << is.compost << " " << temperature_c;
      EXPECT_GE(ready.to_h, is.from_h) << is.compost << " " << temperature_c;
      EXPECT_FALSE(has(plan->warnings, "recipe.warning.warm"));
      EXPECT_FALSE(has(plan->warnings, "recipe.warning.cold"));
      EXPECT_FALSE(has(plan->warnings, "recipe.warning.past_24_h"));
      EXPECT_FALSE(has(plan->warnings, "recipe.warning.much_compost"));
      EXPECT_FALSE(has(plan->warnings, "recipe.warning.little_compost"));
    }
  }
}

TEST(at_equal_demand, more_air_never_lowers_the_odds_of_staying_above_6) {
  double before_above_6 = -1.0, before_below_2 = 2.0;
  for (const double gal_per_h : {100.0, 200.0, 400.0, 570.0, 900.0, 1500.0, 2500.0}) {
    PlanAsk ask = usual();
    ask.foods.resize(1);
    ask.foods[0].amount.measured.value = tbsp_l;
    ask.air.rated_flow_l_per_h = gal_per_h * us_gal_l;
    const auto plan = plan_brew(ask, shipped());
    ASSERT_TRUE(plan.ok());
    // One member of 64 may turn either way: more air also cools the water and so shifts the demand a little.
    EXPECT_GE(plan->forecast.probability_oxygen_stays_above_6, before_above_6 - 1.0 / 64.0) << gal_per_h;
    EXPECT_LE(plan->forecast.probability_oxygen_below_2, before_below_2 + 1.0 / 64.0) << gal_per_h;
    before_above_6 = plan->forecast.probability_oxygen_stays_above_6;
    before_below_2 = plan->forecast.probability_oxygen_below_2;
  }
  EXPECT_GT(before_above_6, 0.5);  // the row of pumps reaches from too little to enough
}

TEST(the_same_ask, gets_the_same_plan) {
  const auto first = plan_brew(usual(), shipped());
  const auto second = plan_brew(usual(), shipped());
  EXPECT_EQ(first->forecast.oxygen_mg_per_l.p50, second->forecast.oxygen_mg_per_l.p50);
  EXPECT_EQ(first->warnings, second->warnings);
}

TEST(a_plan, does_not_depend_on_the_order_of_the_work) {
  const auto backwards = [](int count, const std::function<void(int)>& job) {
    for (int i = count - 1; i >= 0; --i) job(i);
  };
  const auto first = plan_brew(usual(), shipped());
  const auto second = plan_brew(usual(), shipped(), backwards);
  EXPECT_EQ(first->forecast.oxygen_mg_per_l.p05, second->forecast.oxygen_mg_per_l.p05);
  ASSERT_EQ(first->mends.size(), second->mends.size());
  for (std::size_t i = 0; i < first->mends.size(); ++i) EXPECT_EQ(first->mends[i].facts, second->mends[i].facts);
}

TEST(no_number_of_a_plan, is_not_a_number) {
  const auto plan = plan_brew(usual(), shipped());
  for (const double value :
       {plan->uptake_peak_mg_per_l_per_h, plan->supply_at_6_mg_per_l_per_h, plan->conductivity_rise_ms_per_cm,
        plan->nitrogen_mg_per_l, plan->sugar_share, plan->air.vvm, plan->kla.kla20_per_h}) {
    EXPECT_TRUE(std::isfinite(value));
  }
  for (const Mend& mend : plan->mends) EXPECT_TRUE(std::isfinite(mend.probability_oxygen_stays_above_6)) << mend.code;
}

}  // namespace
}  // namespace barm::recipe::test
