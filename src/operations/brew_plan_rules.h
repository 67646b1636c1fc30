// What rules say of a plan, told before it is brewed.
#pragma once

#include <vector>

#include "operations/brew_plan_inputs.h"

namespace barm::operations {

/// Adds to the plan's warnings and notes: the class of the tea with its consequence and the compliant ways instead, by
/// the produce-safety rule when it is among the sets; and how far an indicator of gut bacteria could grow, with what
/// lowers it. Only ever adds.
void hold_to_rules(const PlanInput& in, const std::vector<rule::RuleSet>& sets, PlanAnswer& answer);

}  // namespace barm::operations
