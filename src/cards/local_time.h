// Instants on a garden's clock. Reads the system's time zone data, so nothing below this room may use it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cards/catalogue.h"

namespace barm::cards {

/// Whether the system knows this IANA zone ("America/Bogota").
bool zone_exists(std::string_view zone);
/// Every zone name the system knows, for offering the likely one.
std::vector<std::string> zone_names();

// All below: instants are milliseconds UTC since 1970; the zone exists (checked by the caller, else BrokenPromise).

/// Day and hour as people say them: "Sat 04:10", "sáb 04:10".
std::string local_text(std::int64_t instant_ms, std::string_view zone, Language language = Language::english);
/// Offset date-time of ISO 8601: "2026-05-02T04:10:00-05:00". Milliseconds are left out.
std::string iso_text(std::int64_t instant_ms, std::string_view zone);
/// Minutes the zone's clock is ahead of UTC at that instant.
int offset_minutes(std::int64_t instant_ms, std::string_view zone);

/// The instant at which the zone's clock shows this, given as if the clock were UTC; nothing when it never shows it or
/// shows it twice.
std::optional<std::int64_t> instant_of_clock(std::int64_t clock_ms, std::string_view zone);

}  // namespace barm::cards
