#include "count/tubes.h"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <limits>
#include <map>
#include <utility>

#include "count/checks.h"

namespace barm::count {
namespace {

constexpr double chi_square_95 = 3.841458820694124;  // of one degree of freedom
constexpr double coverage_factor = 2.0;              // S07: its printed limits show 2, not 1.96
constexpr double rare = 0.05, very_rare = 0.01;      // S07: bounds of its categories

struct Level {
  double v, n, p;  // inoculum, tubes, positive
};
using Levels = std::vector<Level>;

double ln_grown(double x) {  // ln(1 - exp(-x)), exact for small and large x
  return x < 0.693 ? std::log(-std::expm1(-x)) : std::log1p(-std::exp(-x));
}

// S06: log-likelihood without the binomial coefficients.
double ln_likelihood(const Levels& levels, double density) {
  double sum = 0.0;
  for (const auto& [v, n, p] : levels) {
    if (p > 0.0) sum += p * ln_grown(density * v);
    sum -= (n - p) * density * v;
  }
  return sum;
}

double total(const Levels& levels, auto each) {
  double sum = 0.0;
  for (const auto& level : levels) sum += each(level);
  return sum;
}

template <class F>
double root(F f, double low, double high) {
  std::uintmax_t steps = 200;
  const auto [a, b] =
      boost::math::tools::toms748_solve(f, low, high, boost::math::tools::eps_tolerance<double>(48), steps);
  return std::exp(0.5 * (a + b));
}

// S06: the root of sum p v / (1 - exp(-L v)) = sum n v, which lies between sum p / sum n v and sum p / sum (n - p) v.
double most_likely(const Levels& levels) {
  const double positive = total(levels, [](const Level& l) { return l.p; });
  const double all = total(levels, [](const Level& l) { return l.n * l.v; });
  const double negative = total(levels, [](const Level& l) { return (l.n - l.p) * l.v; });
  if (positive == 0.0) return 0.0;
  if (negative == 0.0) return std::numeric_limits<double>::infinity();
  const auto score = [&](double ln_density) {
    const double density = std::exp(ln_density);
    return total(levels, [&](const Level& l) { return l.p * l.v / -std::expm1(-density * l.v); }) - all;
  };
  return root(score, std::log(positive / all) - 1e-6, std::log(positive / negative) + 1e-6);
}

double expected_information(const Levels& levels, double density) {
  return total(levels, [&](const Level& l) { return l.n * l.v * l.v / std::expm1(density * l.v); });
}

// S07: what the outcome itself tells, the curvature of its likelihood.
double observed_information(const Levels& levels, double density) {
  return total(levels, [&](const Level& l) {
    const double grown = -std::expm1(-density * l.v);
    return l.p * l.v * l.v * std::exp(-density * l.v) / (grown * grown);
  });
}

// S09: bias to first order, sum n v^3 / (exp(L v) - 1) over twice the square of the information.
double bias(const Levels& levels, double density) {
  const double information = expected_information(levels, density);
  return 0.5 * total(levels, [&](const Level& l) { return l.n * l.v * l.v * l.v / std::expm1(density * l.v); }) /
         (information * information);
}

// S07: each level's most probable count at this density is the floor of (n + 1) times its chance.
double rarity(const Levels& levels, double density) {
  double ln_share = 0.0;
  for (const auto& [v, n, p] : levels) {
    if (density == 0.0 || std::isinf(density)) continue;
    const auto ln_chance = [&, v = v, n = n](double k) {
      const double grown = k > 0.0 ? k * ln_grown(density * v) : 0.0;
      return grown - (n - k) * density * v + std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
    };
    const double likeliest = std::min(n, std::floor((n + 1.0) * -std::expm1(-density * v)));
    ln_share += ln_chance(p) - ln_chance(likeliest);
  }
  return std::min(1.0, std::exp(ln_share));
}

std::pair<double, double> by_likelihood(const Levels& levels, double density) {
  const double best = ln_likelihood(levels, density);
  const auto over = [&](double ln_density) {
    return 2.0 * (best - ln_likelihood(levels, std::exp(ln_density))) - chi_square_95;
  };
  const double middle = std::log(density);
  double low = middle - 1.0, high = middle + 1.0;
  while (over(low) < 0.0) low -= middle - low;
  while (over(high) < 0.0) high += high - middle;
  return {root(over, low, middle), root(over, middle, high)};
}

// One-sided, where every tube says the same: S08 leaves 5 % outside, S07 2.5 %.
double outside_share(TubesInterval by) {
  return by == TubesInterval::likelihood_ratio ? 0.05 : 0.025;
}

double highest_if_none_grew(const Levels& levels, TubesInterval by) {
  return -std::log(outside_share(by)) / total(levels, [](const Level& l) { return l.n * l.v; });
}

double lowest_if_all_grew(const Levels& levels, TubesInterval by) {
  const double wanted = std::log(outside_share(by));
  const auto over = [&](double ln_density) { return ln_likelihood(levels, std::exp(ln_density)) - wanted; };
  double low = -std::log(levels.front().v), high = low;
  while (over(low) > 0.0) low -= 2.0;
  while (over(high) < 0.0) high += 2.0;
  return root(over, low, high);
}

// Printed tables give "less than" the least that one positive tube says, and "more than" the most one negative says.
double with_one_changed(const Levels& levels, double change) {
  double found = unset;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    Levels changed = levels;
    changed[i].p += change;
    const double density = most_likely(changed);
    if (!std::isfinite(density)) continue;  // a single tube: nothing to compare with
    if (std::isnan(found) || (change > 0.0 ? density < found : density > found)) found = density;
  }
  return found;
}

/// How likely samples of one density differ this much: S06, deviance against chi-square.
double samples_agree(const std::vector<Levels>& samples, const Levels& together, double density) {
  double deviance = 0.0;
  for (const auto& levels : samples) {
    const double own = most_likely(levels);
    if (own > 0.0 && std::isfinite(own)) deviance += 2.0 * ln_likelihood(levels, own);
  }
  if (density > 0.0 && std::isfinite(density)) deviance -= 2.0 * ln_likelihood(together, density);
  const boost::math::chi_squared_distribution<double> chance(static_cast<double>(samples.size() - 1));
  return boost::math::cdf(boost::math::complement(chance, std::max(0.0, deviance)));
}

bool refuse_wrong(const Tubes& in, Findings& findings) {
  check_not_empty("inoculum", in.inoculum.size(), findings);
  const bool whole = check_as_long("tubes", in.tubes.size(), "inoculum", in.inoculum.size(), findings);
  const bool read = check_as_long("positive", in.positive.size(), "inoculum", in.inoculum.size(), findings);
  if (!in.sample.empty()) check_as_long("sample", in.sample.size(), "inoculum", in.inoculum.size(), findings);
  check_each<double>("inoculum", in.inoculum, {.least = 1e-12, .most = 1e9}, findings);  // judged
  check_each<std::int64_t>("tubes", in.tubes, {.least = 1, .most = 1e6}, findings);      // judged
  check_each<std::int64_t>("positive", in.positive, {.least = 0, .most = 1e6}, findings);
  for (std::size_t i = 0; whole && read && i < in.tubes.size(); ++i) {
    if (in.positive[i] <= in.tubes[i] || in.tubes[i] < 1) continue;
    findings.refuse({.code = "count.tubes.more_positive",
                     .field = "positive[" + std::to_string(i + 1) + "]",
                     .facts = {{"given", std::to_string(in.positive[i])}, {"allowed", std::to_string(in.tubes[i])}}});
  }
  return findings.refused();
}

void doubt_what_is_odd(const MostProbable& found, Findings& findings) {
  const auto say = [&](const char* code, double value) {
    findings.doubt({.code = code, .field = "positive", .facts = {{"given", Quantity{value, Dimension::number}}}});
  };
  if (found.rarity_index < very_rare) {
    say("count.tubes.very_rare", found.rarity_index);
  } else if (found.rarity_index < rare) {
    say("count.tubes.rare", found.rarity_index);
  }
  if (found.samples_agree_probability < 0.05) say("count.tubes.samples_differ", found.samples_agree_probability);
  if (found.beside == Beside::below) say("count.tubes.none_grew", found.high_95);
  if (found.beside == Beside::above) say("count.tubes.all_grew", found.low_95);
}

}  // namespace

