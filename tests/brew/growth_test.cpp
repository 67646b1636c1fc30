// How microbes wake up and how warmth drives them, against growth measured in broth. Rows: S59 (Salmonella, 21 counts,
// with the Baranyi and Roberts fit that R made of them), S56 (E. coli M23, growth rates at 27 temperatures).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "brew/batch.h"
#include "brew/brews.h"
#include "brew/process_matrix.h"
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"
#include "brew/tea.h"
#include "support/published.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"
#include "brew/tea_rates.inc"

/// One microbe in broth: the tea's law of waking up, a' = mu a (1 - a), and growth mu a x (1 - x / most).
struct Broth {
  enum State : int { x, a };
  enum Parameter : int { mu, most, parameters };
  static constexpr int state_count = 2, process_count = 2, parameter_count = parameters, observed_count = 1,
                       watched = x;
  static constexpr bool forced = false;
  static constexpr std::array coefficients = {Cell{0, x}, Cell{1, a}};
  static constexpr std::array slopes = {Cell{0, x}, Cell{0, a}, Cell{1, a}};
  static constexpr std::array<double, 2> absolute = {1e-8, 1e-8}, floor = {0.0, 0.0};
  template <class V>
  static void rates(V, const V* y, const V* p, const V*, const V*, V* r) {
    r[0] = p[mu] * y[a] * y[x] * (1.0 - y[x] / p[most]);
    r[1] = p[mu] * y[a] * (1.0 - y[a]);
  }
  template <class V>
  static void rate_slopes(V, const V* y, const V* p, const V*, const V*, V* d) {
    d[0] = p[mu] * y[a] * (1.0 - 2.0 * y[x] / p[most]);
    d[1] = p[mu] * y[x] * (1.0 - y[x] / p[most]);
    d[2] = p[mu] * (1.0 - 2.0 * y[a]);
  }
  template <class V>
  static void observe(V, const V* y, const V*, const V*, const V*, const V*, V* seen) {
    seen[0] = y[x];
  }
};
#include "brew/batch_solver.inc"

// Tolerance: the fit's residual sum is printed with nine digits; ours is off by the solver's relative tolerance.
TEST(growth, waking_up_follows_the_published_lag) {
  std::map<std::string, double> fit;
  for (const test::Row& row : test::published("growth_curve_baranyi_fit.csv")) {
    fit[row.text("parameter")] = row.number("estimate");
    fit["rss"] = row.number("rss");
  }
  std::vector<double> at_h, counted;
  for (const test::Row& row : test::published("growth_curve_data.csv")) {
    at_h.push_back(row.number("time_h"));
    counted.push_back(row.number("log10_n"));
  }
  ASSERT_EQ(at_h.size(), 21U);
  const double mu = fit.at("mu_max_per_h");
  const std::array<double, 2> parameters = {mu, std::pow(10.0, fit.at("log10_nmax"))}, coefficients = {1.0, 1.0};
  std::array<double, 2> state = {std::pow(10.0, fit.at("log10_n0")), std::exp(-mu * fit.at("lag_h"))};
  std::vector<double> grown(at_h.size());
  const Batch batch{.member_count = 1,
                    .parameters = parameters.data(),
                    .coefficients = coefficients.data(),
                    .states = state.data(),
                    .to_h = at_h.back(),
                    .output_at_h = at_h,
                    .outputs = grown.data(),
                    .tolerance = {.relative = 1e-8, .largest_step_h = 0.25}};
  ASSERT_EQ((BatchSolver<Broth, Wide<2>::Number>(batch).run().failed_member_count), 0);
  double residual_sum = 0.0;
  for (std::size_t i = 0; i < at_h.size(); ++i) residual_sum += std::pow(std::log10(grown[i]) - counted[i], 2.0);
  EXPECT_NEAR(residual_sum, fit.at("rss"), 1e-6);
}

struct Cardinal {
  double low_c, best_c, high_c, best_per_h;
};
double residual_sum(const Cardinal& at, const std::vector<test::Row>& rows) {
  double sum = 0.0;
  for (const test::Row& row : rows) {
    using V = Wide<2>::Number;
    V slope;
    const double rate =
        TeaRates::cardinal<V>(all_lanes<V>(row.number("temp_c")), at.low_c, at.best_c, at.high_c, slope)[0] *
        at.best_per_h;
    sum += std::pow(std::sqrt(rate) - row.number("sqrt_mu_per_sqrt_h"), 2.0);
  }
  return sum;
}

// Source: S56 rows; parameters and standard errors of the fit that R made in the square root of the rate. A wrong
// formula would not have its least squares there.
TEST(growth, the_cardinal_model_fits_measured_rates_best_where_another_program_found_it) {
  const auto rows = test::published("growth_rate_temperature.csv");
  ASSERT_EQ(rows.size(), 27U);
  const Cardinal fitted{.low_c = 6.127, .best_c = 41.076, .high_c = 48.121, .best_per_h = 1.8115};
  const double least = residual_sum(fitted, rows);
  for (const double by : {-1.0, 1.0}) {  // standard errors
    EXPECT_GT(residual_sum({fitted.low_c + by * 0.36, fitted.best_c, fitted.high_c, fitted.best_per_h}, rows), least);
    EXPECT_GT(residual_sum({fitted.low_c, fitted.best_c + by * 0.26, fitted.high_c, fitted.best_per_h}, rows), least);
    EXPECT_GT(residual_sum({fitted.low_c, fitted.best_c, fitted.high_c + by * 0.11, fitted.best_per_h}, rows), least);
    EXPECT_GT(residual_sum({fitted.low_c, fitted.best_c, fitted.high_c, fitted.best_per_h + by * 0.032}, rows), least);
  }
}

// Source: S56. The indicator's prior at 20 degC, carried to other temperatures by its cardinal model, holds the rates
// that were measured where brews and warm days are; at most two of the 23 lie outside. Hotter, broth outgrows it: the
// strain's own upper limit is 48 degC, ours 46.
TEST(growth, measured_rates_of_e_coli_lie_within_the_indicators_prior) {
  using V = Wide<2>::Number;
  const auto warmth = [](double t) {
    V slope;
    return TeaRates::cardinal<V>(all_lanes<V>(t), 6.0, 40.5, 46.0, slope)[0];
  };
  const Prior& at_20 = test::priors().of("mu_E");
  int tried = 0, outside = 0;
  for (const test::Row& row : test::published("growth_rate_temperature.csv")) {
    const double t = row.number("temp_c"), measured = row.number("mu_per_h");
    if (t < 10.0 || t > 42.0) continue;
    const double scale = warmth(t) / warmth(20.0);
    ++tried;
    outside += measured < at_20.low * scale || measured > at_20.high * scale ? 1 : 0;
  }
  EXPECT_EQ(tried, 23);
  EXPECT_LE(outside, 2);
}

}  // namespace
}  // namespace barm::brew
