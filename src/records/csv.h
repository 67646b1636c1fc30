// Entries of a kind as a table for a spreadsheet: RFC 4180, one file a kind. Form: docs/records/csv.md
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "records/store.h"

namespace barm::records {

/// Names of the columns, then a row for each entry that counts, given piece by piece. A text that a spreadsheet would
/// take for a formula gets an apostrophe before it.
Answer<std::int64_t> write_csv(Store& store, const Kind& kind, const Filter& filter,
                               const std::function<void(std::string_view)>& write);

/// Reads such a table, or one made elsewhere: columns in any order, named as the kind's columns; instants as "...Z". A
/// row without an id gets one made of its content, so that a file read twice is kept once. Names every wrong line, up
/// to twenty.
Answer<std::vector<Entry>> read_csv(std::string_view text, const Kind& kind);

}  // namespace barm::records