Answer<MostProbable> most_probable_number(const Tubes& in, TubesInterval by) {
  Findings findings;
  if (refuse_wrong(in, findings)) return std::move(findings).refusal<MostProbable>();

  Levels levels;
  std::map<std::int64_t, Levels> samples;
  for (std::size_t i = 0; i < in.tubes.size(); ++i) {
    levels.push_back({in.inoculum[i], static_cast<double>(in.tubes[i]), static_cast<double>(in.positive[i])});
    samples[in.sample.empty() ? 1 : in.sample[i]].push_back(levels.back());
  }
  const double density = most_likely(levels);
  MostProbable found{.rarity_index = rarity(levels, density)};
  if (density == 0.0) {
    found.per_unit = found.low_95 = 0.0;
    found.high_95 = highest_if_none_grew(levels, by);
    found.beside = Beside::below;
    found.reported_per_unit = with_one_changed(levels, 1.0);
  } else if (std::isinf(density)) {
    found.low_95 = lowest_if_all_grew(levels, by);
    found.beside = Beside::above;
    found.reported_per_unit = with_one_changed(levels, -1.0);
  } else {
    found.per_unit = found.reported_per_unit = density;
    found.ln_standard_error = 1.0 / (density * std::sqrt(observed_information(levels, density)));
    found.corrected_per_unit = density - bias(levels, density);
    const double reach = std::exp(coverage_factor * found.ln_standard_error);
    std::tie(found.low_95, found.high_95) = by == TubesInterval::likelihood_ratio
                                                ? by_likelihood(levels, density)
                                                : std::pair(density / reach, density * reach);
  }
  found.samples_count = static_cast<std::int64_t>(samples.size());
  if (samples.size() > 1) {
    std::vector<Levels> each;
    for (auto& [number, own] : samples) each.push_back(std::move(own));
    found.samples_agree_probability = samples_agree(each, levels, density);
  }
  doubt_what_is_odd(found, findings);
  return std::move(findings).answer(found);
}

}  // namespace barm::count
