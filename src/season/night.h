// When it is night at a garden. Source of the method: libnova (solar position); checked against S51 and S52.
// Model: docs/season/night.md
#pragma once

#include <cstdint>
#include <vector>

namespace barm::season {

struct Place {
  double latitude_deg = 0.0;   // north positive, -90 to 90
  double longitude_deg = 0.0;  // east positive, -360 to 360
};
struct Night {  // from sunset to sunrise, as milliseconds UTC since 1970
  std::int64_t from_at = 0;
  std::int64_t to_at = 0;
};

/// Nights that touch the stretch, cut to it, in order. In a polar summer none, in a polar winter the whole stretch.
/// Sunset and sunrise are the instants when the upper edge of the sun stands on a level horizon at sea level, bent
/// light included. Left out: hills, the height of the garden, the day's own bending of light (a minute or two at mid
/// latitudes). The caller promises a place on the globe and a stretch of at most 400 days that does not run backwards.
std::vector<Night> nights(const Place& place, std::int64_t from_at, std::int64_t to_at);

}  // namespace barm::season
