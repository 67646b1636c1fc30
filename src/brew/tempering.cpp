#include "brew/tempering.h"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numeric>
#include <utility>

#include "quantity/expects.h"

namespace barm::brew {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

constexpr double smallest_step = 1e-6;  // of the way; an observation no member comes near would stop it otherwise
constexpr double told_least = 0.3;      // information against the prior's 1, above which a direction is told (judged)
constexpr int told_most = 12;           // directions whose spread a few hundred members can hold (judged)
constexpr double ridge = 0.01;          // of the prior's variance
constexpr double hopeful_share = 0.3;   // of moves to be accepted; the stride is fitted to it (memory: 0.2 to 0.4)
constexpr double stride_least = 0.02, stride_most = 1.0;

/// A normal distribution near the one sought: that of the members in the directions the observations tell of, that
/// known beforehand in all others.
struct Nearby {
  Matrix directions;  // [unknown][direction], orthonormal
  Vector middle;      // [direction]
  Matrix spread;      // lower Cholesky factor of the covariance [direction][direction]
};

Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>> rows_of(
    const std::vector<double>& values, Eigen::Index columns) {
  return {values.data(), static_cast<Eigen::Index>(values.size()) / columns, columns};
}

/// Directions along which the predictions move most, by regressing them on the scores.
Matrix told_directions(const std::vector<double>& scores, const Weighed& weighed, double power,
                       const TemperOptions& options) {
  Matrix z = rows_of(scores, options.unknown_count);
  Matrix y = rows_of(weighed.predicted, options.observation_count);
  const auto count = static_cast<double>(z.rows());
  z.rowwise() -= z.colwise().mean().eval();
  y.rowwise() -= y.colwise().mean().eval();
  const Matrix normal = z.transpose() * z + ridge * count * Matrix::Identity(z.cols(), z.cols());
  const Matrix slopes = normal.llt().solve(z.transpose() * y);
  const Eigen::SelfAdjointEigenSolver<Matrix> information(power * slopes * slopes.transpose());
  const Vector& told = information.eigenvalues();  // ascending
  Eigen::Index directions = 0;
  while (directions < std::min<Eigen::Index>(told_most, told.size()) && told(told.size() - 1 - directions) > told_least)
    ++directions;
  return information.eigenvectors().rightCols(directions);
}

Nearby nearby(const std::vector<double>& scores, const Weighed& weighed, double power, const TemperOptions& options) {
  Nearby near{.directions = told_directions(scores, weighed, power, options), .middle = {}, .spread = {}};
  const Eigen::Index directions = near.directions.cols();
  Matrix along = rows_of(scores, options.unknown_count) * near.directions;
  near.middle = along.colwise().mean();
  along.rowwise() -= near.middle.transpose().eval();
  constexpr double least = 1e-6;  // keeps members that all agree from standing still
  const Matrix covariance =
      along.transpose() * along / static_cast<double>(along.rows()) + least * Matrix::Identity(directions, directions);
  near.spread = covariance.llt().matrixL();
  return near;
}

/// Members in effect when each weighs exp(step x log-likelihood).
double effective_count(const std::vector<double>& log_likelihood, double step) {
  const double top = *std::max_element(log_likelihood.begin(), log_likelihood.end());
  double sum = 0.0, squares = 0.0;
  for (const double l : log_likelihood) {
    const double weight = std::exp(step * (l - top));
    sum += weight;
    squares += weight * weight;
  }
  return sum * sum / squares;
}

/// The largest part of what is left of the way that keeps enough members in effect.
double next_step(const std::vector<double>& log_likelihood, double left, double wanted_count) {
  if (effective_count(log_likelihood, left) >= wanted_count) return left;
  double enough = 0.0, too_far = left;
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (enough + too_far);
    (effective_count(log_likelihood, middle) >= wanted_count ? enough : too_far) = middle;
  }
  return std::max(enough, std::min(left, smallest_step));
}

class Walk {
 public:
  Walk(std::vector<double> scores, const Weigh& weigh, const TemperOptions& options)
      : weigh_(weigh), options_(options), random_(static_cast<std::uint32_t>(options.seed ^ (options.seed >> 32))) {
    made_.scores = std::move(scores);
    count_ = made_.scores.size() / unknowns();
    expects(count_ > 1 && made_.scores.size() == count_ * unknowns(), "members with a score for each unknown");
    made_.weighed = weigh_(static_cast<int>(count_), made_.scores);
    origin_.resize(count_);
    std::iota(origin_.begin(), origin_.end(), std::size_t{0});
    has_moved_.assign(count_, false);
  }

  Tempered run() {
    double power = 0.0;
    while (power < 1.0) {
      const double wanted = options_.effective_share * static_cast<double>(count_);
      const double step = next_step(made_.weighed.log_likelihood, 1.0 - power, wanted);
      const bool arrives = step >= 1.0 - power;
      resample(step);
      power = arrives ? 1.0 : power + step;
      ++made_.steps_count;
      const int moves = arrives ? options_.last_moves : options_.moves_per_step;
      for (int i = 0; i < moves; ++i) {
        const Nearby near = nearby(made_.scores, made_.weighed, power, options_);
        const double told = near.directions.cols() == 0 ? 0.0 : move(near, power, true, told_stride_);
        const double untold = move(near, power, false, untold_stride_);
        made_.moved_share = near.directions.cols() == 0 ? untold : told;
      }
    }
    made_.effective_count = in_effect();
    return std::move(made_);
  }

 private:
  std::size_t unknowns() const { return static_cast<std::size_t>(options_.unknown_count); }
  std::size_t observations() const { return static_cast<std::size_t>(options_.observation_count); }

