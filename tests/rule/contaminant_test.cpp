#include "rule/contaminant.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "data/embedded.h"
#include "support/published.h"

namespace barm::rule {
namespace {

const std::vector<Strain>& strains() {
  static const auto all = read_strains(data::file("indicator.toml"));
  return all;
}

// source: S55: tests/published/ctmi_cases.csv, printed to eight figures
TEST(growth_against_temperature, is_as_published) {
  for (const auto& row : test::published("ctmi_cases.csv")) {
    const Strain strain{.t_min_c = row.number("t_min_c"),
                        .t_opt_c = row.number("t_opt_c"),
                        .t_max_c = row.number("t_max_c"),
                        .mu_opt_per_h = row.number("mu_opt_per_h")};
    const double rate = row.number("mu_per_h");
    EXPECT_NEAR(growth_rate_per_h(strain, row.number("temp_c")), rate, 1e-7 * std::max(rate, 0.1)) << row.text("id");
  }
}

// source: S55, S56, S57: tests/published/cardinal_temperatures.csv
TEST(the_strains, have_the_published_temperatures) {
  const std::map<std::string, std::string> ids = {
      {"escherichia_coli_m23", "m23"}, {"escherichia_coli", "broth_1993"}, {"escherichia_coli_k12", "k12"}};
  int found = 0;
  for (const auto& row : test::published("cardinal_temperatures.csv")) {
    for (const auto& strain : strains()) {
      const auto id = ids.find(row.text("organism"));
      if (id == ids.end() || strain.id != id->second) continue;
      ++found;
      EXPECT_EQ(strain.t_min_c, row.number("t_min_c"));
      EXPECT_EQ(strain.t_opt_c, row.number("t_opt_c"));
      EXPECT_EQ(strain.t_max_c, row.number("t_max_c"));
      EXPECT_EQ(strain.mu_opt_per_h, row.number("mu_opt_per_h"));
    }
  }
  EXPECT_EQ(found, 3);
}

GrowthAsk brew(double temperature_c, double hours, double food_g_per_l) {
  GrowthAsk ask{.length_h = hours, .food_cod_g_per_l = food_g_per_l, .compost_cod_g_per_l = 0.3};
  for (double at_h = 0.0; at_h <= hours + 0.01; at_h += 1.0) {
    ask.warmth.time_h.push_back(at_h);
    ask.warmth.low_c.push_back(temperature_c - 1.0);
    ask.warmth.high_c.push_back(temperature_c + 1.0);
  }
  return ask;
}

// source: M01: tests/published/duffy_regrowth.csv. An upper end may not lie below what was seen. 1 g of molasses
// carries 0.80 g of COD (M18). The abstract tells no temperature: 20 degC is assumed.
TEST(the_upper_end, lies_above_every_published_regrowth) {
  for (const auto& row : test::published("duffy_regrowth.csv")) {
    const double food_g_per_l = row.number("molasses_percent") * 10.0 * 0.80;
    const double seen = std::log10(row.number("end_cfu_per_ml") / row.number("begin_cfu_per_ml"));
    EXPECT_GE(growth(brew(20.0, row.number("hours"), food_g_per_l), strains()).decades, seen) << row.text("id");
  }
}

TEST(a_steady_brew, grows_by_its_rate) {
  // At 30 degC the fastest is the strain of 1993: 1.402 1/h of the published row; with 3.3 g/L food half and more.
  GrowthAsk ask = brew(30.0, 10.0, 3.0 - 0.3);
  for (auto& low : ask.warmth.low_c) low = 30.0;
  for (auto& high : ask.warmth.high_c) high = 30.0;
  double fastest = 0.0;
  for (const auto& strain : strains()) fastest = std::max(fastest, growth_rate_per_h(strain, 30.0));
  EXPECT_NEAR(fastest, 1.4020401, 0.1);
  EXPECT_NEAR(growth(ask, strains()).decades, 0.5 * fastest * 10.0 / std::log(10.0), 1e-9);
  EXPECT_NEAR(growth(ask, strains()).doubling_h, std::log(2.0) / (0.5 * fastest), 1e-9);
}

RC_GTEST_PROP(the_upper_end, never_falls_with_more_food_time_or_warmth, ()) {
  const double temperature = *rc::gen::inRange(0, 38), hours = *rc::gen::inRange(1, 48),
               food = *rc::gen::inRange(0, 20);
  const double now = growth(brew(temperature, hours, food), strains()).decades;
  RC_ASSERT(now >= 0.0);
  RC_ASSERT(growth(brew(temperature, hours, food + 1.0), strains()).decades >= now);
  RC_ASSERT(growth(brew(temperature, hours + 1.0, food), strains()).decades >= now);
  RC_ASSERT(growth(brew(temperature + 1.0, hours, food), strains()).decades >= now);
}

RC_GTEST_PROP(each_change_offered, lowers_it_or_leaves_it, ()) {
  const auto told =
      growth(brew(*rc::gen::inRange(0, 38), *rc::gen::inRange(1, 48), *rc::gen::inRange(0, 20)), strains());
  RC_ASSERT(told.without_food_decades <= told.decades);
  RC_ASSERT(told.cooler_decades <= told.decades);
  RC_ASSERT(told.shorter_decades <= told.decades);
}

TEST(a_cold_brew, grows_nothing) {
  const auto told = growth(brew(3.0, 24.0, 5.0), strains());
  EXPECT_EQ(told.decades, 0.0);
  EXPECT_TRUE(std::isnan(told.doubling_h));
}

}  // namespace
}  // namespace barm::rule
