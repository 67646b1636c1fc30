// Where the sun stands. Earth's orbit, nutation and sidereal time come from libnova; precession and aberration are put
// on here, since the library's own sun leaves the first out and makes the second too small. Model: docs/season/night.md
#pragma once

#include <cstdint>
#include <mutex>

#include "season/night.h"

namespace barm::season {

/// The sun as seen from the middle of the earth, true equator and equinox of date.
struct SunPosition {
  double apparent_longitude_deg = 0.0;
  double right_ascension_deg = 0.0;
  double declination_deg = 0.0;
};

/// Sole use of libnova, which keeps its last earth and nutation in unguarded variables of its own: while one Almanac is
/// open another waits (so a thread opens one only), and each forgets what was asked before, so that the same questions
/// get the same answers.
class Almanac {
 public:
  Almanac();

  /// At an instant in milliseconds UTC since 1970. Within 0.0001 degree of S51; made for 1950 to 2100.
  SunPosition sun(std::int64_t at);

  /// Height of the sun's centre above the horizon [degrees], as the definition of sunrise wants it: without bent light.
  double sun_height_deg(const Place& place, std::int64_t at);

 private:
  std::unique_lock<std::mutex> sole_;
};

}  // namespace barm::season
