// A place told hour by hour of the garden's clock, over nights in which the clock is changed.
#include <gtest/gtest.h>

#include <numeric>

#include "operations/room_day_read.h"

namespace barm::operations {
namespace {

constexpr std::int64_t ms_per_h = 3'600'000;

/// So many degrees as the hour.
std::vector<double> counting() {
  std::vector<double> hours(24);
  std::iota(hours.begin(), hours.end(), 0.0);
  return hours;
}

/// Of the first hours of a brew: the hour of the clock each begins with, as its temperature.
std::vector<double> temperatures(const std::string& zone, std::int64_t start_at, std::size_t count) {
  Findings findings;
  const auto steps = recipe::room_steps(read_room_day({counting()}, 20.0, zone, start_at, findings), start_at);
  std::vector<double> all;
  for (std::size_t i = 0; i < count; ++i) all.push_back(steps.at(i).temperature_c);
  return all;
}

TEST(a_day_by_the_hour, goes_by_the_garden_s_clock) {
  constexpr std::int64_t at = 1'777'762'800'000;  // 2026-05-02T23:00:00Z, six in the evening in Bogota
  EXPECT_EQ(temperatures("America/Bogota", at, 8), (std::vector<double>{18, 19, 20, 21, 22, 23, 0, 1}));
  EXPECT_EQ(temperatures("Asia/Kolkata", at, 3), (std::vector<double>{4, 5, 6}));  // 04:30 there
  Findings findings;
  const auto half = recipe::room_steps(read_room_day({counting()}, 20.0, "Asia/Kolkata", at, findings), at);
  EXPECT_EQ(half.at(1).from_h, 0.5);
}

// The clocks of Berlin: put on at 01:00 UTC on 29 March 2026, back at 01:00 UTC on 25 October. Source: the zone data.
TEST(a_day_by_the_hour, leaves_out_an_hour_in_spring_and_has_one_twice_in_autumn) {
  constexpr std::int64_t spring = 1'774'742'400'000;  // 2026-03-29T00:00:00Z
  EXPECT_EQ(temperatures("Europe/Berlin", spring, 4), (std::vector<double>{1, 3, 4, 5}));
  constexpr std::int64_t autumn = 1'792'886'400'000;  // 2026-10-25T00:00:00Z
  Findings findings;
  const auto steps = recipe::room_steps(read_room_day({counting()}, 20.0, "Europe/Berlin", autumn, findings), autumn);
  EXPECT_EQ(steps.at(0).temperature_c, 2.0);
  EXPECT_EQ(steps.at(1).temperature_c, 3.0);
  EXPECT_EQ(steps.at(1).from_h, 2.0);  // two hours of two o'clock
}

TEST(a_day_by_the_hour, may_lie_before_1970) {
  EXPECT_EQ(temperatures("UTC", -30 * ms_per_h, 2), (std::vector<double>{18, 19}));
}

TEST(a_day_by_the_hour, has_24_of_them) {
  Findings findings;
  const auto day = read_room_day({{12.0, 13.0}}, 20.0, "UTC", 0, findings);
  EXPECT_FALSE(day.is_told());
  ASSERT_EQ(findings.refusals().size(), 1U);
  EXPECT_EQ(findings.refusals().front().field, "room.by_hour");
  Findings none;
  EXPECT_FALSE(read_room_day({}, 20.0, "UTC", 0, none).is_told());
  EXPECT_FALSE(none.refused());
}

TEST(a_day_of_two_figures, reaches_both_and_nothing_beyond) {
  Findings findings;
  const auto day = read_room_day({.night_c = 9.0, .warmest_is_told = true}, 21.0, "UTC", 0, findings);
  ASSERT_EQ(day.by_hour_c.size(), 24U);
  EXPECT_EQ(day.by_hour_c[15], 21.0);
  EXPECT_EQ(day.by_hour_c[5], 9.0);
  EXPECT_EQ(day.warmest_c(), 21.0);
  EXPECT_EQ(day.coldest_c(), 9.0);
  EXPECT_NEAR(day.by_hour_c[10], 15.0, 1e-12);  // half-way up
  EXPECT_NEAR(day.by_hour_c[22], 15.0, 1e-12);  // half-way down
}

TEST(a_day_of_two_figures, is_refused_with_a_warmer_night_or_beside_the_hours) {
  Findings warmer;
  read_room_day({.night_c = 22.0}, 21.0, "UTC", 0, warmer);
  ASSERT_EQ(warmer.refusals().size(), 1U);
  EXPECT_EQ(warmer.refusals().front().code, "operations.room.night_warmer");
  Findings twice;
  read_room_day({counting(), 9.0}, 21.0, "UTC", 0, twice);
  ASSERT_EQ(twice.refusals().size(), 1U);
  EXPECT_EQ(twice.refusals().front().code, "operations.room.told_twice");
}

TEST(a_day_of_two_figures, is_doubted_without_the_warmest_of_its_day) {
  Findings alone;
  EXPECT_EQ(read_room_day({.night_c = 9.0}, 20.0, "UTC", 0, alone).warmest_c(), 20.0);
  ASSERT_EQ(alone.doubts().size(), 1U);
  EXPECT_EQ(alone.doubts().front().code, "operations.room.night_alone");
  Findings both;
  read_room_day({.night_c = 9.0, .warmest_is_told = true}, 20.0, "UTC", 0, both);
  EXPECT_TRUE(both.doubts().empty());
}

TEST(a_day_by_the_hour, says_that_a_temperature_beside_it_is_not_used) {
  Findings both;
  EXPECT_EQ(read_room_day({.by_hour_c = counting(), .warmest_is_told = true}, 20.0, "UTC", 0, both).by_hour_c,
            counting());
  ASSERT_EQ(both.doubts().size(), 1U);
  EXPECT_EQ(both.doubts().front().code, "operations.room.temperature_unused");
}

}  // namespace
}  // namespace barm::operations
