#include "operations/registry.h"

namespace barm::operations {

const std::vector<Operation>& all_operations() {
  static const std::vector<Operation> all = {
      brew_plan(), water_oxygen(), water_clear(), air_test(), air_supply(), compost_heat(), units_convert(),
      brew_plan(),   water_oxygen(), water_clear(), air_test(),      air_supply(),
      count_tubes(), count_plates(), count_slide(), units_convert(),
  };
  return all;
}

}  // namespace barm::operations
