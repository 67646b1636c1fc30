#include "air/reaeration.h"

#include <algorithm>
#include <cmath>

#include "air/curve.h"
#include "air/head.h"
#include "air/readings.h"
#include "air/transfer.h"

namespace barm::air {
namespace {

constexpr double least_rise_mg_per_l = 0.5;  // judged: a hand probe is good to 0.2 mg/L at either end
constexpr double followed_share = 0.05;      // judged: a wave of a twentieth of the rise is no longer the probe's noise
constexpr int least_on_the_slope_count = 4;  // judged: one more than the parameters, before 95 % is covered
constexpr double most_kla_error_share = 0.35;  // judged: what a single pair of readings would give
constexpr double lag_that_matters = 0.2;       // judged: left unsaid, it takes a fifth off KLa (docs/air/reaeration.md)
constexpr double slow_probe_s = 30.0;          // memory: probes lag by 10 to 30 s
constexpr double saturation_off_share = 0.10;  // judged: probe calibration and weather together
constexpr double held_least_mg_per_l = 4.0;    // S01: water at 40 degC and some 3,500 m
constexpr double held_most_mg_per_l = 14.7;    // S01: water at 0 degC and sea level
constexpr double wander_least = 0.3;           // judged

// A first-order rise over the share p of its way lies (1 - sqrt(1 - p))^2 / 2 of the deficit above its own chord. That
// bend is all that tells KLa from C*. At p = 0.3 it is 1.3 %, no more than the bend of a probe itself (1 to 2 %,
// judged); at 0.6 it is 6.8 %.
constexpr double least_covered_share = 0.3;
constexpr double well_covered_share = 0.6;

using Readings = std::span<const OxygenReading>;

double mean_oxygen(Readings readings) {
  double sum = 0.0;
  for (const auto& reading : readings) sum += reading.oxygen_mg_per_l;
  return sum / static_cast<double>(readings.size());
}

double rise_mg_per_l(Readings readings) {
  const std::size_t fifth = std::max<std::size_t>(1, readings.size() / 5);
  return mean_oxygen(readings.last(fifth)) - mean_oxygen(readings.first(fifth));
}

// Correlation of each residual with the next; noise has none, a curve that is not the water's has much.
struct Wander {
  double correlation;
  bool is_real;
};
Wander wander_of(Readings used, const Curve& curve) {
  double squares = 0.0, products = 0.0, before = 0.0;
  for (const auto& reading : used) {
    const double left = reading.oxygen_mg_per_l - curve.oxygen_mg_per_l(reading.time_s);
    squares += left * left;
    products += left * before;
    before = left;
  }
  const double correlation = squares > 0.0 ? products / squares : 0.0;
  const double by_chance = 2.0 / std::sqrt(static_cast<double>(used.size()));
  return {correlation,
          curve.residual_mg_per_l > finest_probe_mg_per_l && correlation > std::max(wander_least, by_chance)};
}

Quantity concentration(double value) {
  return {value, Dimension::concentration};
}
Quantity share(double value) {
  return {value, Dimension::share};
}
Quantity number(double value) {
  return {value, Dimension::number};
}
Quantity seconds(double value) {
  return {value / 3600.0, Dimension::duration};
}
Quantity rate(double value) {
  return {value, Dimension::rate};
}

void refuse_bad_options(const ReaerationOptions& options, Findings& findings) {
  if (!(options.probe_lag_s >= 0.0 && options.probe_lag_s <= 600.0)) {
    findings.refuse(
        {.code = "air.test.lag_out_of_range",
         .field = "probe_lag",
         .facts = {{"given", seconds(options.probe_lag_s)}, {"least", seconds(0.0)}, {"most", seconds(600.0)}}});
  }
  const bool temperature_is_odd =
      !std::isnan(options.temperature_c) && !(options.temperature_c >= 0.0 && options.temperature_c <= 60.0);
  if (temperature_is_odd) {
    findings.refuse({.code = "air.temperature.out_of_range",
                     .field = "temperature",
                     .facts = {{"given", Quantity{options.temperature_c, Dimension::temperature}},
                               {"least", Quantity{0.0, Dimension::temperature}},
                               {"most", Quantity{60.0, Dimension::temperature}}}});
  }
  const bool saturation_is_odd = std::isnan(options.saturation_mg_per_l)
                                     ? options.saturation_is_fixed
                                     : !(options.saturation_mg_per_l > 0.0 && options.saturation_mg_per_l <= 60.0);
  if (saturation_is_odd) {
    findings.refuse({.code = "air.test.saturation_out_of_range",
                     .field = "saturation",
                     .facts = {{"least", concentration(0.0)}, {"most", concentration(60.0)}}});
  }
}

void refuse_failed(const Curve& curve, Readings used, const Wander& wander, const ReaerationOptions& options,
                   Findings& findings) {
  const double covered = 1.0 - curve.deficit_share(used.back().time_s);
  const double rise = (curve.saturation_mg_per_l - curve.start_mg_per_l) * covered;
  if (wander.is_real && curve.residual_mg_per_l > followed_share * rise) {
    findings.refuse(
        {.code = "air.test.not_followed",
         .field = "readings",
         .facts = {{"given", concentration(curve.residual_mg_per_l)}, {"most", concentration(followed_share * rise)}}});
  }
  if (!options.saturation_is_fixed && !(covered >= least_covered_share)) {
    findings.refuse({.code = "air.test.covers_too_little",
                     .field = "readings",
                     .facts = {{"given", share(std::max(covered, 0.0))}, {"least", share(least_covered_share)}}});
  }
  const auto on_the_slope = std::count_if(used.begin(), used.end(), [&](const OxygenReading& reading) {
    return curve.deficit_share(reading.time_s) > 0.05;
  });
  if (on_the_slope < least_on_the_slope_count) {
    findings.refuse(
        {.code = "air.test.rise_too_quick",
         .field = "readings",
         .facts = {{"given", number(static_cast<double>(on_the_slope))}, {"least", number(least_on_the_slope_count)}}});
  }
  const double error_share = curve.kla_error_per_h / curve.kla_per_h;
  if (!(error_share >= 0.0 && error_share <= most_kla_error_share)) {
    findings.refuse({.code = "air.test.kla_not_fixed",
                     .field = "readings",
                     .facts = {{"given", rate(curve.kla_error_per_h)},
                               {"kla", rate(curve.kla_per_h)},
                               {"most", share(most_kla_error_share)}}});
  }
}

// A curve fitted without the lag that was stated begins at what the probe showed, behind the water by that lag.
double start_of_water_mg_per_l(const Curve& curve, const ReaerationOptions& options) {
  const bool is_plain = !options.fit_probe_lag && options.probe_lag_s > 0.0 && curve.probe_lag_s == 0.0;
  if (!is_plain) return curve.start_mg_per_l;
  const double behind = 1.0 - curve.kla_per_h * options.probe_lag_s / 3600.0;
  return curve.saturation_mg_per_l - (curve.saturation_mg_per_l - curve.start_mg_per_l) * behind;
}

void doubt_lag(const Curve& curve, const ReaerationOptions& options, Findings& findings) {
  const bool is_stated = options.fit_probe_lag || options.probe_lag_s > 0.0;
  if (options.fit_probe_lag && curve.probe_lag_s > slow_probe_s) {
    findings.doubt({.code = "air.test.lag_unlikely",
                    .field = "readings",
                    .facts = {{"given", seconds(curve.probe_lag_s)}, {"most", seconds(slow_probe_s)}}});
  }
  const double stated_s = options.fit_probe_lag ? curve.probe_lag_s : options.probe_lag_s;
  const double lag_s = is_stated ? stated_s : slow_probe_s;
  if (curve.kla_per_h * lag_s / 3600.0 <= lag_that_matters) return;
  findings.doubt({.code = is_stated ? "air.test.lag_matters" : "air.test.lag_unknown",
                  .field = "probe_lag",
                  .facts = {{"lag", seconds(lag_s)}, {"kla", rate(curve.kla_per_h)}}});
}

void doubt_saturation(const Curve& curve, const ReaerationOptions& options, Findings& findings) {
  if (options.saturation_is_fixed) return;
  const bool is_known = !std::isnan(options.saturation_mg_per_l);
  const double least = is_known ? options.saturation_mg_per_l * (1.0 - saturation_off_share) : held_least_mg_per_l;
  const double most = is_known ? options.saturation_mg_per_l * (1.0 + saturation_off_share) : held_most_mg_per_l;
  if (curve.saturation_mg_per_l >= least && curve.saturation_mg_per_l <= most) return;
  findings.doubt({.code = "air.test.saturation_unlikely",
                  .field = "readings",
                  .facts = {{"given", concentration(curve.saturation_mg_per_l)},
                            {"least", concentration(least)},
                            {"most", concentration(most)}}});
}

void doubt_weak(const Curve& curve, Readings used, std::size_t left_out_count, double left_out_s, const Wander& wander,
                const ReaerationOptions& options, Findings& findings) {
  if (left_out_count > 0) {
    findings.doubt(
        {.code = "air.test.head_left_out",
         .field = "readings",
         .facts = {{"count", number(static_cast<double>(left_out_count))}, {"length", seconds(left_out_s)}}});
  }
  if (wander.is_real) {
    // A first-order chain of errors carries the information of (1 - r)/(1 + r) as many; from memory.
    const double factor = std::sqrt((1.0 + wander.correlation) / (1.0 - std::min(wander.correlation, 0.99)));
    findings.doubt({.code = "air.test.readings_wander", .field = "readings", .facts = {{"factor", number(factor)}}});
  }
  const double covered = 1.0 - curve.deficit_share(used.back().time_s);
  if (!options.saturation_is_fixed && covered < well_covered_share) {
    findings.doubt({.code = "air.test.covers_little",
                    .field = "readings",
                    .facts = {{"given", share(covered)}, {"least", share(well_covered_share)}}});
  }
  doubt_lag(curve, options, findings);
  doubt_saturation(curve, options, findings);
}

}  // namespace

Answer<Reaeration> fit_reaeration(Readings readings, const ReaerationOptions& options) {
  Findings findings;
  refuse_bad_options(options, findings);
  if (!will_do(readings, least_readings_count, "readings", findings) || findings.refused()) {
    return std::move(findings).refusal<Reaeration>();
  }
  if (const double rise = rise_mg_per_l(readings); rise < least_rise_mg_per_l) {
    findings.refuse({.code = "air.test.no_rise",
                     .field = "readings",
                     .facts = {{"given", concentration(rise)}, {"least", concentration(least_rise_mg_per_l)}}});
    return std::move(findings).refusal<Reaeration>();
  }

  const CurveAsk ask{.probe_lag_s = options.probe_lag_s,
                     .fit_probe_lag = options.fit_probe_lag,
                     .fixed_saturation_mg_per_l = options.saturation_is_fixed ? options.saturation_mg_per_l : unset};
  const auto best = fit_run(readings, ask);
  if (!best) {
    findings.refuse({.code = "air.test.no_curve", .field = "readings", .facts = {}});
    return std::move(findings).refusal<Reaeration>();
  }

  const Curve& curve = best->curve;
  const Readings used = readings.subspan(best->first);
  const Wander wander = wander_of(used, curve);
  refuse_failed(curve, used, wander, options, findings);
  if (findings.refused()) return std::move(findings).refusal<Reaeration>();
  doubt_weak(curve, used, best->first, used.front().time_s - readings.front().time_s, wander, options, findings);

  Reaeration out{.kla_per_h = curve.kla_per_h,
                 .kla_standard_error_per_h = curve.kla_error_per_h,
                 .saturation_mg_per_l = curve.saturation_mg_per_l,
                 .saturation_standard_error_mg_per_l = curve.saturation_error_mg_per_l,
                 .start_mg_per_l = start_of_water_mg_per_l(curve, options),
                 .start_standard_error_mg_per_l = curve.start_error_mg_per_l,
                 .probe_lag_s = options.fit_probe_lag ? curve.probe_lag_s : options.probe_lag_s,
                 .residual_mg_per_l = curve.residual_mg_per_l,
                 .readings_used_count = static_cast<int>(used.size()),
                 .first_used_s = used.front().time_s,
                 .covered_share = 1.0 - curve.deficit_share(used.back().time_s)};
  if (!std::isnan(options.temperature_c)) {
    out.kla20_per_h = out.kla_per_h / kla_at_temperature_per_h(1.0, options.temperature_c);
  }
  return std::move(findings).answer(out);
}

}  // namespace barm::air
