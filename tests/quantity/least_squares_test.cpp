#include "quantity/least_squares.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "support/published.h"

namespace barm {
namespace {

using Model = double (*)(std::span<const double>, double);

double saturating(std::span<const double> b, double x) {
  return b[0] * (1.0 - std::exp(-b[1] * x));
}
double logistic(std::span<const double> b, double x) {
  return b[0] / (1.0 + std::exp(b[1] - b[2] * x));
}
double power(std::span<const double> b, double x) {
  return b[0] * std::pow(x, b[1]);
}

Model model_named(const std::string& formula) {
  if (formula == "b1*(1-exp(-b2*x))") return saturating;
  if (formula == "b1/(1+exp(b2-b3*x))") return logistic;
  if (formula == "b1*x**b2") return power;
  throw std::runtime_error("no model " + formula);
}

struct Certified {
  Model model = nullptr;
  std::vector<double> start_1, start_2, parameters, standard_errors;
  double residual_sum_of_squares = 0.0;
  double residual_standard_deviation = 0.0;
  int degrees_of_freedom = 0;
  std::vector<double> x, y;
};

std::map<std::string, Certified> certified() {
  std::map<std::string, Certified> sets;
  for (const auto& row : test::published("nls_certified.csv")) {
    Certified& set = sets[row.text("dataset")];
    set.model = model_named(row.text("model"));
    set.start_1.push_back(row.number("start_1"));
    if (!row.empty("start_2")) set.start_2.push_back(row.number("start_2"));
    set.parameters.push_back(row.number("certified_value"));
    set.standard_errors.push_back(row.number("certified_sd"));
    set.residual_sum_of_squares = row.number("rss");
    set.residual_standard_deviation = row.number("residual_sd");
    set.degrees_of_freedom = static_cast<int>(row.number("df"));
  }
  for (const auto& row : test::published("nls_data.csv")) {
    Certified& set = sets.at(row.text("dataset"));
    set.x.push_back(row.number("x"));
    set.y.push_back(row.number("y"));
  }
  return sets;
}

Residuals residuals_of(const Certified& set) {
  return [&set](std::span<const double> b, std::span<double> out) {
    for (std::size_t i = 0; i < set.x.size(); ++i) out[i] = set.y[i] - set.model(b, set.x[i]);
  };
}

void expect_certified(const std::string& name, const Certified& set, const std::vector<double>& start,
                      double parameter_share, double error_share) {
  SCOPED_TRACE(name + " from " + std::to_string(start[0]));
  const auto fit = fit_least_squares(residuals_of(set), start, static_cast<int>(set.x.size()));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->degrees_of_freedom, set.degrees_of_freedom);
  EXPECT_NEAR(fit->residual_sum_of_squares, set.residual_sum_of_squares, 1e-6 * set.residual_sum_of_squares);
  EXPECT_NEAR(fit->residual_standard_deviation, set.residual_standard_deviation,
              1e-6 * set.residual_standard_deviation);
  for (std::size_t i = 0; i < set.parameters.size(); ++i) {
    EXPECT_NEAR(fit->parameters[i], set.parameters[i], parameter_share * std::abs(set.parameters[i]));
    EXPECT_NEAR(fit->standard_errors[i], set.standard_errors[i], error_share * set.standard_errors[i]);
  }
}

// source: S20 (certified to 11 digits) and S21 (R's nls, which stops at a relative offset of 1e-5 or better).
// Six digits of the parameters and four of their standard deviations are asked; the fitter reaches more on the NIST
// sets.
TEST(least_squares, agrees_with_every_certified_set_from_both_starts) {
  const auto sets = certified();
  ASSERT_EQ(sets.size(), 5u);
  for (const auto& [name, set] : sets) {
    ASSERT_EQ(set.x.size(), set.parameters.size() + static_cast<std::size_t>(set.degrees_of_freedom)) << name;
    expect_certified(name, set, set.start_1, 1e-6, 1e-4);
    if (!set.start_2.empty()) expect_certified(name, set, set.start_2, 1e-6, 1e-4);
  }
}

TEST(least_squares, covariance_has_the_squared_errors_on_its_diagonal_and_is_symmetric) {
  const auto sets = certified();
  const auto& set = sets.at("rat42");
  const auto fit = fit_least_squares(residuals_of(set), set.start_2, static_cast<int>(set.x.size()));
  ASSERT_TRUE(fit);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(fit->covariance[4 * i], fit->standard_errors[i] * fit->standard_errors[i], 1e-12);
    for (std::size_t j = 0; j < 3; ++j) EXPECT_DOUBLE_EQ(fit->covariance[3 * i + j], fit->covariance[3 * j + i]);
  }
}

