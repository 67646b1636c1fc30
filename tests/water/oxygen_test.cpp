// Saturation against printed tables, then what must hold for any water.
#include "water/oxygen.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/published.h"
#include "water/pressure.h"

namespace barm::water {
namespace {

constexpr double kpa_per_mmhg = 101.325 / 760.0;

double hold(const Surface& at) {
  const auto answer = saturation_mg_per_l(at);
  EXPECT_TRUE(answer.ok());
  return answer.ok() ? *answer : unset;
}

bool has(const Remarks& remarks, const std::string& code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& each) { return each.code == code; });
}

// S01 and S02, all rows. Printed rows: tolerances in the rows, two units in the third decimal (five with chlorinity,
// whose printed values came from a table of chlorinity rather than salinity). Recomputed rows: half a unit in the
// fourth.
TEST(oxygen, agrees_with_the_benson_krause_rows) {
  for (const auto& row : test::published("water_oxygen.csv")) {
    SCOPED_TRACE(row.text("id"));
    const Surface at{.temperature_c = row.number("temperature_c"),
                     .pressure_kpa = row.number("pressure_mmhg") * kpa_per_mmhg,
                     .salinity_g_per_kg = row.number("salinity_g_per_kg")};
    const bool recomputed = row.text("kind") == "recomputed_from_equation";
    EXPECT_NEAR(hold(at), row.number("do_sat_mg_per_l"), recomputed ? 0.00006 : row.number("tolerance_mg_per_l"));
  }
}

// S01: salinity is 1.80655 times chlorinity; the rows print six significant digits.
TEST(oxygen, chlorinity_rows_name_the_salinity_used) {
  int seen = 0;
  for (const auto& row : test::published("water_oxygen.csv")) {
    if (row.empty("chlorinity_g_per_kg")) continue;
    SCOPED_TRACE(row.text("id"));
    EXPECT_NEAR(1.80655 * row.number("chlorinity_g_per_kg"), row.number("salinity_g_per_kg"), 0.00006);
    ++seen;
  }
  EXPECT_EQ(seen, 20);
}

// S02: the rows print five decimals of salinity and four of oxygen, so going through our own salinity must keep both.
TEST(oxygen, conductivity_gives_salinity_and_oxygen) {
  int seen = 0;
  for (const auto& row : test::published("water_oxygen.csv")) {
    if (row.empty("conductivity_us_per_cm_25c") || row.number("conductivity_us_per_cm_25c") == 0.0) continue;
    SCOPED_TRACE(row.text("id"));
    const double salinity = salinity_g_per_kg(row.number("conductivity_us_per_cm_25c"));
    EXPECT_NEAR(salinity, row.number("salinity_g_per_kg"), 0.0000051);
    EXPECT_NEAR(hold({.temperature_c = row.number("temperature_c"), .salinity_g_per_kg = salinity}),
                row.number("do_sat_mg_per_l"), row.number("tolerance_mg_per_l"));
    ++seen;
  }
  EXPECT_EQ(seen, 17);
}

TEST(oxygen, agrees_with_the_european_table) {
  for (const auto& row : test::published("water_oxygen_en25814.csv")) {
    SCOPED_TRACE(row.text("id"));
    EXPECT_NEAR(hold({.temperature_c = row.number("temperature_c"), .pressure_kpa = row.number("pressure_kpa")}),
                row.number("do_sat_mg_per_l"), row.number("tolerance_mg_per_l"));
  }
}

// S03 takes a fixed amount off for each g/kg of salt: a straight line where S01 is a curve. The line is the chord to
// about sea water, so that is where the two are compared.
TEST(oxygen, salt_takes_what_the_european_straight_line_takes_at_sea) {
  constexpr double sea_g_per_kg = 40.0;
  for (const auto& row : test::published("water_oxygen_en25814.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double temperature_c = row.number("temperature_c");
    const double lost = hold({.temperature_c = temperature_c}) -
                        hold({.temperature_c = temperature_c, .salinity_g_per_kg = sea_g_per_kg});
    const double printed = row.number("salinity_correction_mg_per_l_per_g_per_kg");
    EXPECT_NEAR(lost / sea_g_per_kg, printed, 0.03 * printed);
  }
}

TEST(oxygen, mid_depth_agrees_with_the_worked_example) {
  for (const auto& row : test::published("water_oxygen_mid_depth.csv")) {
    SCOPED_TRACE(row.text("id"));
    EXPECT_NEAR(
        mid_depth_saturation_mg_per_l(row.number("cs_surface_mg_per_l"), row.number("pressure_ratio_at_diffuser"),
                                      row.number("oxygen_transfer_efficiency")),
        row.number("cs_mean_mg_per_l"), row.number("tolerance_mg_per_l"));
  }
}

// Laws, for any water of the range.
double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1'000'001) / 1e6;
}

