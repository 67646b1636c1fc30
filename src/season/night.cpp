#include "season/night.h"

#include <algorithm>
#include <cmath>

#include "quantity/expects.h"
#include "season/sun.h"

namespace barm::season {
namespace {

constexpr std::int64_t longest_stretch_ms = 400LL * 86'400'000LL;
constexpr std::int64_t step_ms = 3'600'000;  // an hour, in which the sky turns 15 degrees
constexpr std::int64_t straight_ms = 8'000;  // the sun's path bends by less than a millisecond in so short a time
// S51: centre of the sun when its upper edge touches the horizon, 16' of radius and 34' of bent light.
constexpr double horizon_deg = -0.8333;
// Within a step of its turning point the sun climbs or sinks by at most 15 degrees' worth of a circle (1 - cos),
// rounded up.
constexpr double hidden_turn_deg = 2.0;

struct Sample {
  std::int64_t at = 0;
  double height_deg = 0.0;
  bool dark() const { return height_deg < horizon_deg; }
};

// The sun over one place, looked up as often as need be.
struct Sky {
  Place place;
  Almanac almanac;
  Sample look(std::int64_t at) { return {.at = at, .height_deg = almanac.sun_height_deg(place, at)}; }
};

// When the sun crosses the horizon between two samples on different sides of it.
std::int64_t crossing(Sky& sky, Sample before, Sample after) {
  while (after.at - before.at > straight_ms) {
    const Sample middle = sky.look(before.at + (after.at - before.at) / 2);
    (middle.dark() == before.dark() ? before : after) = middle;
  }
  const double share = (horizon_deg - before.height_deg) / (after.height_deg - before.height_deg);
  return before.at + std::llround(share * static_cast<double>(after.at - before.at));
}

// The turning point between two instants, to a second: lowest in light, highest in the dark.
Sample turn(Sky& sky, std::int64_t from, std::int64_t to, bool lowest) {
  while (to - from > 1000) {
    const std::int64_t third = (to - from) / 3;
    const bool left_is_lower = sky.look(from + third).height_deg < sky.look(to - third).height_deg;
    if (left_is_lower == lowest) {
      to -= third;
    } else {
      from += third;
    }
  }
  return sky.look(from + (to - from) / 2);
}

bool may_hide_a_turn(const Sample& before, const Sample& here, const Sample& after) {
  if (before.dark() != here.dark() || here.dark() != after.dark()) return false;
  if (std::abs(here.height_deg - horizon_deg) > hidden_turn_deg) return false;
  return here.dark() ? here.height_deg >= std::max(before.height_deg, after.height_deg)
                     : here.height_deg <= std::min(before.height_deg, after.height_deg);
}

// Samples from two steps before the stretch to two after it. Near a pole a night or a day may fit between two samples:
// where the sun turns just short of the horizon, the turning point joins them when it lies beyond.
std::vector<Sample> watch(Sky& sky, std::int64_t from_at, std::int64_t to_at) {
  std::vector<Sample> samples;
  for (std::int64_t at = from_at - 2 * step_ms; at < to_at + 3 * step_ms; at += step_ms)
    samples.push_back(sky.look(at));
  std::vector<Sample> with_turns;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const bool inner = i > 0 && i + 1 < samples.size();
    if (inner && may_hide_a_turn(samples[i - 1], samples[i], samples[i + 1])) {
      const Sample extreme = turn(sky, samples[i - 1].at, samples[i + 1].at, !samples[i].dark());
      const bool beyond = extreme.dark() != samples[i].dark();
      if (beyond && extreme.at < samples[i].at) with_turns.push_back(extreme);
      with_turns.push_back(samples[i]);
      if (beyond && extreme.at > samples[i].at) with_turns.push_back(extreme);
    } else {
      with_turns.push_back(samples[i]);
    }
  }
  return with_turns;
}

}  // namespace

std::vector<Night> nights(const Place& place, std::int64_t from_at, std::int64_t to_at) {
  expects(std::abs(place.latitude_deg) <= 90.0, "a latitude on the globe");
  expects(std::abs(place.longitude_deg) <= 360.0, "a longitude on the globe");
  expects(from_at <= to_at && to_at - from_at <= longest_stretch_ms, "a stretch that runs forward, at most 400 days");

  Sky sky{.place = place, .almanac = Almanac()};
  const std::vector<Sample> samples = watch(sky, from_at, to_at);
  std::vector<Night> found;
  const auto keep = [&](std::int64_t sunset, std::int64_t sunrise) {
    const Night cut{.from_at = std::max(sunset, from_at), .to_at = std::min(sunrise, to_at)};
    if (cut.from_at < cut.to_at) found.push_back(cut);
  };
  std::int64_t sunset = samples.front().at;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (samples[i - 1].dark() == samples[i].dark()) continue;
    const std::int64_t at = crossing(sky, samples[i - 1], samples[i]);
    if (samples[i].dark()) {
      sunset = at;
    } else {
      keep(sunset, at);
    }
  }
  if (samples.back().dark()) keep(sunset, samples.back().at);
  return found;
}

}  // namespace barm::season
