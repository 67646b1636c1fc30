// The triangular distribution: what is known of a figure that has a usual value and two ends.
#pragma once

#include <cmath>

namespace barm {

/// Value below which a share `u` (0 to 1) lies. Without width: the mode.
inline double triangular_quantile(double low, double mode, double high, double u) {
  if (!(high > low)) return mode;
  const double split = (mode - low) / (high - low);
  if (u < split) return low + std::sqrt(u * (high - low) * (mode - low));
  return high - std::sqrt((1.0 - u) * (high - low) * (high - mode));
}

}  // namespace barm
