#include "quantity/least_squares.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>

#include "quantity/expects.h"

namespace barm {
namespace {

constexpr double no_number = 1e100;

// The shape Eigen's minimiser asks for: values, and the table of their derivatives.
struct Model {
  const Residuals& residuals;
  std::vector<double> sizes;
  int parameters_count;
  int readings_count;

  int values() const { return readings_count; }

  int operator()(const Eigen::VectorXd& at, Eigen::VectorXd& out) const {
    residuals({at.data(), static_cast<std::size_t>(at.size())}, {out.data(), static_cast<std::size_t>(out.size())});
    // A trial step may leave where the model has numbers. So bad a value makes the minimiser take a shorter one.
    for (double& left : out) left = std::isfinite(left) ? left : no_number;
    return 0;
  }

  int df(const Eigen::VectorXd& at, Eigen::MatrixXd& slopes) const {
    // Central differences with a step of the cube root of the rounding unit err by about its square, 4e-11 of the
    // value.
    const double share = std::cbrt(Eigen::NumTraits<double>::epsilon());
    Eigen::VectorXd moved = at;
    Eigen::VectorXd above(readings_count);
    Eigen::VectorXd below(readings_count);
    for (int j = 0; j < parameters_count; ++j) {
      const double step = share * std::max(std::abs(at[j]), sizes[static_cast<std::size_t>(j)]);
      moved[j] = at[j] + step;
      const double up = moved[j];
      (*this)(moved, above);
      moved[j] = at[j] - step;
      (*this)(moved, below);
      slopes.col(j) = (above - below) / (up - moved[j]);
      moved[j] = at[j];
    }
    return slopes.allFinite() ? 0 : -1;
  }
};

// Parameters differ in size by many powers of ten, so the columns are brought to length one before their rank is
// judged.
std::optional<Eigen::MatrixXd> inverse_normal(const Eigen::MatrixXd& slopes) {
  const Eigen::VectorXd length = slopes.colwise().norm();
  if (!length.allFinite() || length.minCoeff() <= 0.0) return std::nullopt;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> scaled(slopes * length.cwiseInverse().asDiagonal());
  scaled.setThreshold(1e-9);  // derivatives are good to about ten digits; less than that apart is the same column
  if (scaled.rank() < slopes.cols()) return std::nullopt;
  const auto n = slopes.cols();
  const Eigen::MatrixXd upper = scaled.matrixQR().topLeftCorner(n, n).triangularView<Eigen::Upper>();
  const Eigen::MatrixXd back =
      scaled.colsPermutation() * upper.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
  const Eigen::MatrixXd unscaled = length.cwiseInverse().asDiagonal() * back;
  return unscaled * unscaled.transpose();
}

bool found_a_minimum(Eigen::LevenbergMarquardtSpace::Status status) {
  using namespace Eigen::LevenbergMarquardtSpace;
  switch (status) {
    case RelativeReductionTooSmall:
    case RelativeErrorTooSmall:
    case RelativeErrorAndReductionTooSmall:
    case CosinusTooSmall:
    case FtolTooSmall:
    case XtolTooSmall:
    case GtolTooSmall:
      return true;
    default:
      return false;
  }
}

// How long the first step may be, in lengths of the scaled start. MINPACK's guide advises 0.1 to 100; a long first step
// is quick but may land where the model no longer answers to its parameters, and then a shorter one finds the way.
constexpr double first_steps[] = {100.0, 1.0, 0.1};

std::optional<LeastSquaresFit> fit_with_first_step(Model& model, std::span<const double> start, double first_step) {
  const int parameters_count = model.parameters_count;
  const int readings_count = model.readings_count;
  Eigen::VectorXd at = Eigen::Map<const Eigen::VectorXd>(start.data(), parameters_count);
  Eigen::LevenbergMarquardt<Model> minimiser(model);
  minimiser.parameters.factor = first_step;
  minimiser.parameters.ftol = 1e-15;  // until the sum of squares stops falling: certified values want it
  minimiser.parameters.xtol = 1e-12;
  minimiser.parameters.maxfev = 500;
  if (!found_a_minimum(minimiser.minimize(at))) return std::nullopt;

  Eigen::VectorXd left(readings_count);
  Eigen::MatrixXd slopes(readings_count, parameters_count);
  model(at, left);
  if (left.maxCoeff() >= no_number || model.df(at, slopes) < 0) return std::nullopt;
  const auto inverse = inverse_normal(slopes);
  if (!inverse) return std::nullopt;

  LeastSquaresFit fit;
  fit.parameters.assign(at.data(), at.data() + parameters_count);
  fit.residual_sum_of_squares = left.squaredNorm();
  fit.degrees_of_freedom = readings_count - parameters_count;
  const double variance = fit.degrees_of_freedom > 0 ? fit.residual_sum_of_squares / fit.degrees_of_freedom : 0.0;
  fit.residual_standard_deviation = std::sqrt(variance);
  for (int i = 0; i < parameters_count; ++i) {
    fit.standard_errors.push_back(std::sqrt(variance * (*inverse)(i, i)));
    for (int j = 0; j < parameters_count; ++j) fit.covariance.push_back(variance * (*inverse)(i, j));
  }
  return fit;
}

}  // namespace

std::optional<LeastSquaresFit> fit_least_squares(const Residuals& residuals, std::span<const double> start,
                                                 int readings_count, std::span<const double> sizes) {
  expects(!start.empty(), "a fit has parameters");
  expects(sizes.empty() || sizes.size() == start.size(), "every parameter has a size, or none has");
  const int parameters_count = static_cast<int>(start.size());
  if (readings_count < parameters_count) return std::nullopt;
  Model model{residuals, {}, parameters_count, readings_count};
  for (std::size_t j = 0; j < start.size(); ++j) {
    const double size = std::abs(sizes.empty() ? start[j] : sizes[j]);
    model.sizes.push_back(size > 0.0 ? size : 1.0);
  }
  for (const double first_step : first_steps) {
    if (auto fit = fit_with_first_step(model, start, first_step)) return fit;
  }
  return std::nullopt;
}

}  // namespace barm
