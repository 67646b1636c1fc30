// A brew's log as a grower or a logger keeps it: readings and acts. Form: docs/operations/readings.md
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "brew/log.h"
#include "quantity/answer.h"

namespace barm::operations {

/// What the times in a log are told against.
struct LogClock {
  std::int64_t start_at = 0;           // air on, ms UTC
  std::string zone;                    // for times without their distance from UTC
  std::optional<std::int64_t> now_at;  // readings later than this are refused
};

/// One time column (time_h, time_min or time_s since air on, or `time` on the clock) and any of oxygen_mg_per_l,
/// oxygen_percent, temperature_c, temperature_f, bacteria_per_ml, protozoa_per_ml and act (air off, air on, bag out,
/// bag in); an empty cell was not measured. Rows may come in any order. Refuses, naming line and column: no or several
/// time columns, no column of readings, what is no number, no act, a negative oxygen or count, a time that is none,
/// falls in the hour the clocks skip or repeat, or lies in the future.
Answer<brew::BrewLog> read_brew_log(std::string_view text, const LogClock& clock, const std::string& field);

}  // namespace barm::operations
