#include "season/sun.h"

#include <libnova/nutation.h>
#include <libnova/sidereal_time.h>
#include <libnova/solar.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace barm::season {
namespace {

constexpr double ms_per_day = 86'400'000.0;
constexpr double julian_day_of_1970 = 2'440'587.5;  // exact
constexpr double julian_day_of_2000 = 2'451'545.0;  // exact, noon
constexpr double days_per_century = 36'525.0;
// memory: dynamical less universal time in the 2020s. The library's own figure (122 s for 2015, when it was 68 s) is
// not used. Ten seconds of error here move sunrise by 0.03 s.
constexpr double dynamical_ahead_s = 69.0;
// memory: constant of aberration at one astronomical unit.
constexpr double aberration_arcsec = 20.4898;

double radians(double degrees) {
  return degrees * std::numbers::pi / 180.0;
}
double degrees(double radians) {
  return radians * 180.0 / std::numbers::pi;
}

double julian_day(std::int64_t at) {
  return julian_day_of_1970 + static_cast<double>(at) / ms_per_day;
}

// memory: precession of the ecliptic since 2000, Lieske 1977, to second order: along it, and by its tilting about a
// line that lies at 174.876 degrees.
double precession_deg(double centuries) {
  return (5029.0966 * centuries + 1.11113 * centuries * centuries) / 3600.0;
}
double tilting_deg(double centuries, double longitude_2000_deg) {
  const double axis_deg = 174.876384 - 869.8089 * centuries / 3600.0;
  return (47.0029 * centuries - 0.03302 * centuries * centuries) / 3600.0 *
         std::sin(radians(axis_deg - longitude_2000_deg));
}

std::mutex& libnova_guard() {
  static std::mutex guard;
  return guard;
}

}  // namespace

Almanac::Almanac() : sole_(libnova_guard()) {
  ln_nutation forgotten{};
  ln_get_nutation(julian_day_of_2000 - days_per_century, &forgotten);  // nutation is kept for a tenth of a day
}

SunPosition Almanac::sun(std::int64_t at) {
  const double day = julian_day(at) + dynamical_ahead_s / 86'400.0;
  ln_helio_posn orbit{};
  ln_get_solar_geom_coords(day, &orbit);  // equinox of 2000
  ln_nutation nutation{};
  ln_get_nutation(day, &nutation);

  const double centuries = (day - julian_day_of_2000) / days_per_century;
  const double longitude_deg =
      orbit.L + precession_deg(centuries) + nutation.longitude - aberration_arcsec / 3600.0 / orbit.R;
  const double longitude = radians(longitude_deg);
  const double latitude = radians(orbit.B + tilting_deg(centuries, orbit.L));
  const double tilt = radians(nutation.ecliptic + nutation.obliquity);
  const double right_ascension_deg = degrees(
      std::atan2(std::cos(tilt) * std::sin(longitude) - std::sin(tilt) * std::tan(latitude), std::cos(longitude)));
  const double declination_sine =
      std::sin(latitude) * std::cos(tilt) + std::cos(latitude) * std::sin(tilt) * std::sin(longitude);
  return {.apparent_longitude_deg = std::fmod(longitude_deg, 360.0),
          .right_ascension_deg = right_ascension_deg < 0.0 ? right_ascension_deg + 360.0 : right_ascension_deg,
          .declination_deg = degrees(std::asin(declination_sine))};
}

double Almanac::sun_height_deg(const Place& place, std::int64_t at) {
  const SunPosition here = sun(at);
  const double sidereal_deg = ln_get_apparent_sidereal_time(julian_day(at)) * 15.0;
  const double hour_angle = radians(sidereal_deg + place.longitude_deg - here.right_ascension_deg);
  const double latitude = radians(place.latitude_deg);
  const double declination = radians(here.declination_deg);
  const double height_sine =
      std::sin(latitude) * std::sin(declination) + std::cos(latitude) * std::cos(declination) * std::cos(hour_angle);
  return degrees(std::asin(std::clamp(height_sine, -1.0, 1.0)));
}

}  // namespace barm::season
