// The place a brew stands in over a day: warm by day, cool by night.
#pragma once

#include <cstdint>
#include <vector>

#include "brew/setup.h"

namespace barm::recipe {

/// How warm the place is in each hour of the clock, and when those hours begin.
struct RoomDay {
  struct Strike {
    std::int64_t at = 0;  // ms UTC
    int hour = 0;         // of the clock, 0 to 23, that begins then
  };
  std::vector<double> by_hour_c;  // 24, from midnight on; empty: not told
  std::vector<Strike> strikes;    // in order, the first no later than any start
  bool is_of_two = false;         // drawn from its warmest and its coldest hour alone

  bool is_told() const { return !by_hour_c.empty(); }
  double mean_c() const;
  double coldest_c() const;
  double warmest_c() const;
  void warm(double by_c);
};

/// A day between its warmest hour, at three in the afternoon, and its coldest, at five in the morning: half a cosine up
/// and a longer one down. Hours judged; the shape is the usual one for air near the ground (from memory).
std::vector<double> swinging_by_hour_c(double warmest_c, double coldest_c);

/// The same as a brew that starts then sees it; hours in which nothing changes are left out.
std::vector<brew::RoomStep> room_steps(const RoomDay& day, std::int64_t start_at);
/// The mean over so many hours from then on [degC].
double mean_c(const RoomDay& day, std::int64_t from_at, double hours);

}  // namespace barm::recipe
