#include "recipe/batch_cost.h"

namespace barm::recipe {

BatchCost batch_cost(const BatchUse& use, const Tariffs& tariffs) {
  constexpr double w_per_kw = 1000.0, l_per_m3 = 1000.0, min_per_h = 60.0;
  BatchCost cost{.foods = use.foods, .compost = use.compost};
  cost.water = use.volume_l / l_per_m3 * tariffs.water_per_m3;
  cost.electricity = tariffs.pump_w / w_per_kw * use.length_h * tariffs.electricity_per_kwh;
  cost.labour = tariffs.labour_minutes / min_per_h * tariffs.labour_per_h;
  cost.labour_minutes = tariffs.labour_minutes;
  cost.batch = cost.foods + cost.compost + cost.water + cost.electricity + cost.labour;
  cost.per_l = cost.batch / use.volume_l;
  cost.per_100m2 = cost.per_l * use.rate_l_per_ha / 100.0;  // a hectare is a hundred times 100 m2
  return cost;
}

}  // namespace barm::recipe
