#include "cards/local_time.h"

#include <gtest/gtest.h>

namespace barm::cards {
namespace {

// Seconds of the Unix clock at known instants: 1,000,000,000 s is 2001-09-09T01:46:40Z (from memory, POSIX epoch).
constexpr std::int64_t billion_ms = 1'000'000'000'000;

TEST(LocalTime, the_billionth_second_has_its_known_date) {
  EXPECT_EQ(iso_text(billion_ms, "Etc/UTC"), "2001-09-09T01:46:40+00:00");
  EXPECT_EQ(local_text(billion_ms, "Etc/UTC"), "Sun 01:46");
}

// US rule since 2007: clocks go from 02:00 to 03:00 on the second Sunday of March (15 U.S.C. 260a; from memory).
TEST(LocalTime, a_night_across_the_clock_change_loses_an_hour) {
  const std::int64_t change = 1'772'953'200'000;  // 2026-03-08T07:00:00Z
  EXPECT_EQ(iso_text(change - 60'000, "America/New_York"), "2026-03-08T01:59:00-05:00");
  EXPECT_EQ(iso_text(change, "America/New_York"), "2026-03-08T03:00:00-04:00");
}

TEST(LocalTime, zones_off_the_whole_hour_keep_their_minutes) {
  EXPECT_EQ(iso_text(billion_ms, "Asia/Kathmandu"), "2001-09-09T07:31:40+05:45");
  EXPECT_EQ(local_text(billion_ms, "America/Bogota", Language::spanish), "sáb 20:46");
}

TEST(LocalTime, an_instant_before_1970_is_not_rounded_up) {
  EXPECT_EQ(iso_text(-1, "Etc/UTC"), "1969-12-31T23:59:59+00:00");
}

TEST(LocalTime, only_zones_of_the_system_exist) {
  EXPECT_TRUE(zone_exists("America/Mexico_City"));
  EXPECT_FALSE(zone_exists("America/Nowhere"));
  EXPECT_FALSE(zone_exists(""));
  EXPECT_FALSE(zone_exists("../../etc/passwd"));
  EXPECT_GT(zone_names().size(), 300u);
  EXPECT_THROW(iso_text(0, "America/Nowhere"), BrokenPromise);
}

}  // namespace
}  // namespace barm::cards
