#include "cards/local_time.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <array>
#include <chrono>
#include <cstdlib>

namespace barm::cards {
namespace {

const date::time_zone* find_zone(std::string_view zone) {
  try {
    return date::locate_zone(zone);
  } catch (const std::runtime_error&) {  // the library's way to say that there is none
    return nullptr;
  }
}

struct Clock {
  date::local_days day;
  std::chrono::seconds time;  // since that day's midnight
};

Clock local_clock(std::int64_t instant_ms, int offset_min) {
  const auto instant = date::floor<std::chrono::seconds>(
      date::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(instant_ms)));
  const date::local_seconds local(instant.time_since_epoch() + std::chrono::minutes(offset_min));
  const auto day = date::floor<date::days>(local);
  return {day, local - day};
}

}  // namespace

bool zone_exists(std::string_view zone) {
  return !zone.empty() && find_zone(zone) != nullptr;
}

std::vector<std::string> zone_names() {
  std::vector<std::string> names;
  for (const auto& zone : date::get_tzdb().zones) names.push_back(zone.name());
  return names;
}

int offset_minutes(std::int64_t instant_ms, std::string_view zone) {
  const auto* found = find_zone(zone);
  expects(found != nullptr, "the time zone exists");
  const auto info = found->get_info(date::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(instant_ms)));
  return static_cast<int>(std::chrono::duration_cast<std::chrono::minutes>(info.offset).count());
}

std::optional<std::int64_t> instant_of_clock(std::int64_t clock_ms, std::string_view zone) {
  const auto* found = find_zone(zone);
  expects(found != nullptr, "the time zone exists");
  const date::local_time<std::chrono::milliseconds> clock{std::chrono::milliseconds(clock_ms)};
  const auto info = found->get_info(clock);
  if (info.result != date::local_info::unique) return std::nullopt;
  return clock_ms - std::chrono::duration_cast<std::chrono::milliseconds>(info.first.offset).count();
}

std::string local_text(std::int64_t instant_ms, std::string_view zone, Language language) {
  static constexpr std::array<const char*, 7> english = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  static constexpr std::array<const char*, 7> spanish = {"dom", "lun", "mar", "mié", "jue", "vie", "sáb"};
  const auto clock = local_clock(instant_ms, offset_minutes(instant_ms, zone));
  const date::hh_mm_ss time(clock.time);
  const auto day = date::weekday(clock.day).c_encoding();
  return fmt::format("{} {:02}:{:02}", language == Language::english ? english[day] : spanish[day],
                     time.hours().count(), time.minutes().count());
}

std::string iso_text(std::int64_t instant_ms, std::string_view zone) {
  const int offset = offset_minutes(instant_ms, zone);
  const auto clock = local_clock(instant_ms, offset);
  const date::year_month_day day(clock.day);
  const date::hh_mm_ss time(clock.time);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}{:02}:{:02}", static_cast<int>(day.year()),
                     static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()), time.hours().count(),
                     time.minutes().count(), time.seconds().count(), offset < 0 ? '-' : '+', std::abs(offset) / 60,
                     std::abs(offset) % 60);
}

}  // namespace barm::cards
