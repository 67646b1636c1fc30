#include "brew/low_hour.h"

#include <cmath>
#include <cstddef>

namespace barm::brew {
namespace {

constexpr double dips_after_h = 1.0;  // a lowest within the first hour is the start, not a dip (judged)

}  // namespace

double low_hour_h(const Forecast& forecast, double length_h) {
  const double middle_h = forecast.oxygen_minimum_at_h.p50;
  if (!std::isfinite(middle_h) || middle_h >= dips_after_h) return middle_h;
  const auto& low = forecast.oxygen_mg_per_l.p05;
  double at_h = middle_h, lowest = unset;
  for (std::size_t i = 0; i < low.size() && forecast.time_h[i] <= length_h; ++i) {
    if (lowest <= low[i]) continue;  // false for the first, while nothing is set
    lowest = low[i];
    at_h = forecast.time_h[i];
  }
  return at_h;
}

}  // namespace barm::brew
