// Files the person names, and the knowledge the program carries.
#pragma once

#include "operations/world.h"

namespace barm::cli {

/// The machine as it is.
operations::World real_world(const cards::Catalogue& words);

}  // namespace barm::cli
