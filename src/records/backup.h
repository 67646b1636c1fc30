// Copies of a record, and records made from them.
#pragma once

#include <string>

#include "records/archive.h"
#include "records/store.h"

namespace barm::records {

/// Copies a file store as it stands at one moment, while others go on writing, and reads the copy through. Throws
/// Failure, also when the name is taken.
void copy_file(Connection& connection, const std::string& to);

/// A copy of the record: of a file store the same kind of file, of a server an archive.
Answer<Archived> back_up(Store& store, const std::string& to);

/// Makes a record at `to`, where there must be none yet, from a copy or an archive, and counts what it holds.
Answer<Archived> restore(const std::string& from, const Place& to, const Kinds& kinds, std::int64_t now);

}  // namespace barm::records
