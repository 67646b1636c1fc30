// Instants as people and programs write them: a date and a time with its distance from UTC.
#pragma once

#include <cstdint>
#include <string_view>

#include "quantity/answer.h"

namespace barm::operations {

struct Instant {
  std::int64_t at_ms = 0;  // UTC since 1970
  int offset_min = 0;      // how far ahead of UTC the clock was that wrote it
};

/// Reads an offset date-time of ISO 8601 / RFC 3339 ("2026-05-02T18:00:00-05:00", "T" may be a
/// space, seconds may be left out). Range: years 2000 to 2199. Refuses a date-time without its offset, since the same
/// words are another moment in another zone and happen twice on the night the clocks go back.
Answer<Instant> read_instant(std::string_view text);

}  // namespace barm::operations
