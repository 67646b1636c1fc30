// People name things by what they call them, not by their ids.
#pragma once

#include <string>
#include <vector>

#include "records/store.h"

namespace barm::records {

/// The id of the one thing of these kinds that is called so now, capitals aside; an id is given back as it is. Refuses
/// a name nobody has, offering the likely one, and a name that several have, listing their ids.
Answer<std::string> id_named(Store& store, const std::vector<std::string>& kinds, const std::string& name);

}  // namespace barm::records
