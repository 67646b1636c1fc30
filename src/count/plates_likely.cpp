#include "count/plates_likely.h"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "count/checks.h"

namespace barm::count {
namespace {

constexpr double half_chi_square_95 = 1.920729410347062;  // of one degree of freedom
constexpr double half_chi_square_90 = 1.352771727047702;  // one-sided 95 %
constexpr double next_to_impossible = 1e-6;               // judged

/// ln of the chance of more than `limit` where `mean` is expected.
double ln_more_than(std::int64_t limit, double mean) {
  const double k = static_cast<double>(limit) + 1.0;
  const double chance = boost::math::gamma_p(k, mean);
  if (chance > 1e-280) return std::log(chance);
  // Far below the limit the tail is its first term times a geometric sum.
  return -mean + k * std::log(mean) - std::lgamma(k + 1.0) - std::log1p(-mean / (k + 1.0));
}

double ln_likelihood(const LikelyPlates& in, double ln_density) {
  const double density = std::exp(ln_density);
  double sum = 0.0;
  for (std::size_t i = 0; i < in.colonies.size(); ++i)
    sum += static_cast<double>(in.colonies[i]) * ln_density - density * in.amount_ml[i];
  for (std::size_t i = 0; i < in.crowded_ml.size(); ++i)
    sum += ln_more_than(in.crowded_above[i], density * in.crowded_ml[i]);
  return sum;
}

/// The top of a curve with one top, by the golden section.
double highest(const auto& curve, double low, double high) {
  constexpr double golden = 0.6180339887498949;
  double a = high - golden * (high - low), b = low + golden * (high - low);
  double of_a = curve(a), of_b = curve(b);
  for (int i = 0; i < 90; ++i) {
    if (of_a < of_b)
      low = a, a = b, of_a = of_b, b = low + golden * (high - low), of_b = curve(b);
    else
      high = b, b = a, of_b = of_a, a = high - golden * (high - low), of_a = curve(a);
  }
  return 0.5 * (low + high);
}

/// Where the curve has fallen by `fall` below its top, going from `from` in steps.
double fallen(const auto& curve, double from, double top, double fall, double step) {
  const auto rest = [&](double x) { return curve(x) - top + fall; };
  double near = from, far = from + step;
  while (rest(far) > 0.0 && std::abs(far) < 700.0) near = far, step *= 1.5, far += step;
  if (rest(far) > 0.0) return unset;
  std::uintmax_t steps = 100;
  const auto between = boost::math::tools::toms748_solve(rest, std::min(near, far), std::max(near, far),
                                                         boost::math::tools::eps_tolerance<double>(40), steps);
  return 0.5 * (between.first + between.second);
}

bool refuse_wrong(const LikelyPlates& in, Findings& findings) {
  check_not_empty("amount", in.amount_ml.size() + in.crowded_ml.size(), findings);
  check_as_long("colonies", in.colonies.size(), "amount", in.amount_ml.size(), findings);
  check_as_long("crowded_above", in.crowded_above.size(), "crowded", in.crowded_ml.size(), findings);
  check_each<double>("amount", in.amount_ml, {1e-12, 100.0}, findings);
  check_each<std::int64_t>("colonies", in.colonies, {.least = 0, .most = 1e6}, findings);
  check_each<double>("crowded", in.crowded_ml, {1e-12, 100.0}, findings);
  check_each<std::int64_t>("crowded_above", in.crowded_above, {.least = 1, .most = 1e6}, findings);
  return findings.refused();
}

}  // namespace

Answer<LikelyCount> count_plates_likely(const LikelyPlates& in) {
  Findings findings;
  if (refuse_wrong(in, findings)) return std::move(findings).refusal<LikelyCount>();
  double colonies = 0.0, amount_ml = 0.0;
  for (const auto each : in.colonies) colonies += static_cast<double>(each);
  for (const double each : in.amount_ml) amount_ml += each;
  LikelyCount out;
  const auto curve = [&](double ln_density) { return ln_likelihood(in, ln_density); };
  if (in.crowded_ml.empty() && colonies == 0.0) {  // nothing grew: the density at which that has a chance of 5 %
    out.per_ml = out.low_95 = 0.0;
    out.high_95 = -std::log(0.05) / amount_ml;
    return std::move(findings).answer(out);
  }
  double limit = 0.0, thinnest_ml = 1e300;
  for (const auto each : in.crowded_above) limit = std::max(limit, static_cast<double>(each));
  for (const double each : in.crowded_ml) thinnest_ml = std::min(thinnest_ml, each);
  const double least = colonies > 0.0 ? colonies / amount_ml : 1e-6 / std::max(1e-300, amount_ml);
  if (in.colonies.empty()) {  // every plate crowded: the likelihood only rises, to 1
    const double far = std::log(10.0 * (limit + 100.0) / thinnest_ml);
    const double low = fallen(curve, far, 0.0, half_chi_square_90, -0.5);
    out.low_95 = std::exp(low);
    return std::move(findings).answer(out);
  }
  const double most = std::max(least, in.crowded_ml.empty() ? 0.0 : 10.0 * (limit + 100.0) / thinnest_ml);
  const double best =
      in.crowded_ml.empty() ? std::log(least) : highest(curve, std::log(least) - 1e-6, std::log(most) + 1e-6);
  const double top = curve(best);
  out.per_ml = std::exp(best);
  const double low = fallen(curve, best, top, half_chi_square_95, -0.1);
  const double high = fallen(curve, best, top, half_chi_square_95, 0.1);
  out.low_95 = std::exp(low), out.high_95 = std::exp(high);
  const double h = 1e-3 * (high - low);
  out.ln_standard_error = 1.0 / std::sqrt(-(curve(best + h) - 2.0 * top + curve(best - h)) / (h * h));
  for (std::size_t i = 0; i < in.crowded_ml.size(); ++i) {
    if (ln_more_than(in.crowded_above[i], out.per_ml * in.crowded_ml[i]) >= std::log(next_to_impossible)) continue;
    findings.doubt({.code = "count.plates.crowding_unlikely", .field = "crowded[" + std::to_string(i + 1) + "]"});
  }
  return std::move(findings).answer(out);
}

}  // namespace barm::count
