// Instants and days as they stand in archives and CSV files: UTC, ISO 8601.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace barm::records {

/// "2026-05-02T23:00:00Z"; milliseconds are written when there are any.
std::string instant_text(std::int64_t at_ms);
/// Reads what `instant_text` writes; nothing when it is anything else. Years 1970 to 9999.
std::optional<std::int64_t> read_instant_text(std::string_view text);

/// Whether the text is a day of the calendar, "2026-05-02".
bool is_date(std::string_view text);
/// The day after, in the same form. The date is one.
std::string next_day(std::string_view date);

}  // namespace barm::records
