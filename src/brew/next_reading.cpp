#include "brew/next_reading.h"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <cmath>
#include <vector>

#include "brew/cells.h"

namespace barm::brew {
namespace {

constexpr double step_h = 0.5;
constexpr double worth_share = 0.05;
constexpr double nearly_share = 0.8;  // of what the best tells: sooner is better (judged)

/// Share of the variance of `target` that a noisy reading explains, by a cubic in the reading, less what chance gives.
double explained(const std::vector<double>& reading, const std::vector<double>& target) {
  const auto count = static_cast<Eigen::Index>(reading.size());
  const Eigen::Map<const Eigen::VectorXd> x(reading.data(), count), y(target.data(), count);
  const Eigen::ArrayXd centred = x.array() - x.mean();
  const double spread = std::sqrt(centred.square().mean());
  if (!(spread > 0.0)) return 0.0;
  Eigen::MatrixXd powers(count, 4);
  const Eigen::ArrayXd scaled = centred / spread;
  powers << Eigen::VectorXd::Ones(count), scaled.matrix(), scaled.square().matrix(), scaled.cube().matrix();
  const Eigen::VectorXd left = y - powers * powers.colPivHouseholderQr().solve(y);
  const double total = (y.array() - y.mean()).square().sum();
  if (!(total > 0.0)) return 0.0;
  const auto n = static_cast<double>(count);
  return std::max(0.0, 1.0 - left.squaredNorm() / total * (n - 1.0) / (n - 4.0));
}

}  // namespace

std::optional<NextReading> next_reading(const Members& members, const Instruments& instruments, double from_h,
                                        double length_h, std::uint64_t seed) {
  std::vector<double> at_h;
  for (double h = (std::floor(from_h / step_h) + 1.0) * step_h; h < length_h; h += step_h) at_h.push_back(h);
  if (at_h.empty()) return std::nullopt;
  Members moving = members;
  if (from_h > 0.0) run(moving, 0.0, from_h, {}, {});
  const Stretch ahead = run(moving, from_h, length_h, {}, at_h);
  const auto count = static_cast<std::size_t>(members.count);
  std::vector<double> lowest, lowest_at_h;
  for (std::size_t m = 0; m < count; ++m) {
    lowest.push_back(ahead.lowest[2 * m]);
    lowest_at_h.push_back(ahead.lowest[2 * m + 1]);
  }
  std::nth_element(lowest_at_h.begin(), lowest_at_h.begin() + static_cast<std::ptrdiff_t>(count / 2),
                   lowest_at_h.end());
  // Members that never dip are lowest at once; they must not leave everybody without advice.
  const double latest_h = std::max(lowest_at_h[count / 2], from_h + 0.5 * (length_h - from_h));

  boost::random::mt19937 random(static_cast<std::uint32_t>(seed));
  boost::random::normal_distribution<double> normal;
  const auto noise_of = [](const Instrument& of) { return std::hypot(of.noise, of.offset); };
  std::vector<NextReading> all;
  std::vector<double> reading(count);
  for (std::size_t i = 0; i < at_h.size() && at_h[i] <= latest_h; ++i) {
    const auto consider = [&](Measured what, const Instrument& of, auto value) {
      for (std::size_t m = 0; m < count; ++m) reading[m] = value(static_cast<int>(m)) + noise_of(of) * normal(random);
      // A band's width goes with the standard deviation, not the variance.
      all.push_back(
          {.what = what, .at_h = at_h[i], .narrows_share = 1.0 - std::sqrt(1.0 - explained(reading, lowest))});
    };
    consider(Measured::oxygen, instruments.oxygen, [&](int m) { return ahead.of(m, i, tea::oxygen); });
    consider(Measured::temperature, instruments.temperature, [&](int m) { return ahead.of(m, i, tea::temperature); });
    consider(Measured::bacteria, instruments.bacteria, [&](int m) {
      return std::log(std::max(
          1.0, bacteria_per_ml(ahead.of(m, i, tea::bacteria), members.cell_pg_cod[static_cast<std::size_t>(m)])));
    });
  }
  if (all.empty()) return std::nullopt;
  const auto by_share = [](const NextReading& a, const NextReading& b) { return a.narrows_share < b.narrows_share; };
  const double best = std::max_element(all.begin(), all.end(), by_share)->narrows_share;
  if (best < worth_share) return std::nullopt;
  return *std::find_if(all.begin(), all.end(),
                       [&](const NextReading& one) { return one.narrows_share >= nearly_share * best; });
}

}  // namespace barm::brew
