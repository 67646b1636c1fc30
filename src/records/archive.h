// A whole record in one file: JSON Lines in a zip, with a manifest and checksums. Form: docs/records/archive.md
#pragma once

#include <cstdint>
#include <string>

#include "quantity/answer.h"
#include "records/store.h"

namespace barm::records {

struct Archived {
  std::int64_t entries_count = 0;
  std::string head{};  // of the chain
};

/// Writes the record as it stands at one moment, while others go on writing. Refuses a name that is taken already. The
/// store's functions of reading must not be in use.
Answer<Archived> write_archive(Store& store, const std::string& file);

/// Fills an empty store from an archive: the same entries, numbers, times and seals. All or nothing. Refuses what is no
/// archive of ours, what a newer program wrote, a wrong checksum, lines that are not entries, a broken chain, and
/// archives made to do harm: other names inside, encryption, sizes that do not hold, contents that shrank more than
/// entries can.
Answer<Archived> read_archive(const std::string& file, Store& into);

}  // namespace barm::records