// A straight line has its errors in closed form (any textbook; from memory): slope error = s / sqrt(Sxx).
TEST(least_squares, errors_of_a_straight_line_are_the_textbook_ones) {
  const std::vector<double> x{1, 2, 3, 4, 5, 6};
  const std::vector<double> y{2.1, 3.9, 6.2, 7.8, 10.1, 11.9};
  const Residuals residuals = [&](std::span<const double> b, std::span<double> out) {
    for (std::size_t i = 0; i < x.size(); ++i) out[i] = y[i] - b[0] - b[1] * x[i];
  };
  const auto fit = fit_least_squares(residuals, std::vector<double>{0.0, 0.0}, 6);
  ASSERT_TRUE(fit);
  const double sxx = 17.5;
  EXPECT_NEAR(fit->standard_errors[1], fit->residual_standard_deviation / std::sqrt(sxx), 1e-9);
  EXPECT_NEAR(fit->standard_errors[0], fit->residual_standard_deviation * std::sqrt(1.0 / 6.0 + 3.5 * 3.5 / sxx), 1e-9);
}

TEST(least_squares, two_parameters_that_only_appear_as_a_product_are_not_told_apart) {
  const Residuals residuals = [](std::span<const double> b, std::span<double> out) {
    for (std::size_t i = 0; i < out.size(); ++i)
      out[i] = static_cast<double>(i * i) - b[0] * b[1] * static_cast<double>(i);
  };
  EXPECT_FALSE(fit_least_squares(residuals, std::vector<double>{1.0, 2.0}, 8));
}

// A line through the origin: the intercept comes out as nothing, and its error must not be lost in the rounding.
TEST(least_squares, a_parameter_that_comes_out_as_zero_still_has_its_error) {
  const std::vector<double> y{-0.1, 1.1, 1.9, 3.1, 3.9, 5.1};
  const Residuals residuals = [&](std::span<const double> b, std::span<double> out) {
    for (std::size_t i = 0; i < y.size(); ++i) out[i] = y[i] - b[0] - b[1] * static_cast<double>(i);
  };
  const auto near_zero =
      fit_least_squares(residuals, std::vector<double>{1e-13, 1.0}, 6, std::vector<double>{1.0, 1.0});
  const auto far = fit_least_squares(residuals, std::vector<double>{1.0, 2.0}, 6);
  ASSERT_TRUE(near_zero && far);
  EXPECT_NEAR(near_zero->standard_errors[0], far->standard_errors[0], 1e-9);
}

TEST(least_squares, fewer_readings_than_parameters_give_nothing) {
  const Residuals residuals = [](std::span<const double> b, std::span<double> out) { out[0] = b[0] + b[1]; };
  EXPECT_FALSE(fit_least_squares(residuals, std::vector<double>{1.0, 2.0}, 1));
}

TEST(least_squares, a_model_that_is_not_a_number_gives_nothing) {
  const Residuals residuals = [](std::span<const double> b, std::span<double> out) {
    for (double& r : out) r = std::log(-1.0 - b[0] * b[0]);
  };
  EXPECT_FALSE(fit_least_squares(residuals, std::vector<double>{1.0}, 5));
}

}  // namespace
}  // namespace barm
