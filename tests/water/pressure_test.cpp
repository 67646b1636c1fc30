#include "water/pressure.h"

#include <gtest/gtest.h>

#include "quantity/expects.h"
#include "support/published.h"

namespace barm::water {
namespace {

// S04: kPa printed to four decimals, mmHg to two; half a unit in the last place.
TEST(pressure, agrees_with_the_standard_atmosphere) {
  for (const auto& row : test::published("water_pressure.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double pressure_kpa = pressure_at_altitude_kpa(row.number("geopotential_altitude_m"));
    EXPECT_NEAR(pressure_kpa, row.number("pressure_isa_kpa"), 0.00006);
    EXPECT_NEAR(pressure_kpa * 760.0 / 101.325, row.number("pressure_isa_mmhg"), 0.0051);
  }
}

// S04, isothermal column: air that does not cool on the way up is warmer, so it thins more slowly than ours.
TEST(pressure, is_never_above_that_of_air_that_does_not_cool) {
  for (const auto& row : test::published("water_pressure.csv")) {
    SCOPED_TRACE(row.text("id"));
    EXPECT_LE(pressure_at_altitude_kpa(row.number("geopotential_altitude_m")) * 760.0 / 101.325,
              row.number("pressure_isothermal_288k_mmhg") + 0.005);
  }
}

TEST(pressure, holds_its_caller_to_the_bounds) {
  EXPECT_NO_THROW(pressure_at_altitude_kpa(lowest_altitude_m));
  EXPECT_NO_THROW(pressure_at_altitude_kpa(highest_altitude_m));
  EXPECT_THROW(pressure_at_altitude_kpa(-501.0), BrokenPromise);
  EXPECT_THROW(pressure_at_altitude_kpa(11'001.0), BrokenPromise);
}

}  // namespace
}  // namespace barm::water
