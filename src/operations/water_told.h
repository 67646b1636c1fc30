// How clearing water of chlorine is told, wherever an answer holds it.
#pragma once

#include "operations/outputs.h"
#include "water/chlorine.h"

namespace barm::operations {

const Choices<water::ClearingMethod>& clearing_methods();
Outputs<water::Clearing> clearing_outputs();
/// One method in a paragraph.
std::string tell_clearing(const water::Clearing& clearing, const Voice& voice);

}  // namespace barm::operations
