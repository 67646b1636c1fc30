// What the program ships with, each read once, when first asked for. A broken file is our fault: throws BrokenPromise.
#pragma once

#include <vector>

#include "compost/heat_rules.h"
#include "count/tables.h"
#include "recipe/plan.h"

namespace barm::operations {

/// What plans are worked out from.
const recipe::Knowledge& shipped_knowledge();
/// What counts are worked out with: rules for plates and series, chambers, biomass factors.
const count::Tables& shipped_count_tables();
/// Which time and heat each rule asks of a pile.
const std::vector<compost::HeatRule>& shipped_heat_rules();

}  // namespace barm::operations
