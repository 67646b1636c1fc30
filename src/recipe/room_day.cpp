#include "recipe/room_day.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "quantity/expects.h"

namespace barm::recipe {
namespace {

constexpr double ms_per_h = 3'600'000.0;

double temperature_c(const RoomDay& day, const RoomDay::Strike& strike) {
  return day.by_hour_c.at(static_cast<std::size_t>(strike.hour));
}

}  // namespace

double RoomDay::mean_c() const {
  return std::accumulate(by_hour_c.begin(), by_hour_c.end(), 0.0) / static_cast<double>(by_hour_c.size());
}

double RoomDay::coldest_c() const {
  return *std::ranges::min_element(by_hour_c);
}

double RoomDay::warmest_c() const {
  return *std::ranges::max_element(by_hour_c);
}

void RoomDay::warm(double by_c) {
  for (double& hour_c : by_hour_c) hour_c += by_c;
}

std::vector<double> swinging_by_hour_c(double warmest_c, double coldest_c) {
  constexpr int day_h = 24, coldest_at = 5, warmest_at = 15;
  std::vector<double> by_hour_c;
  for (int hour = 0; hour < day_h; ++hour) {
    const int since_coldest = (hour - coldest_at + day_h) % day_h;
    constexpr int rise_h = warmest_at - coldest_at, fall_h = day_h - rise_h;
    const double way = since_coldest <= rise_h ? static_cast<double>(since_coldest) / rise_h
                                               : 1.0 - static_cast<double>(since_coldest - rise_h) / fall_h;
    by_hour_c.push_back(coldest_c + (warmest_c - coldest_c) * 0.5 * (1.0 - std::cos(std::numbers::pi * way)));
  }
  return by_hour_c;
}

std::vector<brew::RoomStep> room_steps(const RoomDay& day, std::int64_t start_at) {
  std::vector<brew::RoomStep> steps;
  if (!day.is_told()) return steps;
  expects(!day.strikes.empty() && day.strikes.front().at <= start_at, "the clock has struck before the start");
  for (const RoomDay::Strike& strike : day.strikes) {
    const double from_h = std::max(0.0, static_cast<double>(strike.at - start_at) / ms_per_h);
    if (from_h == 0.0) steps.clear();  // only the hour it starts in counts
    if (steps.empty() || steps.back().temperature_c != temperature_c(day, strike))
      steps.push_back({.from_h = from_h, .temperature_c = temperature_c(day, strike)});
  }
  return steps;
}

double mean_c(const RoomDay& day, std::int64_t from_at, double hours) {
  const auto steps = room_steps(day, from_at);
  double sum = 0.0;
  for (std::size_t i = 0; i < steps.size() && steps[i].from_h < hours; ++i) {
    const double until_h = i + 1 < steps.size() ? std::min(hours, steps[i + 1].from_h) : hours;
    sum += steps[i].temperature_c * (until_h - steps[i].from_h);
  }
  return sum / hours;
}

}  // namespace barm::recipe
