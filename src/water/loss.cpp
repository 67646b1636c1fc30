#include "water/loss.h"

#include <cmath>
#include <numbers>

#include "quantity/expects.h"

namespace barm::water {
namespace {
constexpr double hours_per_day = 24.0;
}

double rate_from_share_gone_in_a_day(double share) {
  expects(share >= 0.0 && share < 1.0, "a share that leaves something");
  return -std::log1p(-share);
}

LossRates standing_quickest() {
  return {.free_chlorine_per_d = rate_from_share_gone_in_a_day(free_chlorine_gone_in_a_day_most),
          .chloramine_per_d = chloramine_open_per_d};
}

LossRates standing_slowest() {
  return {.free_chlorine_per_d = rate_from_share_gone_in_a_day(free_chlorine_gone_in_a_day_least),
          .chloramine_per_d = chloramine_sealed_per_d};
}

LossRates bubbling_quickest() {
  return {.free_chlorine_per_d = standing_quickest().free_chlorine_per_d, .chloramine_per_d = chloramine_bubbled_per_d};
}

LossRates bubbling_slowest() {
  return {.free_chlorine_per_d = standing_slowest().free_chlorine_per_d, .chloramine_per_d = chloramine_open_per_d};
}

double left_mg_per_l(double start_mg_per_l, double rate_per_d, double hours) {
  return start_mg_per_l * std::exp(-rate_per_d * hours / hours_per_day);
}

double half_life_h(double rate_per_d) {
  return std::numbers::ln2 / rate_per_d * hours_per_day;
}

double hours_until(double free_chlorine_mg_per_l, double chloramine_mg_per_l, const LossRates& rates,
                   double target_mg_per_l) {
  if (free_chlorine_mg_per_l + chloramine_mg_per_l <= target_mg_per_l) return 0.0;
  expects(target_mg_per_l > 0.0, "a target above nothing");
  expects(free_chlorine_mg_per_l == 0.0 || rates.free_chlorine_per_d > 0.0, "free chlorine leaves");
  expects(chloramine_mg_per_l == 0.0 || rates.chloramine_per_d > 0.0, "chloramine leaves");
  const auto left = [&](double hours) {
    return left_mg_per_l(free_chlorine_mg_per_l, rates.free_chlorine_per_d, hours) +
           left_mg_per_l(chloramine_mg_per_l, rates.chloramine_per_d, hours);
  };
  // The sum of two decays has no closed form: double until past the target, then halve the doubt.
  double too_short = 0.0;
  double enough = hours_per_day;
  while (left(enough) > target_mg_per_l) enough *= 2.0;
  while (enough - too_short > 1e-9 * enough) {
    const double middle = (too_short + enough) / 2.0;
    (left(middle) > target_mg_per_l ? too_short : enough) = middle;
  }
  return enough;
}

double most_stripped_share(double air_over_water, double air_volumes_per_h, double hours) {
  return -std::expm1(-air_over_water * air_volumes_per_h * hours);
}

}  // namespace barm::water