RC_GTEST_PROP(oxygen_law, falls_with_heat, ()) {
  const Surface cool{between(0.0, 39.0), between(50.0, 110.0), between(0.0, 40.0)};
  Surface warm = cool;
  warm.temperature_c += between(0.001, 40.0 - cool.temperature_c);
  RC_ASSERT(*saturation_mg_per_l(warm) < *saturation_mg_per_l(cool));
}

RC_GTEST_PROP(oxygen_law, falls_with_salt, ()) {
  const Surface fresh{between(0.0, 40.0), between(50.0, 110.0), between(0.0, 39.0)};
  Surface salty = fresh;
  salty.salinity_g_per_kg += between(0.001, 40.0 - fresh.salinity_g_per_kg);
  RC_ASSERT(*saturation_mg_per_l(salty) < *saturation_mg_per_l(fresh));
}

RC_GTEST_PROP(oxygen_law, falls_with_altitude, ()) {
  const double low_m = between(-500.0, 5000.0);
  const double high_m = low_m + between(0.1, 500.0);
  const double temperature_c = between(0.0, 40.0);
  const Surface low{.temperature_c = temperature_c, .pressure_kpa = pressure_at_altitude_kpa(low_m)};
  const Surface high{.temperature_c = temperature_c, .pressure_kpa = pressure_at_altitude_kpa(high_m)};
  RC_ASSERT(*saturation_mg_per_l(high) < *saturation_mg_per_l(low));
}

RC_GTEST_PROP(oxygen_law, is_a_positive_number_or_a_refusal, ()) {
  const Surface any{between(-20.0, 80.0), between(-10.0, 600.0), between(-10.0, 300.0)};
  const auto answer = saturation_mg_per_l(any);
  RC_ASSERT((answer.ok() ? std::isfinite(*answer) && *answer > 0.0 : !answer.refusals().empty()));
}

// Both sides of each boundary.
TEST(oxygen, doubts_what_nobody_measured) {
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 40.0}).doubts().empty());
  EXPECT_TRUE(has(saturation_mg_per_l({.temperature_c = 40.01}).doubts(), "water.temperature.above_range"));
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 20.0, .pressure_kpa = 50.0}).doubts().empty());
  EXPECT_TRUE(
      has(saturation_mg_per_l({.temperature_c = 20.0, .pressure_kpa = 49.9}).doubts(), "water.pressure.below_range"));
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 20.0, .pressure_kpa = 110.0}).doubts().empty());
  EXPECT_TRUE(
      has(saturation_mg_per_l({.temperature_c = 20.0, .pressure_kpa = 111.0}).doubts(), "water.pressure.above_range"));
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 20.0, .salinity_g_per_kg = 40.0}).doubts().empty());
  EXPECT_TRUE(has(saturation_mg_per_l({.temperature_c = 20.0, .salinity_g_per_kg = 41.0}).doubts(),
                  "water.salinity.above_range"));
}

TEST(oxygen, refuses_water_that_cannot_be) {
  const auto code = [](const Surface& at) {
    const auto answer = saturation_mg_per_l(at);
    return answer.refusals().size() == 1 ? answer.refusals().front().code : std::string("not one refusal");
  };
  const double infinite = std::numeric_limits<double>::infinity();
  EXPECT_EQ(code({}), "water.temperature.not_a_number");
  EXPECT_EQ(code({.temperature_c = -0.01}), "water.temperature.freezing");
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 0.0}).ok());
  EXPECT_EQ(code({.temperature_c = 60.01}), "water.temperature.too_hot");
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 60.0}).ok());
  EXPECT_EQ(code({.temperature_c = 20.0, .pressure_kpa = 0.0}), "water.pressure.not_positive");
  EXPECT_EQ(code({.temperature_c = 20.0, .pressure_kpa = infinite}), "water.pressure.not_a_number");
  EXPECT_EQ(code({.temperature_c = 20.0, .pressure_kpa = 1013.25}), "water.pressure.too_high");
  EXPECT_EQ(code({.temperature_c = 20.0, .pressure_kpa = 2.3}), "water.pressure.boils");
  EXPECT_TRUE(saturation_mg_per_l({.temperature_c = 20.0, .pressure_kpa = 2.4}).ok());
  EXPECT_EQ(code({.temperature_c = 20.0, .salinity_g_per_kg = -0.1}), "water.salinity.negative");
  EXPECT_EQ(code({.temperature_c = 20.0, .salinity_g_per_kg = 261.0}), "water.salinity.too_high");
  EXPECT_EQ(code({.temperature_c = 20.0, .salinity_g_per_kg = unset}), "water.salinity.not_a_number");
}

TEST(oxygen, names_all_that_is_wrong_at_once) {
  const auto answer = saturation_mg_per_l({.temperature_c = -3.0, .pressure_kpa = -1.0, .salinity_g_per_kg = -1.0});
  EXPECT_EQ(answer.refusals().size(), 3u);
}

}  // namespace
}  // namespace barm::water
