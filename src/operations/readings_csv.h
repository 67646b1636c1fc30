// Oxygen readings as a logger or a spreadsheet saves them. Form: docs/operations/readings.md
#pragma once

#include <string_view>
#include <vector>

#include "air/reaeration.h"
#include "quantity/answer.h"

namespace barm::operations {

/// Reads the columns `time_s` and `oxygen_mg_per_l`, in any order, of a table as csv_table.h takes them. Doubts:
/// columns nobody uses. Refuses all that the table refuses, and more than a million rows. `field` is the input the file
/// came through.
Answer<std::vector<air::OxygenReading>> read_readings(std::string_view text, const std::string& field);

}  // namespace barm::operations
