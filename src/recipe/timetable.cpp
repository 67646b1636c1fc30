// When a brew may start and stop so that it can be used.
#include <algorithm>
#include <cmath>
#include <limits>

#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr std::int64_t ms_per_h = 3'600'000, half_hour_ms = ms_per_h / 2;
// Low sun, little wind: from an hour before sunrise to three after, and the same about sunset. practice; hours judged.
constexpr std::int64_t before_sunrise_ms = ms_per_h, after_sunrise_ms = 3 * ms_per_h;
constexpr std::int64_t before_sunset_ms = 3 * ms_per_h, after_sunset_ms = ms_per_h;
constexpr std::int64_t usual_wait_ms = 24 * ms_per_h;  // how late a start may be when nobody says
constexpr std::size_t timetables_most = 6;
constexpr double same_room_c = 0.25;        // judged: no forecast turns on less
constexpr double longest_extract_h = 12.0;  // judged: what comes out of a compost is out by then

struct Span {
  std::int64_t from, until;
  bool holds(std::int64_t at) const { return at >= from && at <= until; }
};

std::int64_t start_until(const DesignAsk& ask) {
  if (ask.start_until_at) return *ask.start_until_at;
  if (ask.finish_until_at) return *ask.finish_until_at;
  return std::max(ask.start_from_at + usual_wait_ms, ask.finish_from_at.value_or(0));
}

/// Hours of the day in which the tea can be spread; one span of everything when any hour will do.
std::vector<Span> spreading(const DesignAsk& ask, std::int64_t last_at) {
  if (ask.use_hours == UseHours::any)
    return {{std::numeric_limits<std::int64_t>::min(), std::numeric_limits<std::int64_t>::max()}};
  constexpr std::int64_t day_ms = 24 * ms_per_h;  // beyond both ends, so that no night is cut
  std::vector<Span> spans;
  for (const season::Night& night : season::nights(ask.place, ask.start_from_at - day_ms, last_at + day_ms)) {
    if (ask.use_hours == UseHours::morning) {
      spans.push_back({night.to_at - before_sunrise_ms, night.to_at + after_sunrise_ms});
    } else {
      spans.push_back({night.from_at - before_sunset_ms, night.from_at + after_sunset_ms});
    }
  }
  return spans;
}

std::vector<Slot> fitting(const DesignAsk& ask) {
  std::vector<Slot> slots;
  const std::int64_t first = (ask.start_from_at + half_hour_ms - 1) / half_hour_ms * half_hour_ms;
  const std::int64_t last = start_until(ask);
  const bool is_extract = ask.purpose == Purpose::extract;
  const double longest_h = std::min({ask.longest_h, lines::length_usual_h, is_extract ? longest_extract_h : 1e9});
  const auto spans = spreading(ask, last + static_cast<std::int64_t>(longest_h) * ms_per_h);
  for (double length_h = is_extract ? shortest_extract_h : shortest_h; length_h <= longest_h; length_h += 0.5) {
    for (std::int64_t start = first; start <= last; start += half_hour_ms) {
      const auto finish = start + std::llround(length_h * static_cast<double>(ms_per_h));
      if (ask.finish_from_at && finish < *ask.finish_from_at) continue;
      if (ask.finish_until_at && finish > *ask.finish_until_at) continue;
      const bool can_be_spread =
          std::any_of(spans.begin(), spans.end(), [&](const Span& s) { return s.holds(finish); });
      if (can_be_spread) slots.push_back({.length_h = length_h, .start_at = start});
    }
  }
  return slots;
}

/// Earliest of a length, or the one that stops last before it is wanted, so that it is fresh.
bool suits_better(const DesignAsk& ask, const Slot& one, const Slot& other) {
  return ask.finish_until_at ? one.start_at > other.start_at : one.start_at < other.start_at;
}

/// One slot of each length, the one that suits best.
Timetable one_a_length(const DesignAsk& ask, const std::vector<Slot>& slots) {
  Timetable table;
  for (const Slot& slot : slots) {
    if (table.slots.empty() || table.slots.back().length_h != slot.length_h) {
      table.slots.push_back(slot);
    } else if (suits_better(ask, slot, table.slots.back())) {
      table.slots.back() = slot;
    }
  }
  return table;
}

}  // namespace

std::vector<Timetable> timetables(const DesignAsk& ask) {
  const std::vector<Slot> slots = fitting(ask);
  if (slots.empty()) return {};
  const auto [coolest, warmest] =
      std::ranges::minmax(ask.room_day.is_told() ? ask.room_day.by_hour_c : std::vector{0.0});
  if (warmest - coolest < same_room_c) return {one_a_length(ask, slots)};
  std::map<std::int64_t, std::vector<Slot>> by_start;
  for (const Slot& slot : slots) by_start[slot.start_at].push_back(slot);
  std::vector<Timetable> all;
  const std::size_t stride = (by_start.size() + timetables_most - 1) / timetables_most;
  std::size_t place = 0;
  for (const auto& [start, of_start] : by_start)
    if (place++ % stride == 0) all.push_back({.slots = of_start});
  return all;
}

double longest_h(const Draft& draft) {
  double longest = 0.0;
  for (const Timetable& table : draft.timetables) longest = std::max(longest, table.slots.back().length_h);
  return longest;
}

Remarks no_time(const DesignAsk& ask) {
  const double least_h = ask.purpose == Purpose::extract ? shortest_extract_h : shortest_h;
  Remarks all = {{"recipe.design.no_time", "time.start_from", {{"least", Quantity{least_h, Dimension::duration}}}}};
  DesignAsk other = ask;
  if (ask.finish_until_at) {
    for (int half_hours = 1; half_hours <= 96; ++half_hours) {
      other.finish_until_at = *ask.finish_until_at + half_hours * half_hour_ms;
      if (fitting(other).empty()) continue;
      all.push_back({"recipe.design.nearest.later",
                     "time.finish_until",
                     {{"later", Quantity{half_hours / 2.0, Dimension::duration}}}});
      break;
    }
  }
  other = ask;
  other.use_hours = UseHours::any;
  if (ask.use_hours != UseHours::any && !fitting(other).empty())
    all.push_back({"recipe.design.nearest.any_hour", "time.spread", {}});
  other = ask;
  for (int half_hours = 1; half_hours <= 96; ++half_hours) {
    other.start_from_at = ask.start_from_at - half_hours * half_hour_ms;
    if (fitting(other).empty()) continue;
    all.push_back({"recipe.design.nearest.earlier",
                   "time.start_from",
                   {{"earlier", Quantity{half_hours / 2.0, Dimension::duration}}}});
    break;
  }
  return all;
}

}  // namespace barm::recipe
