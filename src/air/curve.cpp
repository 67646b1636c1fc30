#include "air/curve.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "quantity/least_squares.h"

namespace barm::air {
namespace {

constexpr double seconds_per_h = 3600.0;

// (1 - e^-x) / x, and 1 where x is nothing.
double mean_decay(double x) {
  return std::abs(x) < 1e-12 ? 1.0 : -std::expm1(-x) / x;
}

// What is left of the deficit at `t_h`, seen through a first-order probe of rate p = 1/lag that began in step with the
// water: (p e^-kt - k e^-pt) / (p - k). Written so that p = k is no trouble; k and p may change places.
double deficit_share_at(double t_h, double k_per_h, double lag_h) {
  const double bare = std::exp(-k_per_h * t_h);
  if (lag_h <= 0.0) return bare;
  const double gap = (1.0 / lag_h - k_per_h) * t_h;
  return bare * (1.0 + k_per_h * t_h * mean_decay(gap));
}

struct Points {
  std::vector<double> t_h, oxygen;
};

Points points_of(std::span<const OxygenReading> readings) {
  Points out;
  for (const auto& reading : readings) {
    out.t_h.push_back((reading.time_s - readings.front().time_s) / seconds_per_h);
    out.oxygen.push_back(reading.oxygen_mg_per_l);
  }
  return out;
}

struct Straight {
  double saturation;
  double deficit;  // saturation less start
  double sum_of_squares;
};

// With the rates held, the curve is a straight line in its deficit share: C = C* - D g. Solved in closed form.
Straight best_line(const Points& points, double k_per_h, double lag_h, double fixed_saturation) {
  const auto n = static_cast<double>(points.t_h.size());
  double g_mean = 0.0, c_mean = 0.0;
  std::vector<double> share;
  for (std::size_t i = 0; i < points.t_h.size(); ++i) {
    share.push_back(deficit_share_at(points.t_h[i], k_per_h, lag_h));
    g_mean += share.back() / n;
    c_mean += points.oxygen[i] / n;
  }
  const bool fixed = !std::isnan(fixed_saturation);
  double gg = 0.0, gc = 0.0;
  for (std::size_t i = 0; i < share.size(); ++i) {
    const double g = share[i] - (fixed ? 0.0 : g_mean);
    gg += g * g;
    gc += g * (points.oxygen[i] - (fixed ? fixed_saturation : c_mean));
  }
  const double slope = gg > 0.0 ? gc / gg : 0.0;
  Straight line{fixed ? fixed_saturation : c_mean - slope * g_mean, -slope, 0.0};
  for (std::size_t i = 0; i < share.size(); ++i) {
    const double left = points.oxygen[i] - line.saturation + line.deficit * share[i];
    line.sum_of_squares += left * left;
  }
  return line;
}

struct Start {
  double k_per_h, lag_h;
  Straight line;
};

constexpr double slowest_share = 0.05;  // of the way, about, that the slowest curve looked at covers

// Rates from a twentieth of what the test's length shows to twice what its closest readings show, four to each e-fold.
std::optional<Start> search_start(const Points& points, const CurveAsk& ask) {
  double closest_h = points.t_h.back();
  for (std::size_t i = 1; i < points.t_h.size(); ++i)
    closest_h = std::min(closest_h, points.t_h[i] - points.t_h[i - 1]);
  const double slowest = slowest_share / points.t_h.back();
  const double quickest = 2.0 / closest_h;
  std::vector<double> lags{ask.probe_lag_s / seconds_per_h};
  if (ask.fit_probe_lag) {
    lags.clear();
    for (double lag = 0.5 * closest_h; lag < 0.5 * points.t_h.back(); lag *= 1.5) lags.push_back(lag);
  }
  std::optional<Start> best;
  for (const double lag_h : lags) {
    for (double k = slowest; k < quickest; k *= std::exp(0.25)) {
      if (ask.fit_probe_lag && k * lag_h >= 1.0) break;  // the slower of the two rates is taken for the water's
      const Straight line = best_line(points, k, lag_h, ask.fixed_saturation_mg_per_l);
      if (!best || line.sum_of_squares < best->line.sum_of_squares) best = Start{k, lag_h, line};
    }
  }
  return best;
}

// Readings best met by the straightest curve there is lie on a line, or bend the wrong way: no saturation is in them.
bool hardly_bends(const Start& start, const Points& points) {
  return start.k_per_h * points.t_h.back() < 1.01 * slowest_share;
}

}  // namespace

double Curve::deficit_share(double time_s) const {
  return deficit_share_at((time_s - began_s) / seconds_per_h, kla_per_h, probe_lag_s / seconds_per_h);
}

double Curve::oxygen_mg_per_l(double time_s) const {
  return saturation_mg_per_l - (saturation_mg_per_l - start_mg_per_l) * deficit_share(time_s);
}

std::optional<Curve> fit_curve(std::span<const OxygenReading> readings, const CurveAsk& ask) {
  const Points points = points_of(readings);
  const auto start = search_start(points, ask);
  const bool fixed = !std::isnan(ask.fixed_saturation_mg_per_l);
  if (!start || (!fixed && hardly_bends(*start, points))) return std::nullopt;

  // Parameters: rate, start, then saturation and lag when they are open.
  std::vector<double> from{start->k_per_h, start->line.saturation - start->line.deficit};
  if (!fixed) from.push_back(start->line.saturation);
  if (ask.fit_probe_lag) from.push_back(start->lag_h);
  const double deficit = std::abs(start->line.deficit);
  std::vector<double> sizes{start->k_per_h, deficit};
  if (!fixed) sizes.push_back(deficit);
  if (ask.fit_probe_lag) sizes.push_back(start->lag_h);
  const auto saturation_of = [&](std::span<const double> b) { return fixed ? ask.fixed_saturation_mg_per_l : b[2]; };
  const auto lag_of = [&](std::span<const double> b) {
    return ask.fit_probe_lag ? b.back() : ask.probe_lag_s / seconds_per_h;
  };
  const Residuals residuals = [&](std::span<const double> b, std::span<double> out) {
    const double saturation = saturation_of(b);
    const double lag_h = lag_of(b);
    for (std::size_t i = 0; i < out.size(); ++i) {
      out[i] = ask.fit_probe_lag && lag_h <= 0.0
                   ? std::numeric_limits<double>::quiet_NaN()  // no such probe; the minimiser steps back
                   : points.oxygen[i] - saturation + (saturation - b[1]) * deficit_share_at(points.t_h[i], b[0], lag_h);
    }
  };
  const auto fit = fit_least_squares(residuals, from, static_cast<int>(readings.size()), sizes);
  if (!fit) return std::nullopt;

  Curve curve{.kla_per_h = fit->parameters[0],
              .saturation_mg_per_l = saturation_of(fit->parameters),
              .start_mg_per_l = fit->parameters[1],
              .probe_lag_s = lag_of(fit->parameters) * seconds_per_h,
              .kla_error_per_h = fit->standard_errors[0],
              .saturation_error_mg_per_l = fixed ? 0.0 : fit->standard_errors[2],
              .start_error_mg_per_l = fit->standard_errors[1],
              .residual_sum_of_squares = fit->residual_sum_of_squares,
              .residual_mg_per_l = fit->residual_standard_deviation,
              .degrees_of_freedom = fit->degrees_of_freedom,
              .began_s = readings.front().time_s};
  if (ask.fit_probe_lag &&
      curve.kla_per_h * fit->parameters.back() > 1.0) {  // the curve is the same with its rates changed
    const double lag_h = fit->parameters.back();
    curve.kla_error_per_h = fit->standard_errors.back() / (lag_h * lag_h);
    curve.probe_lag_s = seconds_per_h / curve.kla_per_h;
    curve.kla_per_h = 1.0 / lag_h;
  }
  return curve;
}

}  // namespace barm::air
