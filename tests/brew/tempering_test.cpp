// The sampler against distributions known in closed form.
#include "brew/tempering.h"

#include <gtest/gtest.h>

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numbers>

#include "brew/draws.h"

namespace barm::brew {
namespace {

std::vector<double> drawn(int count, int dimension, std::uint64_t seed) {
  std::vector<double> scores = scrambled_points(count, dimension, seed);
  for (double& x : scores) x = boost::math::quantile(boost::math::normal(), x);
  return scores;
}

struct Moments {
  double mean = 0.0, variance = 0.0;
};
Moments moments(const std::vector<double>& scores, std::size_t width, std::size_t column) {
  Moments m;
  const auto count = static_cast<double>(scores.size() / width);
  for (std::size_t i = column; i < scores.size(); i += width) m.mean += scores[i] / count;
  for (std::size_t i = column; i < scores.size(); i += width) m.variance += std::pow(scores[i] - m.mean, 2) / count;
  return m;
}

// Linear observations of normal unknowns: the posterior is normal. y1 = z1 + z2 = 2 with error 0.1, y2 = z1 - z2 = 0.5
// with error 0.5; by hand (z1 + z2 has prior variance 2): mean of the sum 2 x 2/(2 + 0.01), variance 2 x 0.01/2.01; of
// the difference 0.5 x 2/2.25, variance 2 x 0.25/2.25.
TEST(Tempering, finds_the_normal_posterior_known_by_hand) {
  constexpr int unknowns = 30, count = 512;
  const Weigh weigh = [](int members, std::span<const double> z) {
    Weighed w;
    for (int m = 0; m < members; ++m) {
      const double sum = (z[m * unknowns] + z[m * unknowns + 1]) / 0.1;
      const double difference = (z[m * unknowns] - z[m * unknowns + 1]) / 0.5;
      w.predicted.insert(w.predicted.end(), {sum, difference});
      w.log_likelihood.push_back(-0.5 * (std::pow(sum - 2.0 / 0.1, 2) + std::pow(difference - 0.5 / 0.5, 2)));
    }
    return w;
  };
  double sum = 0.0, sum_variance = 0.0, difference = 0.0, evidence = 0.0, other_variance = 0.0;
  constexpr int tries = 8;
  for (std::uint64_t seed = 1; seed <= tries; ++seed) {
    const Tempered t =
        temper(drawn(count, unknowns, seed), weigh, {.unknown_count = unknowns, .observation_count = 2, .seed = seed});
    std::vector<double> told;
    for (int m = 0; m < count; ++m) {
      told.push_back(t.scores[m * unknowns] + t.scores[m * unknowns + 1]);
      told.push_back(t.scores[m * unknowns] - t.scores[m * unknowns + 1]);
    }
    sum += moments(told, 2, 0).mean / tries;
    sum_variance += moments(told, 2, 0).variance / tries;
    difference += moments(told, 2, 1).mean / tries;
    other_variance += moments(t.scores, unknowns, 7).variance / tries;
    evidence += t.log_evidence / tries;
    EXPECT_GT(t.effective_count, 0.8 * count);
  }
  // Tolerances: three standard errors of 8 x 512 draws.
  EXPECT_NEAR(sum, 2.0 * 2.0 / 2.01, 3.0 * 0.1 / std::sqrt(4096.0) * 1.5);
  EXPECT_NEAR(sum_variance, 2.0 * 0.01 / 2.01, 0.01 * 0.1);
  EXPECT_NEAR(difference, 0.5 * 2.0 / 2.25, 3.0 * 0.47 / 64.0 * 1.5);
  EXPECT_NEAR(other_variance, 1.0, 0.07);
  const auto log_normal = [](double x, double variance) {
    return -0.5 * (x * x / variance + std::log(2.0 * std::numbers::pi * variance));
  };
  // The likelihood above leaves out its constants: put them back.
  const double constants = std::log(2.0 * std::numbers::pi) + std::log(0.1) + std::log(0.5);
  EXPECT_NEAR(evidence, log_normal(2.0, 2.01) + log_normal(0.5, 2.25) + constants, 0.2);
}

// A ring cannot be told by a normal distribution: z1^2 + z2^2 = 4 with error 0.2. The angle stays even.
TEST(Tempering, keeps_all_of_a_ring) {
  constexpr int count = 1024;
  const Weigh weigh = [](int members, std::span<const double> z) {
    Weighed w;
    for (int m = 0; m < members; ++m) {
      const double radius2 = (z[m * 3] * z[m * 3] + z[m * 3 + 1] * z[m * 3 + 1]) / 0.2;
      w.predicted.push_back(radius2);
      w.log_likelihood.push_back(-0.5 * std::pow(radius2 - 4.0 / 0.2, 2));
    }
    return w;
  };
  const Tempered t = temper(drawn(count, 3, 5), weigh, {.unknown_count = 3, .observation_count = 1, .seed = 9});
  int quadrant[4] = {};
  for (int m = 0; m < count; ++m) ++quadrant[(t.scores[m * 3] > 0 ? 1 : 0) + (t.scores[m * 3 + 1] > 0 ? 2 : 0)];
  for (const int q : quadrant) EXPECT_NEAR(q, count / 4, 90);  // six standard deviations of a fair count
}

TEST(Tempering, same_seed_same_members) {
  const Weigh weigh = [](int members, std::span<const double> z) {
    Weighed w;
    for (int m = 0; m < members; ++m) {
      w.predicted.push_back(z[m * 4] * 5.0);
      w.log_likelihood.push_back(-0.5 * std::pow(z[m * 4] * 5.0 - 4.0, 2));
    }
    return w;
  };
  const TemperOptions options{.unknown_count = 4, .observation_count = 1, .seed = 3};
  EXPECT_EQ(temper(drawn(64, 4, 1), weigh, options).scores, temper(drawn(64, 4, 1), weigh, options).scores);
}

}  // namespace
}  // namespace barm::brew
