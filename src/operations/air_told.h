// How a pump and its air are asked for and told, wherever an operation needs them.
#pragma once

#include "air/pump.h"
#include "air/transfer.h"
#include "operations/outputs.h"

namespace barm::operations {

const Choices<air::Diffuser>& diffusers();
Outputs<air::Delivered> delivered_outputs();
Outputs<air::KlaEstimate> kla_outputs();

/// A tube's bore is kept in millimetres but read as a length [m].
inline constexpr double mm_per_m = 1000.0;

}  // namespace barm::operations