  /// Multiplies members that fit and drops those that do not, by one comb over their weights.
  void resample(double step) {
    const std::vector<double>& log_likelihood = made_.weighed.log_likelihood;
    const double top = *std::max_element(log_likelihood.begin(), log_likelihood.end());
    std::vector<double> until(count_);
    double sum = 0.0;
    for (std::size_t i = 0; i < count_; ++i) until[i] = sum += std::exp(step * (log_likelihood[i] - top));
    made_.log_evidence += step * top + std::log(sum / static_cast<double>(count_));
    const double tooth = sum / static_cast<double>(count_);
    double at = tooth * uniform_(random_);
    std::vector<std::size_t> chosen;
    for (std::size_t i = 0; i < count_; ++i)
      for (; at < until[i] && chosen.size() < count_; at += tooth) chosen.push_back(i);
    while (chosen.size() < count_) chosen.push_back(count_ - 1);  // rounding in the last tooth
    made_.scores = picked(made_.scores, chosen, unknowns());
    made_.weighed.predicted = picked(made_.weighed.predicted, chosen, observations());
    made_.weighed.log_likelihood = picked(log_likelihood, chosen, 1);
    origin_ = chosen;
    has_moved_.assign(count_, false);
  }

  static std::vector<double> picked(const std::vector<double>& from, const std::vector<std::size_t>& chosen,
                                    std::size_t width) {
    std::vector<double> to;
    to.reserve(chosen.size() * width);
    for (const std::size_t i : chosen)
      to.insert(to.end(), from.begin() + static_cast<std::ptrdiff_t>(i * width),
                from.begin() + static_cast<std::ptrdiff_t>((i + 1) * width));
    return to;
  }

  /// One proposal for every member, within the told directions or outside them; gives the share accepted. The proposal
  /// keeps `near` unchanged, so only how far the target departs from it decides.
  double move(const Nearby& near, double power, bool within, double& stride) {
    const double keep = std::sqrt(1.0 - stride * stride);
    std::vector<double> proposed(made_.scores.size());
    Vector noise(options_.unknown_count);
    std::vector<double> log_odds(count_, 0.0);  // of target over `near`, proposed against present
    for (std::size_t i = 0; i < count_; ++i) {
      const Eigen::Map<const Vector> now(made_.scores.data() + i * unknowns(), options_.unknown_count);
      Eigen::Map<Vector> then(proposed.data() + i * unknowns(), options_.unknown_count);
      for (double& x : noise) x = normal_(random_);
      const Vector along = near.directions.transpose() * now;
      if (within) {
        const Vector next =
            near.middle + keep * (along - near.middle) + stride * (near.spread * noise.head(near.middle.size()));
        then = now + near.directions * (next - along);
        log_odds[i] = log_excess(near, next) - log_excess(near, along);
      } else {
        const Vector across = now - near.directions * along;
        const Vector fresh = noise - near.directions * (near.directions.transpose() * noise);
        then = near.directions * along + keep * across + stride * fresh;
      }
    }
    Weighed weighed = weigh_(static_cast<int>(count_), proposed);
    std::size_t accepted = 0;
    for (std::size_t i = 0; i < count_; ++i) {
      const double gain = weighed.log_likelihood[i] - made_.weighed.log_likelihood[i];
      const double chance = std::log(uniform_(random_));
      if (!(chance < power * gain + log_odds[i])) continue;
      ++accepted;
      has_moved_[i] = true;
      std::copy_n(proposed.begin() + static_cast<std::ptrdiff_t>(i * unknowns()), unknowns(),
                  made_.scores.begin() + static_cast<std::ptrdiff_t>(i * unknowns()));
      std::copy_n(weighed.predicted.begin() + static_cast<std::ptrdiff_t>(i * observations()), observations(),
                  made_.weighed.predicted.begin() + static_cast<std::ptrdiff_t>(i * observations()));
      made_.weighed.log_likelihood[i] = weighed.log_likelihood[i];
    }
    const double share = static_cast<double>(accepted) / static_cast<double>(count_);
    stride = std::clamp(stride * std::exp(share - hopeful_share), stride_least, stride_most);
    return share;
  }

  /// Logarithm of the prior over `near` along the told directions.
  static double log_excess(const Nearby& near, const Vector& along) {
    const Vector scaled = near.spread.triangularView<Eigen::Lower>().solve(along - near.middle);
    return 0.5 * (scaled.squaredNorm() - along.squaredNorm());
  }

  double in_effect() const {
    std::vector<double> kin(count_, 0.0);  // members still standing where their common origin stood
    double squares = 0.0;
    for (std::size_t i = 0; i < count_; ++i) {
      if (has_moved_[i]) {
        squares += 1.0;
      } else {
        kin[origin_[i]] += 1.0;
      }
    }
    for (const double k : kin) squares += k * k;
    return static_cast<double>(count_) * static_cast<double>(count_) / squares;
  }

  const Weigh& weigh_;
  TemperOptions options_;
  Tempered made_;
  std::size_t count_ = 0;
  std::vector<std::size_t> origin_;
  std::vector<bool> has_moved_;
  double told_stride_ = 0.5, untold_stride_ = 0.7;
  boost::random::mt19937 random_;
  boost::random::normal_distribution<double> normal_;
  boost::random::uniform_01<double> uniform_;
};

}  // namespace

Tempered temper(std::vector<double> scores, const Weigh& weigh, const TemperOptions& options) {
  return Walk(std::move(scores), weigh, options).run();
}

}  // namespace barm::brew
