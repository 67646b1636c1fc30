// People name things by what they call them, not by their ids.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "records/store.h"

namespace barm::records {

/// The id of the one thing of these kinds that is called so now, capitals aside when nothing is called just so; an id
/// is given back as it is. Refuses a name nobody has, offering the likely one, and a name that several have, listing
/// their ids.
Answer<std::string> id_named(Store& store, const std::vector<std::string>& kinds, const std::string& name);

/// What the things that these entries name are called now, by their ids. Withdrawn ones keep their name.
Answer<std::map<std::string, std::string>> names_in(Store& store, const std::vector<Entry>& entries);

/// The id of the first entry about the same thing as each of these, by which the thing is named wherever it is
/// referred to; in their order.
Answer<std::vector<std::string>> thing_ids_of(Store& store, const std::vector<Entry>& entries);

}  // namespace barm::records
