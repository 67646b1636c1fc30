// Points that fill a cube of many dimensions evenly, the same each time: for spreads that need no chance.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace barm {

/// The additive recurrence whose steps are powers of the root of x^(d + 1) = x + 1, which generalises the golden
/// section (from memory).
class EvenDraws {
 public:
  explicit EvenDraws(std::size_t dimensions) : steps_(dimensions) {
    double root = 2.0;
    for (int i = 0; i < 60; ++i) root = std::pow(1.0 + root, 1.0 / (static_cast<double>(dimensions) + 1.0));
    for (std::size_t i = 0; i < dimensions; ++i) steps_[i] = std::pow(root, -static_cast<double>(i + 1));
  }
  /// Between 0 and 1, never either.
  double at(int draw, std::size_t dimension) const {
    const double place = 0.5 + static_cast<double>(draw + 1) * steps_[dimension];
    return std::clamp(place - std::floor(place), 1e-9, 1.0 - 1e-9);
  }

 private:
  std::vector<double> steps_;
};

}  // namespace barm
