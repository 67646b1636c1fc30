// Days of the calendar, and how many lie between them.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace barm::rule {

using Day = std::chrono::sys_days;

/// Reads "2026-05-02"; nothing when it is no day between the years 1900 and 9999.
std::optional<Day> read_day(std::string_view text);
std::string day_text(Day day);
/// The day of a moment [ms UTC] where the clock is `offset_ms` ahead of UTC.
Day day_of(std::int64_t at_ms, std::int64_t offset_ms = 0);

}  // namespace barm::rule
