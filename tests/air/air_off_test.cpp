#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "air/reaeration.h"
#include "answers.h"
#include "support/published.h"

namespace barm::air {
namespace {

using Readings = std::vector<OxygenReading>;

constexpr double saturation_mg_per_l = 9.0;

Readings falling(double uptake_per_h, int count = 7, double every_s = 30.0) {
  Readings out;
  for (int i = 0; i < count; ++i) out.push_back({i * every_s, 7.0 - uptake_per_h * i * every_s / 3600.0});
  return out;
}

// Euler steps of a tenth of a second: dC/dt = a (C* - C) - uptake.
Readings recovering(double alpha_kla_per_h, double uptake_per_h, int count = 12) {
  Readings out;
  double oxygen = 4.0;
  for (int tenth = 0; tenth < count * 300; ++tenth) {
    if (tenth % 300 == 0) out.push_back({tenth * 0.1, oxygen});
    oxygen += (alpha_kla_per_h * (saturation_mg_per_l - oxygen) - uptake_per_h) * 0.1 / 3600.0;
  }
  return out;
}

TEST(air_off, the_fall_gives_the_uptake_and_the_recovery_alpha_kla) {
  const auto test = fit_air_off(falling(40.0), recovering(18.0, 40.0), saturation_mg_per_l);
  ASSERT_TRUE(test.ok());
  EXPECT_NEAR(test->uptake_mg_per_l_per_h, 40.0, 1e-9);
  EXPECT_NEAR(test->alpha_kla_per_h, 18.0, 0.02);  // the steps' own error
  EXPECT_TRUE(test.doubts().empty());
}

// The formula itself, at one moment of the recovery: alpha KLa = (dC/dt + uptake) / (C* - C), from memory.
TEST(air_off, alpha_kla_is_the_quotient_of_the_model_at_every_moment) {
  const Readings rising = recovering(18.0, 40.0);
  const double fitted = fit_air_off(falling(40.0), rising, saturation_mg_per_l)->alpha_kla_per_h;
  for (std::size_t i = 1; i + 1 < rising.size(); ++i) {
    const double slope_per_h = (rising[i + 1].oxygen_mg_per_l - rising[i - 1].oxygen_mg_per_l) /
                               (rising[i + 1].time_s - rising[i - 1].time_s) * 3600.0;
    EXPECT_NEAR((slope_per_h + 40.0) / (saturation_mg_per_l - rising[i].oxygen_mg_per_l), fitted, 0.05);
  }
}

TEST(air_off, without_a_recovery_only_the_uptake_is_told) {
  const auto test = fit_air_off(falling(40.0), {}, unset);
  ASSERT_TRUE(test.ok());
  EXPECT_TRUE(std::isnan(test->alpha_kla_per_h));
}

// source: M16, airoff_sbr_A: beaker of aerobic sludge; uptake 36.7 mg/(L h) "in the first minute" is derived in the
// last row. The first 60 s after the valve closed fall at 81, though, while line and probe settle; the 36.7 is met from
// 45 to 105 s (38.4, within 5 % of a figure taken from readings closer together than these).
TEST(air_off, the_published_fall_gives_the_uptake_derived_from_it) {
  Readings all;
  double wanted_per_h = unset;
  for (const auto& row : test::published("airoff_sbr_A.csv")) {
    if (row.text("variable") == "DO") all.push_back({3600.0 * row.number("time_h"), row.number("value")});
    if (row.text("variable") == "OUR first minute") wanted_per_h = row.number("value");
  }
  ASSERT_EQ(all.size(), 21u);
  const Readings settled_minute(all.begin() + 5, all.begin() + 10);  // 45 to 105 s
  const auto test = fit_air_off(settled_minute, {}, unset);
  ASSERT_TRUE(test.ok());
  EXPECT_NEAR(test->uptake_mg_per_l_per_h, wanted_per_h, 0.05 * wanted_per_h);
  EXPECT_TRUE(doubts(fit_air_off(all, {}, unset), "air.test.fall_bends"));
}

TEST(air_off, oxygen_that_does_not_fall_or_does_not_rise_is_refused) {
  EXPECT_TRUE(refuses(fit_air_off(falling(-10.0), {}, unset), "air.test.no_fall"));
  EXPECT_TRUE(refuses(fit_air_off(falling(0.0), {}, unset), "air.test.no_fall"));
  EXPECT_TRUE(refuses(fit_air_off(falling(40.0), falling(40.0), saturation_mg_per_l), "air.test.no_recovery"));
}

TEST(air_off, too_few_readings_bad_times_and_no_saturation_are_all_named) {
  Readings rising = recovering(18.0, 40.0);
  rising[3].time_s = 0.0;
  const auto test = fit_air_off(falling(40.0, 2), rising, unset);
  EXPECT_TRUE(refuses(test, "air.test.too_few_readings"));
  EXPECT_TRUE(refuses(test, "air.test.times_do_not_increase"));
  EXPECT_TRUE(refuses(test, "air.test.saturation_out_of_range"));
}

TEST(air_off, a_recovery_above_saturation_is_refused) {
  EXPECT_TRUE(refuses(fit_air_off(falling(40.0), recovering(18.0, 40.0), 5.0), "air.test.above_saturation"));
}

TEST(air_off, a_recovery_that_says_nothing_of_alpha_kla_is_refused) {
  const Readings rising{{0.0, 4.0}, {30.0, 4.9}, {60.0, 4.2}, {90.0, 5.3}, {120.0, 4.9}, {150.0, 5.5}, {180.0, 5.0}};
  const Readings noisy{{0.0, 7.0}, {30.0, 6.0}, {60.0, 6.8}, {90.0, 5.4}, {120.0, 6.2}, {150.0, 5.0}};
  const auto test = fit_air_off(noisy, rising, 5.6);
  EXPECT_FALSE(test.ok());
}

}  // namespace
}  // namespace barm::air
