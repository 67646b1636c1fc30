#include <gtest/gtest.h>

#include <algorithm>

#include "recipe/lines.h"
#include "recipe/trial.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

BrewPlan planned(const PlanAsk& ask) {
  return plan_brew_with(ask, shipped(), pretended).value();
}

PlanAsk failing() {
  PlanAsk ask = usual();
  ask.foods[0].amount.measured.value *= 1.3;
  ask.air.rated_flow_l_per_h = 3000.0;
  return ask;
}

const Mend* find(const BrewPlan& plan, std::string_view code) {
  const auto at =
      std::find_if(plan.mends.begin(), plan.mends.end(), [&](const Mend& each) { return each.code == code; });
  return at == plan.mends.end() ? nullptr : &*at;
}

TEST(a_plan_that_holds, needs_no_mending) {
  PlanAsk ask = usual();
  ask.foods.clear();
  const BrewPlan plan = planned(ask);
  EXPECT_EQ(plan.verdict, Verdict::holds);
  EXPECT_TRUE(plan.mends.empty());
}

TEST(a_failing_plan, is_not_mended_when_nobody_wants_that) {
  PlanAsk ask = failing();
  ask.wants_mends = false;
  const BrewPlan plan = planned(ask);
  EXPECT_NE(plan.verdict, Verdict::holds);
  EXPECT_TRUE(plan.mends.empty());
}

TEST(a_mend, that_claims_to_mend_meets_every_line) {
  const BrewPlan plan = planned(failing());
  ASSERT_NE(plan.verdict, Verdict::holds);
  ASSERT_FALSE(plan.mends.empty());
  for (const Mend& mend : plan.mends) {
    if (!mend.mends) continue;
    EXPECT_GE(mend.probability_oxygen_stays_above_6, lines::stays_above_6_least) << mend.code;
    EXPECT_LE(mend.probability_oxygen_below_2, lines::below_2_most) << mend.code;
  }
}

TEST(less_food, when_it_is_carried_out_meets_every_line) {
  const PlanAsk ask = failing();
  const BrewPlan plan = planned(ask);
  const Mend* mend = find(plan, "recipe.mend.less_food");
  ASSERT_NE(mend, nullptr);
  PlanAsk mended = ask;
  mended.foods[0].amount.measured = std::get<Quantity>(mend->facts.at("to"));
  EXPECT_LT(mended.foods[0].amount.measured.value, ask.foods[0].amount.measured.value);
  EXPECT_EQ(planned(mended).verdict, Verdict::holds);
  mended.foods[0].amount.measured.value *= 1.5;  // and it is near the smallest change
  EXPECT_NE(planned(mended).verdict, Verdict::holds);
}

TEST(more_air, when_it_is_carried_out_meets_every_line) {
  PlanAsk ask = usual();
  ask.foods[0].amount.measured.value *= 0.6;
  ask.air.rated_flow_l_per_h = 1200.0;
  const BrewPlan plan = planned(ask);
  ASSERT_NE(plan.verdict, Verdict::holds);
  const Mend* mend = find(plan, "recipe.mend.more_air");
  ASSERT_NE(mend, nullptr);
  ASSERT_TRUE(mend->mends);
  ask.air.rated_flow_l_per_h = std::get<Quantity>(mend->facts.at("to")).value;
  EXPECT_EQ(planned(ask).verdict, Verdict::holds);
}

TEST(a_brew_that_is_only_too_long, is_mended_by_stopping_at_24_h) {
  PlanAsk ask = usual();
  ask.foods.clear();
  ask.length_h = 30.0;
  const BrewPlan plan = planned(ask);
  EXPECT_EQ(plan.headline.code, "recipe.headline.too_long");
  ASSERT_EQ(plan.mends.size(), 1u);
  EXPECT_EQ(plan.mends[0].code, "recipe.mend.shorter");
  EXPECT_DOUBLE_EQ(std::get<Quantity>(plan.mends[0].facts.at("to")).value, 24.0);
  EXPECT_TRUE(plan.mends[0].mends);
}

TEST(a_brew_that_no_single_change_mends, is_offered_one_that_at_least_keeps_it_from_going_flat) {
  PlanAsk ask = usual();
  ask.water_temperature_c = ask.room_temperature_c = 25.0;
  ask.air.rated_flow_l_per_h = 300.0 * us_gal_l;
  ask.air.maximum_pressure_kpa = 15.0;
  ask.length_h = 22.0;
  ask.aim = Aim::bacterial;
  const BrewPlan plan = plan_brew(ask, shipped()).value();
  ASSERT_EQ(plan.verdict, Verdict::fails);
  ASSERT_FALSE(plan.mends.empty());
  for (const Mend& mend : plan.mends) {
    EXPECT_EQ(mend.mends,
              judge({mend.probability_oxygen_stays_above_6, mend.probability_oxygen_below_2, 22.0}) == Verdict::holds)
        << mend.code;
    EXPECT_LT(mend.probability_oxygen_below_2, plan.forecast.probability_oxygen_below_2) << mend.code;
  }
}

TEST(a_cooler_brew_in_a_place_that_swings, is_cooler_by_day_and_by_night) {
  PlanAsk ask = usual();
  ask.water_temperature_c = ask.room_temperature_c = 25.0;
  ask.room_day.by_hour_c = swinging_by_hour_c(25.0, 17.0);
  ask.room_day.is_of_two = true;
  for (int i = 0; i < 96; ++i) ask.room_day.strikes.push_back({ask.start_at + i * 3'600'000, (17 + i) % 24});
  Findings findings;
  const auto brewing = check(ask, shipped(), findings);
  ASSERT_TRUE(brewing.has_value());
  const Forecaster forecaster = [](const auto&... of) { return brew::forecast(of...); };
  const auto trial = cooler({*brewing, shipped(), forecaster, Goal::every_line});
  ASSERT_TRUE(trial.has_value());
  const double by_c = 25.0 - std::get<Quantity>(trial->facts.at("to")).value;
  EXPECT_GE(by_c, 2.0);
  std::map<std::string, std::string> written;
  for (const Change& change : trial->changes) written[change.field] = change.value;
  EXPECT_EQ(written.at("room.temperature"), write({25.0 - by_c, Dimension::temperature}, ask.customs, 4));
  EXPECT_EQ(written.at("room.night"), write({17.0 - by_c, Dimension::temperature}, ask.customs, 4));
}

TEST(a_hopeless_brew, is_offered_the_best_help_marked_as_such) {
  PlanAsk ask = usual();
  ask.foods = {{"sugar", {{40.0 * ask.volume_l / 2.0, Dimension::mass}}},
               {"molasses", {{40.0 * ask.volume_l / 2.0, Dimension::mass}}}};
  ask.air.rated_flow_l_per_h = 60.0;
  const BrewPlan plan = planned(ask);
  EXPECT_EQ(plan.verdict, Verdict::fails);
  ASSERT_LE(plan.mends.size(), 1u);
  for (const Mend& mend : plan.mends) EXPECT_FALSE(mend.mends);
}

}  // namespace
}  // namespace barm::recipe::test
