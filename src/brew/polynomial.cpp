#include "brew/polynomial.h"

#include <cmath>
#include <numbers>

namespace barm::brew {

std::array<double, 5> quartic_through(const std::function<double(double)>& f, double low, double high) {
  std::array<double, 5> x{}, divided{};
  for (std::size_t i = 0; i < 5; ++i) {
    const double angle = std::numbers::pi * (2.0 * static_cast<double>(i) + 1.0) / 10.0;
    x[i] = 0.5 * (low + high) + 0.5 * (high - low) * std::cos(angle);
    divided[i] = f(x[i]);
  }
  // Newton's divided differences, then multiplied out.
  for (std::size_t order = 1; order < 5; ++order)
    for (std::size_t i = 4; i >= order; --i) divided[i] = (divided[i] - divided[i - 1]) / (x[i] - x[i - order]);
  std::array<double, 5> c{divided[4]};
  for (std::size_t k = 4; k-- > 0;) {  // c := c * (x - x[k]) + divided[k]
    for (std::size_t j = 4; j > 0; --j) c[j] = c[j - 1] - x[k] * c[j];
    c[0] = divided[k] - x[k] * c[0];
  }
  return c;
}

}  // namespace barm::brew
