#include "air/flow_response.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "answers.h"
#include "support/published.h"

namespace barm::air {
namespace {

std::vector<FlowTest> series(const std::string& file) {
  constexpr double l_per_h_of_umol_per_s =
      3600e-6 * 24.2;  // molar volume at 22 degC, 1 atm [L], from memory; a factor only
  std::vector<FlowTest> tests;
  for (const auto& row : test::published(file)) {
    const std::string& condition = row.text("condition");
    const auto digits = condition.find_first_of("0123456789");
    tests.push_back({.flow_l_per_h = std::stod(condition.substr(digits)) * l_per_h_of_umol_per_s,
                     .kla_per_h = row.number("value")});
  }
  return tests;
}

// source: M16, kla_jar_2018_bad: a group whose air control had failed; KLa is the same from 30 to 2000 umol/s
TEST(flow_response, a_series_whose_air_control_had_failed_is_refused) {
  const auto tests = series("kla_jar_2018_bad.csv");
  ASSERT_EQ(tests.size(), 6u);
  EXPECT_TRUE(refuses(flow_response(tests), "air.flow_response.none"));
}

// source: M16, kla_jar_2019: 23 runs of another year, whose air was measured
TEST(flow_response, a_series_whose_air_was_measured_answers_to_it) {
  const auto tests = series("kla_jar_2019.csv");
  ASSERT_EQ(tests.size(), 23u);
  const auto law = flow_response(tests);
  ASSERT_TRUE(law.ok());
  EXPECT_TRUE(law.doubts().empty());
  EXPECT_NEAR(law->exponent, 0.53, 0.005);
}

TEST(flow_response, an_exact_power_law_comes_back) {
  std::vector<FlowTest> tests;
  for (const double flow : {100.0, 200.0, 500.0, 900.0}) tests.push_back({flow, 2.0 * std::pow(flow, 0.7)});
  const auto law = flow_response(tests);
  ASSERT_TRUE(law.ok());
  EXPECT_NEAR(law->exponent, 0.7, 1e-12);
  EXPECT_NEAR(law->kla_per_h(300.0), 2.0 * std::pow(300.0, 0.7), 1e-9);
}

TEST(flow_response, a_series_that_scatters_too_much_to_tell_is_doubted) {
  const std::vector<FlowTest> tests{{100.0, 10.0}, {150.0, 25.0}, {300.0, 12.0}, {400.0, 28.0}};
  EXPECT_TRUE(doubts(flow_response(tests), "air.flow_response.unclear"));
}

TEST(flow_response, too_few_too_alike_or_impossible_tests_are_refused) {
  EXPECT_TRUE(refuses(flow_response(std::vector<FlowTest>{{1.0, 1.0}, {2.0, 2.0}, {3.0, 3.0}}),
                      "air.flow_response.too_few_tests"));
  EXPECT_TRUE(refuses(flow_response(std::vector<FlowTest>{{1.0, 1.0}, {1.2, 1.1}, {1.4, 1.2}, {1.9, 1.3}}),
                      "air.flow_response.flows_too_alike"));
  EXPECT_TRUE(refuses(flow_response(std::vector<FlowTest>{{1.0, 1.0}, {2.0, 0.0}, {3.0, 1.2}, {5.0, 1.3}}),
                      "air.flow_response.not_positive"));
}

}  // namespace
}  // namespace barm::air
