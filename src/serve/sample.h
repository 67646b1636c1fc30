// A garden to look around in: entries written down in a file, kept when the record is empty. Form: docs/serve/sample.md
#pragma once

#include <string>
#include <string_view>

#include "operations/world.h"

namespace barm::serve {

/// Keeps each [[entry]] as `barm record add` would, in order. An instant may be told from now ("now - 6 h 30 min"), so
/// that a sample brew is always under way; a table is kept as a document. Refuses what is no sample and whatever an
/// entry is refused for.
Answer<bool> keep_sample(std::string_view toml, const std::string& store, const operations::World& world);

}  // namespace barm::serve
