#include "brew/quantiles.h"

#include <algorithm>
#include <cmath>

namespace barm::brew {

Spread spread_of(std::span<double> values) {
  const auto end = std::partition(values.begin(), values.end(), [](double x) { return !std::isnan(x); });
  const auto count = static_cast<std::size_t>(end - values.begin());
  if (count == 0) return {};
  std::sort(values.begin(), end);
  const auto at = [&](double share) {
    const double place = share * static_cast<double>(count - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, count - 1);
    const double part = place - static_cast<double>(below);
    if (values[below] == values[above]) return values[below];  // also where both are infinite
    return values[below] + part * (values[above] - values[below]);
  };
  return {.p05 = at(0.05), .p25 = at(0.25), .p50 = at(0.50), .p75 = at(0.75), .p95 = at(0.95)};
}

}  // namespace barm::brew
