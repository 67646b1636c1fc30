// The place by the hour of the clock, as a brew that starts in the middle of one sees it.
#include "recipe/room_day.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "recipe/plan.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

constexpr std::int64_t ms_per_min = 60'000, ms_per_h = 60 * ms_per_min;

/// So many degrees as the hour; its clock shows UTC.
RoomDay counting_day() {
  RoomDay day;
  day.by_hour_c.resize(24);
  std::iota(day.by_hour_c.begin(), day.by_hour_c.end(), 0.0);
  for (int i = 0; i < 72; ++i) day.strikes.push_back({i * ms_per_h, i % 24});
  return day;
}

TEST(a_room_by_the_hour, begins_with_the_hour_it_stands_in) {
  const auto steps = room_steps(counting_day(), 22 * ms_per_h + 30 * ms_per_min);
  ASSERT_GT(steps.size(), 3U);
  EXPECT_EQ(steps[0].from_h, 0.0);
  EXPECT_EQ(steps[0].temperature_c, 22.0);
  EXPECT_EQ(steps[1].from_h, 0.5);
  EXPECT_EQ(steps[1].temperature_c, 23.0);
  EXPECT_EQ(steps[2].from_h, 1.5);
  EXPECT_EQ(steps[2].temperature_c, 0.0);
}

TEST(a_room_by_the_hour, leaves_out_hours_that_change_nothing) {
  RoomDay day = counting_day();
  day.by_hour_c.assign(24, 18.0);
  EXPECT_EQ(room_steps(day, 5 * ms_per_h).size(), 1U);
  EXPECT_TRUE(room_steps({}, 0).empty());
}

TEST(a_room_by_the_hour, has_the_mean_of_its_hours) {
  // Half an hour of 22, an hour of 23, half an hour of 0.
  EXPECT_NEAR(mean_c(counting_day(), 22 * ms_per_h + 30 * ms_per_min, 2.0), (11.0 + 23.0) / 2.0, 1e-12);
  EXPECT_NEAR(counting_day().mean_c(), 11.5, 1e-12);
  PlanAsk evening;
  evening.start_at = 22 * ms_per_h + 30 * ms_per_min;
  evening.length_h = 2.0;
  evening.room_day = counting_day();
  EXPECT_NEAR(evening.room_meanwhile_c(), 17.0, 1e-12);
  evening.room_day = {};
  EXPECT_EQ(evening.room_meanwhile_c(), evening.room_temperature_c);
  EXPECT_EQ(counting_day().coldest_c(), 0.0);
}

TEST(a_room_by_the_hour, that_never_changes_is_a_room_of_one_temperature) {
  PlanAsk plain = usual(), told = plain;
  plain.room_temperature_c = 17.0;
  told.start_at = plain.start_at;
  told.room_day.by_hour_c.assign(24, 17.0);
  for (int i = 0; i < 96; ++i) told.room_day.strikes.push_back({told.start_at + i * ms_per_h, i % 24});
  const auto one = plan_brew(plain, shipped()), other = plan_brew(told, shipped());
  ASSERT_TRUE(one.ok() && other.ok());
  EXPECT_EQ(one->forecast.oxygen_mg_per_l.p50, other->forecast.oxygen_mg_per_l.p50);
  EXPECT_EQ(one->forecast.temperature_c.p05, other->forecast.temperature_c.p05);
}

TEST(a_warm_afternoon, warms_the_brew_and_its_night_cools_it) {
  PlanAsk ask = usual();
  ask.room_day.by_hour_c.assign(24, 12.0);
  for (std::size_t hour = 10; hour < 20; ++hour) ask.room_day.by_hour_c[hour] = 30.0;
  for (int i = 0; i < 96; ++i) ask.room_day.strikes.push_back({ask.start_at + i * ms_per_h, (10 + i) % 24});
  const auto plan = plan_brew(ask, shipped());
  ASSERT_TRUE(plan.ok());
  const auto& temperature_c = plan->forecast.temperature_c.p50;
  const auto at = [&](double hour) {
    return temperature_c.at(static_cast<std::size_t>(std::ranges::lower_bound(plan->forecast.time_h, hour) -
                                                     plan->forecast.time_h.begin()));
  };
  EXPECT_GT(at(10.0), at(0.0) + 1.0);   // ten hours at 30 degC
  EXPECT_LT(at(20.0), at(10.0) - 1.0);  // ten at 12
}

}  // namespace
}  // namespace barm::recipe::test
