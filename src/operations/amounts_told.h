// Amounts to measure out, as answers tell them.
#pragma once

#include "operations/outputs.h"
#include "recipe/plan.h"

namespace barm::operations {

Outputs<recipe::AmountLine> amount_outputs();

}  // namespace barm::operations
