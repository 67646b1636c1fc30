#include "water/loss.h"

#include <gtest/gtest.h>

#include <cmath>

#include "quantity/expects.h"
#include "support/published.h"

namespace barm::water {
namespace {

// S26: eight significant digits of decay and six of half-life, so half a unit in the eighth and sixth.
TEST(loss, decay_agrees_with_the_worked_cases) {
  for (const auto& row : test::published("water_chlorine_decay.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double start = row.number("c0_mg_per_l");
    const double rate = row.number("rate_per_day");
    const double printed = row.number("c_mg_per_l");
    EXPECT_NEAR(left_mg_per_l(start, rate, row.number("time_days") * 24.0), printed, printed < 1.0 ? 5e-9 : 5e-8);
    EXPECT_NEAR(half_life_h(rate) / 24.0, row.number("half_life_days"), 0.00006);
    // and back again: the time until that much is left
    EXPECT_NEAR(hours_until(0.0, start, {.chloramine_per_d = rate}, row.number("c_mg_per_l")) / 24.0,
                row.number("time_days"), 1e-6);
  }
}

TEST(loss, two_kinds_go_each_at_its_own_rate) {
  const LossRates rates{.free_chlorine_per_d = 1.0, .chloramine_per_d = 0.1};
  const double hours = hours_until(1.0, 1.0, rates, 0.1);
  EXPECT_NEAR(std::exp(-hours / 24.0) + std::exp(-0.1 * hours / 24.0), 0.1, 1e-8);
  EXPECT_EQ(hours_until(0.05, 0.05, rates, 0.1), 0.0);
}

TEST(loss, share_of_a_day_and_rate_say_the_same) {
  EXPECT_NEAR(left_mg_per_l(1.0, rate_from_share_gone_in_a_day(0.62), 24.0), 0.38, 1e-12);
  EXPECT_EQ(rate_from_share_gone_in_a_day(0.0), 0.0);
}

TEST(loss, quickest_is_not_below_slowest) {
  EXPECT_GT(standing_quickest().free_chlorine_per_d, standing_slowest().free_chlorine_per_d);
  EXPECT_GT(standing_quickest().chloramine_per_d, standing_slowest().chloramine_per_d);
  EXPECT_GT(bubbling_quickest().free_chlorine_per_d, bubbling_slowest().free_chlorine_per_d);
  EXPECT_GT(bubbling_quickest().chloramine_per_d, bubbling_slowest().chloramine_per_d);
}

TEST(loss, bubbles_carry_off_between_nothing_and_all) {
  EXPECT_EQ(most_stripped_share(chloramine_air_over_water, 0.0, 5.0), 0.0);
  EXPECT_NEAR(most_stripped_share(1.0, 1.0, 1.0), 1.0 - std::exp(-1.0), 1e-12);
  EXPECT_LE(most_stripped_share(1.0, 1e6, 1e6), 1.0);
}

TEST(loss, holds_its_caller_to_something_that_leaves) {
  EXPECT_THROW(hours_until(1.0, 0.0, {}, 0.1), BrokenPromise);
  EXPECT_THROW(hours_until(0.0, 1.0, {.free_chlorine_per_d = 1.0}, 0.1), BrokenPromise);
  EXPECT_THROW(hours_until(1.0, 0.0, {.free_chlorine_per_d = 1.0}, 0.0), BrokenPromise);
  EXPECT_THROW(rate_from_share_gone_in_a_day(1.0), BrokenPromise);
}

}  // namespace
}  // namespace barm::water
