// Nonlinear least squares: the parameters that bring a model nearest its readings, and how well the readings fix them.
// Method: Levenberg-Marquardt as in MINPACK, from Eigen's unsupported NonLinearOptimization module.
// Checked against certified values (S20) and R's nls (S21): tests/quantity/least_squares_test.cpp
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace barm {

/// Writes reading minus model, one for each reading, for the parameters given.
using Residuals = std::function<void(std::span<const double> parameters, std::span<double> residuals)>;

struct LeastSquaresFit {
  std::vector<double> parameters;
  std::vector<double> standard_errors;  // of the parameters, same order; independent errors of one size are assumed
  std::vector<double> covariance;       // row after row, parameter by parameter
  double residual_sum_of_squares = 0.0;
  double residual_standard_deviation = 0.0;  // over the degrees of freedom; 0 when there are none
  int degrees_of_freedom = 0;                // readings less parameters
};

/// Fits from `start`. Derivatives are central differences, so the model must be smooth in its parameters; `sizes` says
/// how large each parameter usually is, for those that may come near zero (empty: as large as its start). Nothing comes
/// back when there are fewer readings than parameters, when no minimum is found, or when the readings leave a parameter
/// (or a mixture of them) open. It is the nearest minimum, not surely the lowest: start near.
std::optional<LeastSquaresFit> fit_least_squares(const Residuals& residuals, std::span<const double> start,
                                                 int readings_count, std::span<const double> sizes = {});

}  // namespace barm
