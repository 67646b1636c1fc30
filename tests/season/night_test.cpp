// Sunset and sunrise against printed ones, the poles, and nights cut to the stretch asked about.
#include "season/night.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <limits>
#include <optional>
#include <string>

#include "quantity/expects.h"
#include "support/published.h"

namespace barm::season {
namespace {

constexpr std::int64_t hour_ms = 3'600'000;
constexpr std::int64_t day_ms = 24 * hour_ms;

// Days from 1970-01-01 to a date of the Gregorian calendar, counted through years and months.
std::int64_t days_to(int year, int month, int day) {
  const auto leap = [](int y) { return (y % 4 == 0 && y % 100 != 0) || y % 400 == 0; };
  std::int64_t days = 0;
  for (int y = 1970; y < year; ++y) days += leap(y) ? 366 : 365;
  const int lengths[] = {31, leap(year) ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  for (int m = 1; m < month; ++m) days += lengths[m - 1];
  return days + day - 1;
}

std::int64_t midnight_utc(const std::string& date) {
  int year = 0;
  int month = 0;
  int day = 0;
  EXPECT_EQ(std::sscanf(date.c_str(), "%d-%d-%d", &year, &month, &day), 3);
  return days_to(year, month, day) * day_ms;
}

double seconds_of(const std::string& clock) {
  int hours = 0;
  int minutes = 0;
  int seconds = 0;
  EXPECT_GE(std::sscanf(clock.c_str(), "%d:%d:%d", &hours, &minutes, &seconds), 2);
  return hours * 3600.0 + minutes * 60.0 + seconds;
}

// The sunset or sunrise of a local day, in seconds after its midnight.
struct SunOfDay {
  std::optional<double> sunrise_s;
  std::optional<double> sunset_s;
};

SunOfDay sun_of_day(const Place& place, std::int64_t local_midnight) {
  SunOfDay sun;
  const auto inside = [&](std::int64_t at) { return at >= local_midnight && at < local_midnight + day_ms; };
  for (const Night& night : nights(place, local_midnight - day_ms, local_midnight + 2 * day_ms)) {
    if (inside(night.to_at)) sun.sunrise_s = static_cast<double>(night.to_at - local_midnight) / 1000.0;
    if (inside(night.from_at)) sun.sunset_s = static_cast<double>(night.from_at - local_midnight) / 1000.0;
  }
  return sun;
}

// S51 (3 s) and S52 (a minute, being printed in minutes), all rows; the tolerance stands in the row. The solar noon of
// some rows is not compared, since a night has none.
TEST(night, agrees_with_printed_sunrises_and_sunsets) {
  int compared = 0;
  for (const auto& row : test::published("season_sunrise_sunset.csv")) {
    SCOPED_TRACE(row.text("id"));
    const Place place{.latitude_deg = row.number("latitude_deg"), .longitude_deg = row.number("longitude_deg_east")};
    const auto offset_ms = static_cast<std::int64_t>(std::llround(row.number("utc_offset_hours") * 3.6e6));
    const SunOfDay sun = sun_of_day(place, midnight_utc(row.text("date")) - offset_ms);
    ASSERT_TRUE(sun.sunrise_s && sun.sunset_s);
    EXPECT_NEAR(*sun.sunrise_s, seconds_of(row.text("sunrise_local")), row.number("tolerance_s"));
    ++compared;
    if (row.empty("sunset_local")) continue;
    EXPECT_NEAR(*sun.sunset_s, seconds_of(row.text("sunset_local")), row.number("tolerance_s"));
    ++compared;
  }
  EXPECT_EQ(compared, 22);
}

constexpr Place far_north{.latitude_deg = 78.2, .longitude_deg = 15.6};

TEST(night, there_is_none_in_a_polar_summer) {
  const std::int64_t june = days_to(2026, 6, 20) * day_ms;
  EXPECT_TRUE(nights(far_north, june, june + 3 * day_ms).empty());
}

TEST(night, is_the_whole_stretch_in_a_polar_winter) {
  const std::int64_t december = days_to(2026, 12, 20) * day_ms;
  const auto found = nights(far_north, december, december + 3 * day_ms);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].from_at, december);
  EXPECT_EQ(found[0].to_at, december + 3 * day_ms);
}

TEST(night, seasons_are_the_other_way_round_in_the_south) {
  const Place far_south{.latitude_deg = -78.2, .longitude_deg = 15.6};
  const std::int64_t june = days_to(2026, 6, 20) * day_ms;
  const std::int64_t december = days_to(2026, 12, 20) * day_ms;
  EXPECT_EQ(nights(far_south, june, june + day_ms).size(), 1u);
  EXPECT_TRUE(nights(far_south, december, december + day_ms).empty());
}

// Time without sun, and with it, in the day around an instant of UTC at 7.5 degrees east, where the sun turns half way
// between the full hours at which it is watched.
struct Shares {
  std::int64_t dark_ms = 0;
  std::int64_t light_ms = 0;
};
Shares shares_around(double latitude_deg, std::int64_t at) {
  Shares shares{.light_ms = day_ms};
  for (const Night& night :
       nights({.latitude_deg = latitude_deg, .longitude_deg = 7.5}, at - day_ms / 2, at + day_ms / 2)) {
    shares.dark_ms += night.to_at - night.from_at;
    shares.light_ms -= night.to_at - night.from_at;
  }
  return shares;
}

// At midsummer the last night goes at 90 - 23.44 - 0.83 = 65.73 degrees north; on the way there, one shorter than the
// hour in which the sun is watched must be seen.
TEST(night, sees_one_that_lasts_minutes) {
  const std::int64_t midsummer = days_to(2026, 6, 21) * day_ms;
  std::int64_t shortest = day_ms;
  for (double latitude_deg = 65.70; latitude_deg < 65.725; latitude_deg += 0.001) {
    const std::int64_t dark_ms = shares_around(latitude_deg, midsummer).dark_ms;
    EXPECT_GT(dark_ms, 0) << latitude_deg;
    EXPECT_LT(dark_ms, shortest) << latitude_deg;
    shortest = dark_ms;
  }
  EXPECT_LT(shortest, 12 * 60'000);
  EXPECT_EQ(shares_around(65.731, midsummer).dark_ms, 0);
}

// At midwinter the last day goes at 90 - 23.44 + 0.83 = 67.39 degrees north.
TEST(night, sees_the_day_that_lasts_minutes) {
  const std::int64_t noon = days_to(2026, 12, 21) * day_ms + day_ms / 2;
  std::int64_t shortest = day_ms;
  for (double latitude_deg = 67.37; latitude_deg < 67.392; latitude_deg += 0.001) {
    const std::int64_t light_ms = shares_around(latitude_deg, noon).light_ms;
    EXPECT_GT(light_ms, 0) << latitude_deg;
    EXPECT_LT(light_ms, shortest) << latitude_deg;
    shortest = light_ms;
  }
  EXPECT_LT(shortest, 12 * 60'000);
  EXPECT_EQ(shares_around(67.40, noon).light_ms, 0);
}

constexpr Place allotment{.latitude_deg = 51.5, .longitude_deg = -0.1};

TEST(night, is_cut_to_the_stretch) {
  const std::int64_t midnight = days_to(2026, 5, 10) * day_ms;
  const auto whole = nights(allotment, midnight - day_ms / 2, midnight + day_ms / 2);
  ASSERT_EQ(whole.size(), 1u);

  const auto inside = nights(allotment, midnight - hour_ms, midnight + hour_ms);
  ASSERT_EQ(inside.size(), 1u);
  EXPECT_EQ(inside[0].from_at, midnight - hour_ms);
  EXPECT_EQ(inside[0].to_at, midnight + hour_ms);

  const auto first_half = nights(allotment, midnight - day_ms / 2, midnight);
  ASSERT_EQ(first_half.size(), 1u);
  EXPECT_LE(std::abs(first_half[0].from_at - whole[0].from_at), 2);
  EXPECT_EQ(first_half[0].to_at, midnight);

  EXPECT_TRUE(nights(allotment, midnight + 11 * hour_ms, midnight + 13 * hour_ms).empty());
  EXPECT_TRUE(nights(allotment, midnight, midnight).empty());
}

TEST(night, a_week_has_seven_in_order) {
  const std::int64_t noon = days_to(2026, 5, 10) * day_ms + day_ms / 2;
  const auto found = nights(allotment, noon, noon + 7 * day_ms);
  ASSERT_EQ(found.size(), 7u);
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_LT(found[i].from_at, found[i].to_at);
    if (i == 0) continue;
    EXPECT_LT(found[i - 1].to_at, found[i].from_at);
    EXPECT_LT(found[i].to_at - found[i].from_at, found[i - 1].to_at - found[i - 1].from_at);  // May: shorter
  }
}

TEST(night, holds_its_caller_to_a_place_and_a_stretch) {
  EXPECT_THROW(nights({.latitude_deg = 91.0}, 0, day_ms), BrokenPromise);
  EXPECT_THROW(nights({.latitude_deg = std::numeric_limits<double>::quiet_NaN()}, 0, day_ms), BrokenPromise);
  EXPECT_THROW(nights({.longitude_deg = 361.0}, 0, day_ms), BrokenPromise);
  EXPECT_THROW(nights(allotment, day_ms, 0), BrokenPromise);
  EXPECT_THROW(nights(allotment, 0, 401 * day_ms), BrokenPromise);
}

}  // namespace
}  // namespace barm::season
