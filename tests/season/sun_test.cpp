#include "season/sun.h"

#include <gtest/gtest.h>

#include <chrono>
#include <future>
#include <map>
#include <memory>
#include <string>

#include "support/published.h"

namespace barm::season {
namespace {

// S51: the worked example of the solar position algorithm. Our sun is looked at from the middle of the earth, theirs
// from the garden: at its height of 40 degrees that lifts it by 8.8" cos 40 = 0.0019 degree, which is taken off.
TEST(sun, stands_where_the_worked_example_says) {
  std::map<std::string, double> printed;
  for (const auto& row : test::published("season_sun_position.csv")) {
    if (row.text("quantity") != "date_time_local") printed[row.text("quantity")] = row.number("value");
  }
  const std::int64_t at = 1'066'419'030'000;  // 2003-10-17T19:30:30Z
  EXPECT_NEAR(static_cast<double>(at) / 86'400'000.0 + 2'440'587.5, printed.at("julian_day"), 1e-6);

  Almanac almanac;
  const SunPosition sun = almanac.sun(at);
  EXPECT_NEAR(sun.apparent_longitude_deg, printed.at("apparent_sun_longitude"), 1e-4);
  EXPECT_NEAR(sun.right_ascension_deg, printed.at("right_ascension"), 1e-4);
  EXPECT_NEAR(sun.declination_deg, printed.at("declination"), 1e-4);

  const Place golden{.latitude_deg = printed.at("latitude"), .longitude_deg = printed.at("longitude")};
  EXPECT_NEAR(almanac.sun_height_deg(golden, at) - 0.0019, printed.at("elevation_no_refraction"), 2e-4);
}

// libnova keeps its nutation for a tenth of a day; whoever asked before us must leave no trace, not in the last digit.
TEST(sun, stands_there_whatever_was_asked_before) {
  const std::int64_t at = 1'780'000'000'000;
  const std::int64_t two_hours_earlier = at - 7'200'000;
  Almanac().sun(0);
  const SunPosition fresh = Almanac().sun(at);
  Almanac().sun(0);
  Almanac().sun(two_hours_earlier);
  const SunPosition stale = Almanac().sun(at);
  EXPECT_EQ(fresh.apparent_longitude_deg, stale.apparent_longitude_deg);
  EXPECT_EQ(fresh.declination_deg, stale.declination_deg);
}

TEST(sun, lets_one_thread_in_at_a_time) {
  auto mine = std::make_unique<Almanac>();
  auto theirs = std::async(std::launch::async, [] { return Almanac().sun(0).declination_deg; });
  EXPECT_EQ(theirs.wait_for(std::chrono::milliseconds(50)), std::future_status::timeout);
  mine.reset();
  const double told_there = theirs.get();
  EXPECT_EQ(told_there, Almanac().sun(0).declination_deg);
}

}  // namespace
}  // namespace barm::season
