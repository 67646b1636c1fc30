// How a verdict on a brew is told, wherever it stands.
#pragma once

#include "operations/inputs.h"
#include "operations/outputs.h"
#include "operations/world.h"
#include "recipe/fitness.h"

namespace barm::operations {

Choices<recipe::Smell> smells();
Choices<recipe::Foam> foams();
Choices<recipe::Look> looks();
Choices<recipe::Fitness> fitnesses();

/// The strictest limit of E. coli the rules shipped set for a tea, and whose it is.
void hold_to_rules(recipe::Seen& seen, const World& world);
Outputs<recipe::Judged> judged_outputs();
/// The verdict, its reasons and what to do, a line each.
std::string judged_text(const recipe::Judged& judged, const Voice& voice);

}  // namespace barm::operations
