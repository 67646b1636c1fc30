// A plan written as the file that `brew plan` reads.
#pragma once

#include <optional>
#include <string>

#include "recipe/plan.h"

namespace barm::operations {

/// What stands in a plan's file beside the brew.
struct PlanBeside {
  recipe::Tariffs tariffs{};
  double rate_l_per_ha = unset;
  std::optional<bool> is_animal_origin{};  // of its compost
};

/// TOML with every key the plan hangs on; amounts in grams and millilitres, to the last digit, so that reading it back
/// gives the same brew.
std::string plan_toml(const recipe::PlanAsk& ask, const std::string& zone, const PlanBeside& beside = {});

}  // namespace barm::operations
