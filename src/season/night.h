// When it is night at a garden. Source of the method: libnova (solar position); checked against S51 and S52.
#pragma once

#include <cstdint>
#include <vector>

namespace barm::season {

struct Place {
  double latitude_deg = 0.0;     // north positive
  double longitude_deg = 0.0;    // east positive
};
struct Night {                   // from sunset to sunrise, as milliseconds UTC since 1970
  std::int64_t from_at = 0;
  std::int64_t to_at = 0;
};

/// Nights that touch the stretch, cut to it. In a polar summer none, in a polar winter the whole stretch.
std::vector<Night> nights(const Place& place, std::int64_t from_at, std::int64_t to_at);

}  // namespace barm::season
