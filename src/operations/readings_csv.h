// Oxygen readings as a logger or a spreadsheet saves them. Form: docs/operations/readings.md
#pragma once

#include <string_view>
#include <vector>

#include "air/reaeration.h"
#include "quantity/answer.h"

namespace barm::operations {

/// Reads columns `time_s` and `oxygen_mg_per_l`, named in the first line, in any order. Cells are parted by commas,
/// semicolons or tabs, whichever the first line uses; a decimal comma is taken only where cells are not parted by
/// commas. A byte-order mark, either line ending, empty lines and lines beginning with '#' are allowed. Doubts: columns
/// nobody uses. Refuses, naming line and column, up to ten at once: missing or repeated columns (offering the likely
/// spelling), too few or many cells, a cell that is no number or not finite, more than a million rows, and a file
/// without readings. `field` is the input the file came through.
Answer<std::vector<air::OxygenReading>> read_readings(std::string_view text, const std::string& field);

}  // namespace barm::operations
