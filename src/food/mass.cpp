#include <cmath>

#include "food/food.h"

namespace barm::food {

Answer<double> mass_g(const Food& food, const Amount& amount) {
  const Quantity measured = amount.measured;
  Remark wrong{.code = "food.amount.not_positive", .field = "amount", .facts = {{"given", measured}}};
  expects(!food.names.empty(), "a food has a name");
  wrong.facts["food"] = food.names.front();
  if (!(measured.value > 0.0) || !std::isfinite(measured.value)) return Answer<double>::refused({wrong});
  if (measured.dimension == Dimension::mass) return measured.value;
  if (measured.dimension != Dimension::volume) {
    wrong.code = "food.amount.not_mass_or_volume";
    return Answer<double>::refused({wrong});
  }
  if (!(food.density_g_per_ml > 0.0)) {
    wrong.code = "food.amount.density_unknown";
    return Answer<double>::refused({wrong});
  }
  return measured.value * 1000.0 * food.density_g_per_ml;  // L to mL
}

}  // namespace barm::food
