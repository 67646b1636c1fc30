// A plan written as the file that `brew plan` reads.
#pragma once

#include <string>

#include "recipe/plan.h"

namespace barm::operations {

/// TOML with every key the plan hangs on; amounts in grams and millilitres, to the last digit, so that reading it back
/// gives the same brew.
std::string plan_toml(const recipe::PlanAsk& ask, const std::string& zone);

}  // namespace barm::operations
