#include "operations/room_day_read.h"

#include <algorithm>
#include <cmath>

#include "cards/local_time.h"

namespace barm::operations {
namespace {

constexpr std::int64_t ms_per_min = 60'000, ms_per_h = 60 * ms_per_min;
constexpr std::size_t hours_of_a_day = 24;
constexpr std::size_t days_least = 14, days_most = 90;  // ten days to start in and the longest brew; judged

/// When the hour of the clock began that holds at an instant.
recipe::RoomDay::Strike strike(std::int64_t at, const std::string& zone) {
  const std::int64_t clock = at + cards::offset_minutes(at, zone) * ms_per_min;
  const std::int64_t day = ((clock % (24 * ms_per_h)) + 24 * ms_per_h) % (24 * ms_per_h);  // before 1970 as well
  return {.at = at - day % ms_per_h, .hour = static_cast<int>(day / ms_per_h)};
}

}  // namespace

recipe::RoomDay read_room_day(const RoomTold& told, double warmest_c, const std::string& zone, std::int64_t start_at,
                              Findings& findings, std::int64_t last_at) {
  const auto days_between = static_cast<std::size_t>(std::max<std::int64_t>(0, last_at - start_at) / (24 * ms_per_h));
  const std::size_t strikes_count = hours_of_a_day * std::min(days_most, days_between + days_least);
  recipe::RoomDay day;
  day.is_of_two = std::isfinite(told.night_c);
  if (told.by_hour_c.empty() && !day.is_of_two) return day;
  if (!told.by_hour_c.empty() && day.is_of_two) findings.refuse({"operations.room.told_twice", "room.night", {}});
  if (!told.by_hour_c.empty() && told.by_hour_c.size() != hours_of_a_day)
    findings.refuse({"operations.room.not_24_hours",
                     "room.by_hour",
                     {{"given", Quantity{static_cast<double>(told.by_hour_c.size()), Dimension::number}}}});
  if (day.is_of_two && told.night_c > warmest_c)
    findings.refuse({"operations.room.night_warmer",
                     "room.night",
                     {{"given", Quantity{told.night_c, Dimension::temperature}},
                      {"most", Quantity{warmest_c, Dimension::temperature}}}});
  if (findings.refused()) return {};
  const Remark::Fact warmest = Quantity{warmest_c, Dimension::temperature};
  if (told.warmest_is_told && !day.is_of_two)
    findings.doubt({"operations.room.temperature_unused", "room.temperature", {{"given", warmest}}});
  if (!told.warmest_is_told && day.is_of_two)
    findings.doubt({"operations.room.night_alone", "room.temperature", {{"taken", warmest}}});
  day.by_hour_c = day.is_of_two ? recipe::swinging_by_hour_c(warmest_c, told.night_c) : told.by_hour_c;
  for (auto at = start_at; day.strikes.size() < strikes_count; at = day.strikes.back().at + ms_per_h) {
    auto next = strike(at, zone);
    // A clock put on or back by half an hour strikes off the row: the new hour counts from then on.
    if (!day.strikes.empty() && next.at <= day.strikes.back().at) next.at = at;
    day.strikes.push_back(next);
  }
  return day;
}

}  // namespace barm::operations
