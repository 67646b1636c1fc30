// What a batch costs, as answers tell it.
#pragma once

#include <string>

#include "operations/outputs.h"
#include "recipe/batch_cost.h"

namespace barm::operations {

Outputs<recipe::BatchCost> cost_outputs();
/// In a sentence: the batch, a litre, and 100 m2 where it is known what is spread.
std::string cost_text(const recipe::BatchCost& cost, const std::string& currency, const Voice& voice);

}  // namespace barm::operations
