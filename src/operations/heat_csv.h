// A log of pile temperatures as a logger, a spreadsheet or a notebook keeps it. Form: docs/compost/heat.md
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "compost/heat_log.h"

namespace barm::operations {

struct HeatFile {
  compost::HeatLog log;
  std::optional<std::int64_t> start_at;  // of the first row, milliseconds UTC; none when the file tells hours
};

/// Reads `time` (ISO instant) or `time_h`, then either `position` with `temperature_c` or `temperature_f`, or a column
/// for each position whose name ends in `_c` or `_f`; and `event`, where a turn is told ("turn", "turned"). An empty
/// temperature is no reading. Doubts: an event nobody knows. Refuses what the table refuses, a file with two clocks or
/// none, two scales at once, no temperatures, an instant that is none.
Answer<HeatFile> read_heat(std::string_view text, const std::string& field);

}  // namespace barm::operations
