// Series of counts against worked means, and censored fits against their own likelihood.
#include "count/series.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <sstream>

#include "count/tables.h"
#include "data/embedded.h"
#include "support/published.h"

namespace barm::count {
namespace {

bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}
const SeriesRule bathing{.id = "x", .mean_most = 126.0, .single_most = 235.0, .samples_least = 5};

// Recomputed from the definition to eight digits: half of the last is at most 5e-8.
TEST(series, means_and_percentiles_agree_with_the_worked_rows) {
  int seen = 0;
  for (const auto& row : test::published("geometric_mean.csv")) {
    SCOPED_TRACE(row.text("id"));
    Series in;
    std::stringstream cells(row.text("values"));
    for (std::string cell; std::getline(cells, cell, ';');) in.found.push_back(std::stod(cell));
    const auto told = judge_series(in, bathing);
    ASSERT_TRUE(told.ok());
    EXPECT_NEAR(told->geometric_mean / row.number("geometric_mean"), 1.0, 5e-8);
    if (in.found.size() > 1) {
      EXPECT_NEAR(told->percentile_90 / row.number("lognormal_90th_percentile"), 1.0, 5e-8);
      ++seen;
    }
  }
  EXPECT_EQ(seen, 6);
}

// The criteria as data, at both sides of each bound.
TEST(series, is_held_to_the_mean_the_single_sample_and_the_number) {
  const auto judged = [](std::vector<double> found) { return *judge_series({.found = std::move(found)}, bathing); };
  EXPECT_TRUE(judged({126, 126, 126, 126, 126}).meets());
  EXPECT_FALSE(judged({126, 126, 126, 126, 126.1}).mean_is_kept);
  EXPECT_TRUE(judged({235, 1, 1, 1, 1}).meets());
  EXPECT_FALSE(judged({236, 1, 1, 1, 1}).single_is_kept);
  EXPECT_EQ(judged({236, 1, 1, 1, 1}).over_single_count, 1);
  EXPECT_EQ(judged({10, 10, 10}).samples_owed_count, 2);
  EXPECT_FALSE(judged({10, 10, 10}).meets());
  SeriesRule tenth = bathing;
  tenth.single_over_share = 0.1;
  const std::vector<double> nine(9, 10.0);
  auto ten = nine;
  ten.push_back(500.0);
  auto two = ten;
  two.push_back(500.0);
  EXPECT_TRUE(judge_series({.found = ten}, tenth)->single_is_kept);   // 1 in 10
  EXPECT_FALSE(judge_series({.found = two}, tenth)->single_is_kept);  // 2 in 11
}

TEST(series, an_average_is_the_plain_mean_where_the_rule_says_so) {
  const Tables tables = Tables::read(data::file("counts.toml"));
  const auto rule = tables.series_rule("us_nosb_2004");
  ASSERT_TRUE(rule.ok());
  const auto told = judge_series({.found = {10.0, 300.0}}, **rule);
  EXPECT_NEAR(told->arithmetic_mean, 155.0, 1e-12);
  EXPECT_NEAR(told->geometric_mean, std::sqrt(3000.0), 1e-9);
  EXPECT_FALSE(told->mean_is_kept);  // 155 is above 126, though 55 is not
  EXPECT_TRUE(tables.series_rule("us_epa_2012").ok());
  EXPECT_TRUE(has(tables.series_rule("us_epa").refusals(), "count.name.unknown", "rule"));
}

TEST(series, what_was_not_found_is_taken_as_asked) {
  Series in{.found = {40.0, 90.0}, .not_found = {10.0}};
  EXPECT_NEAR(judge_series(in, bathing)->geometric_mean, std::cbrt(40.0 * 90.0 * 10.0), 1e-9);
  in.treat = NotFound::half_limit;
  EXPECT_NEAR(judge_series(in, bathing)->geometric_mean, std::cbrt(40.0 * 90.0 * 5.0), 1e-9);
  in.treat = NotFound::maximum_likelihood;
  EXPECT_LT(judge_series(in, bathing)->geometric_mean, std::cbrt(40.0 * 90.0 * 10.0));
}

double ln_likelihood(const Series& in, double mean, double deviation) {
  double sum = 0.0;
  for (const double x : in.found) {
    const double z = (std::log(x) - mean) / deviation;
    sum += -std::log(deviation) - z * z / 2.0;
  }
  for (const double x : in.not_found)
    sum += std::log(0.5 * std::erfc(-(std::log(x) - mean) / deviation / std::sqrt(2.0)));
  return sum;
}

// S90: the fit is where its own likelihood is highest; the error of the mean is that of its curvature.
TEST(series, the_censored_fit_maximises_its_likelihood) {
  for (const Series& in :
       {Series{.found = {40, 90, 15, 300}, .not_found = {10, 10, 30}, .treat = NotFound::maximum_likelihood},
        Series{.found = {12, 14}, .not_found = {10, 10, 10, 10, 10, 10}, .treat = NotFound::maximum_likelihood},
        Series{.found = {5, 2000}, .not_found = {1}, .treat = NotFound::maximum_likelihood}}) {
    const auto told = judge_series(in, bathing);
    ASSERT_TRUE(told.ok());
    const double n = static_cast<double>(told->samples_count);
    const double mean = std::log(told->geometric_mean);
    const double deviation = told->ln_standard_deviation / std::sqrt(n / (n - 1.0));
    const auto at = [&](double m, double d) { return ln_likelihood(in, m, d); };
    const double h = 1e-4;
    EXPECT_NEAR((at(mean + h, deviation) - at(mean - h, deviation)) / (2 * h), 0.0, 1e-5);
    EXPECT_NEAR((at(mean, deviation + h) - at(mean, deviation - h)) / (2 * h), 0.0, 1e-5);
    const double top = at(mean, deviation), k = 1e-3;
    const double mm = -(at(mean + k, deviation) - 2 * top + at(mean - k, deviation)) / (k * k);
    const double dd = -(at(mean, deviation + k) - 2 * top + at(mean, deviation - k)) / (k * k);
    const double md = -(at(mean + k, deviation + k) - at(mean + k, deviation - k) - at(mean - k, deviation + k) +
                        at(mean - k, deviation - k)) /
                      (4 * k * k);
    const double error = std::sqrt(dd / (mm * dd - md * md) * n / (n - 1.0));
    const double t = std::log(told->high_95 / told->geometric_mean) / error;
    EXPECT_NEAR(t, n == 7 ? 2.446912 : n == 8 ? 2.364624 : 4.302653, 2e-3);  // Student's t, from any table
  }
}

// Drawn from a known log-normal with a third below the limit: maximum likelihood finds the mean, the limit overtells
// it.
TEST(series, maximum_likelihood_is_less_biased_than_the_limit) {
  std::mt19937_64 chance(7);
  std::normal_distribution<double> normal(std::log(20.0), 1.2);
  double by_limit = 0.0, by_likelihood = 0.0;
  int drawn = 0;
  for (int i = 0; i < 400; ++i) {
    Series in;
    for (int k = 0; k < 20; ++k) {
      const double x = std::exp(normal(chance));
      if (x < 12.0)
        in.not_found.push_back(12.0);
      else
        in.found.push_back(x);
    }
    if (in.found.size() < 2) continue;
    by_limit += std::log(judge_series(in, bathing)->geometric_mean);
    in.treat = NotFound::maximum_likelihood;
    by_likelihood += std::log(judge_series(in, bathing)->geometric_mean);
    ++drawn;
  }
  EXPECT_NEAR(by_likelihood / drawn, std::log(20.0), 0.05);
  EXPECT_GT(by_limit / drawn, std::log(20.0) + 0.2);
}

TEST(series, tells_how_many_samples_would_make_it_sure) {
  const Series in{.found = {50, 100, 80, 200, 60}};
  const auto told = judge_series(in, bathing);
  EXPECT_TRUE(told->mean_is_kept);
  EXPECT_FALSE(told->is_sure);
  EXPECT_GT(told->high_95, 126.0);
  // With so many of the same mean and deviation the limit falls just under, with one fewer it does not (t of 10 and of
  // 9).
  const double room = std::log(126.0 / told->geometric_mean) / told->ln_standard_deviation;
  const double n = static_cast<double>(told->samples_for_confidence_count);
  EXPECT_EQ(told->samples_for_confidence_count, 11);
  EXPECT_LE(2.228139 / std::sqrt(n), room);
  EXPECT_GT(2.262157 / std::sqrt(n - 1.0), room);
  EXPECT_EQ(judge_series({.found = {500, 600, 700, 800, 900}}, bathing)->samples_for_confidence_count, -1);
}

TEST(series, doubts_what_cannot_be_told_from_it) {
  EXPECT_TRUE(has(judge_series({.found = {10, 20}}, bathing).doubts(), "count.series.samples_owed", "found"));
  EXPECT_TRUE(has(judge_series({.found = {10, 20}}, bathing).doubts(), "count.series.few", "found"));
  EXPECT_TRUE(judge_series({.found = {10, 20, 10, 20, 30}}, bathing).doubts().empty());
  const auto none = judge_series({.found = {}, .not_found = {1, 1, 1, 1, 1}}, bathing);
  EXPECT_TRUE(has(none.doubts(), "count.series.none_found", "not_found"));
  EXPECT_TRUE(none->meets());
  EXPECT_TRUE(std::isnan(none->highest));
  EXPECT_TRUE(has(judge_series({.found = {10, 20}, .not_found = {1, 1, 1}}, bathing).doubts(),
                  "count.series.mostly_not_found", "not_found"));
  const auto undecided = judge_series({.found = {10, 20, 30, 40}, .not_found = {300}}, bathing);
  EXPECT_TRUE(has(undecided.doubts(), "count.series.undecided", "not_found"));
  EXPECT_FALSE(undecided->single_is_kept);
  const auto at_line = judge_series({.found = {10, 20, 30, 40}, .not_found = {bathing.single_most}}, bathing);
  EXPECT_EQ(at_line->undecided_count, 0);  // not found at the line itself is not over it
  EXPECT_TRUE(at_line->single_is_kept);
}

TEST(series, refuses_what_is_no_series) {
  EXPECT_TRUE(has(judge_series({}, bathing).refusals(), "count.list.empty", "found"));
  EXPECT_TRUE(has(judge_series({.found = {10, 0}}, bathing).refusals(), "count.number.outside", "found[2]"));
  EXPECT_TRUE(has(judge_series({.found = {10}, .not_found = {-1}}, bathing).refusals(), "count.number.outside",
                  "not_found[1]"));
  EXPECT_TRUE(has(judge_series({.found = {10}}, {}).refusals(), "count.series.nothing_asked", "mean_most"));
  EXPECT_TRUE(has(
      judge_series({.found = {10, 10}, .not_found = {1}, .treat = NotFound::maximum_likelihood}, bathing).refusals(),
      "count.series.too_few_found", "treat"));
  EXPECT_TRUE(
      judge_series({.found = {10, 10}, .treat = NotFound::maximum_likelihood}, bathing).ok());  // nothing censored
}

RC_GTEST_PROP(series_law, methods_are_ordered_and_agree_without_non_detects, ()) {
  Series in;
  const int n = *rc::gen::inRange(3, 12);
  for (int i = 0; i < n; ++i) in.found.push_back(*rc::gen::inRange(100, 100000) / 10.0);
  RC_PRE(std::any_of(in.found.begin(), in.found.end(), [&](double x) { return x != in.found.front(); }));
  const auto plain = judge_series(in, bathing);
  in.treat = NotFound::maximum_likelihood;
  const auto likely = judge_series(in, bathing);
  RC_ASSERT(std::abs(plain->high_95 / likely->high_95 - 1.0) < 1e-9);
  RC_ASSERT(plain->geometric_mean <= plain->arithmetic_mean * (1.0 + 1e-12));
  in.not_found = {5.0, 10.0};
  in.treat = NotFound::at_limit;
  const double limit = judge_series(in, bathing)->geometric_mean;
  in.treat = NotFound::half_limit;
  RC_ASSERT(judge_series(in, bathing)->geometric_mean < limit);
  in.treat = NotFound::maximum_likelihood;
  RC_ASSERT(judge_series(in, bathing)->geometric_mean < limit * (1.0 + 1e-9));
}

}  // namespace
}  // namespace barm::count
