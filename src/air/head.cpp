#include "air/head.h"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <vector>

namespace barm::air {
namespace {

// The head of a test may be left out up to this share of the rise; beyond, too little curve is left (judged).
constexpr double head_most_share = 0.6;
constexpr double head_chance = 0.001;  // judged
constexpr int heads_tried_most = 25;

using Readings = std::span<const OxygenReading>;

std::size_t lowest_at(Readings readings) {
  const auto below = [](const OxygenReading& a, const OxygenReading& b) {
    return a.oxygen_mg_per_l < b.oxygen_mg_per_l;
  };
  return static_cast<std::size_t>(std::min_element(readings.begin(), readings.end(), below) - readings.begin());
}

// Do the readings that `longer` has and `shorter` leaves out belong to the curve? The extra sum of squares they bring,
// over the variance without them, is an F ratio when they do.
bool head_is_foreign(const Run& longer, const Run& shorter) {
  const auto extra_count = static_cast<double>(shorter.first - longer.first);
  const double variance = std::max(shorter.curve.residual_sum_of_squares / shorter.curve.degrees_of_freedom,
                                   finest_probe_mg_per_l * finest_probe_mg_per_l);
  const double extra = longer.curve.residual_sum_of_squares - shorter.curve.residual_sum_of_squares;
  const boost::math::fisher_f by_chance(extra_count, shorter.curve.degrees_of_freedom);
  const double ratio = std::max(extra / extra_count / variance, 0.0);
  return boost::math::cdf(boost::math::complement(by_chance, ratio)) < head_chance;
}

// Starts worth trying: the first reading, then evenly spread ones while no more than the allowed share has risen.
std::vector<std::size_t> starts_to_try(Readings readings) {
  const std::size_t lowest = lowest_at(readings);
  const auto [low, high] = std::minmax_element(
      readings.begin(), readings.end(),
      [](const OxygenReading& a, const OxygenReading& b) { return a.oxygen_mg_per_l < b.oxygen_mg_per_l; });
  const double level = low->oxygen_mg_per_l + head_most_share * (high->oxygen_mg_per_l - low->oxygen_mg_per_l);
  std::size_t end = lowest;
  while (end < readings.size() && readings[end].oxygen_mg_per_l <= level) ++end;
  while (end > 1 && readings.size() - (end - 1) < static_cast<std::size_t>(least_readings_count)) --end;
  const std::size_t step = std::max<std::size_t>(1, (end + heads_tried_most - 1) / heads_tried_most);
  std::vector<std::size_t> starts{0};
  for (std::size_t i = step; i < end; i += step) starts.push_back(i);
  return starts;
}

// Once a few lags have passed, a lagging probe shows a plain exponential of the water's own rate, only later. So a run
// whose head is left out needs no lag in its curve; its start is brought back to what the water held then.
constexpr double lags_to_pass = 3.0;     // judged: a twentieth of the lag's error is left
constexpr double lag_still_quick = 0.5;  // KLa x lag: beyond, the probe's rate would pass for the water's (judged)

std::optional<Curve> fit_later(Readings readings, std::size_t first, const CurveAsk& ask) {
  if (ask.probe_lag_s <= 0.0) return fit_curve(readings.subspan(first), ask);
  const double waited_s = readings[first].time_s - readings[lowest_at(readings)].time_s;
  if (waited_s < lags_to_pass * ask.probe_lag_s) return std::nullopt;
  auto curve = fit_curve(readings.subspan(first), {.fixed_saturation_mg_per_l = ask.fixed_saturation_mg_per_l});
  if (!curve || curve->kla_per_h * ask.probe_lag_s / 3600.0 > lag_still_quick) return std::nullopt;
  return curve;
}

// The longest run whose head belongs to its curve. With a lag the first run begins at the lowest reading.
std::optional<Run> fit_without_foreign_head(Readings readings, const CurveAsk& ask) {
  const std::size_t whole = ask.probe_lag_s > 0.0 ? lowest_at(readings) : 0;
  std::vector<Run> trials;
  if (readings.size() - whole >= static_cast<std::size_t>(least_readings_count)) {
    if (auto curve = fit_curve(readings.subspan(whole), ask)) trials.push_back({whole, *curve});
  }
  for (const std::size_t first : starts_to_try(readings)) {
    if (first <= whole) continue;
    if (auto curve = fit_later(readings, first, ask)) trials.push_back({first, *curve});
  }
  for (std::size_t i = 0; i < trials.size(); ++i) {
    const bool foreign = std::any_of(trials.begin() + static_cast<std::ptrdiff_t>(i) + 1, trials.end(),
                                     [&](const Run& later) { return head_is_foreign(trials[i], later); });
    if (!foreign) return trials[i];
  }
  return std::nullopt;
}

}  // namespace

std::optional<Run> fit_run(Readings readings, const CurveAsk& ask) {
  if (!ask.fit_probe_lag) return fit_without_foreign_head(readings, ask);
  const std::size_t first = lowest_at(readings);
  if (readings.size() - first < static_cast<std::size_t>(least_readings_count)) return std::nullopt;
  const auto curve = fit_curve(readings.subspan(first), ask);
  if (!curve) return std::nullopt;
  return Run{first, *curve};
}

}  // namespace barm::air
