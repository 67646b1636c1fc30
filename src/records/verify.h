// Whether the record is what was written.
#pragma once

#include <cstdint>
#include <string>

#include "records/store.h"

namespace barm::records {

struct Verified {
  std::int64_t entries_count = 0, seals_count = 0;
  std::string head{};
  Remarks faults{};  // what was changed, removed or slipped in, by the numbers of the entries; empty when nothing was
};

/// Reads the whole record and works every seal out again. `noted_head` is a hash noted on paper earlier, or empty: when
/// the chain never came to it, the record was written anew since. What is left out: somebody who can write the file can
/// write the whole chain anew, which only a noted head tells.
Answer<Verified> verify(Store& store, const std::string& noted_head = {});

}  // namespace barm::records
