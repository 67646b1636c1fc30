// The curve of a re-aeration test and its fit to readings, without judgement: that is src/air/reaeration.cpp's.
#pragma once

#include <optional>
#include <span>

#include "air/reaeration.h"

namespace barm::air {

struct CurveAsk {
  double probe_lag_s = 0.0;
  bool fit_probe_lag = false;
  double fixed_saturation_mg_per_l = unset;  // unset: fitted
};

struct Curve {
  double kla_per_h = unset;
  double saturation_mg_per_l = unset;
  double start_mg_per_l = unset;
  double probe_lag_s = 0.0;
  double kla_error_per_h = unset;
  double saturation_error_mg_per_l = 0.0;
  double start_error_mg_per_l = unset;
  double residual_sum_of_squares = unset;
  double residual_mg_per_l = unset;
  int degrees_of_freedom = 0;
  double began_s = 0.0;

  double oxygen_mg_per_l(double time_s) const;  // as the probe shows it
  double deficit_share(double time_s) const;    // 1 at the start, 0 at saturation, as the probe shows it
};

/// The least-squares curve through `readings`, time running from the first. Nothing when none is found.
std::optional<Curve> fit_curve(std::span<const OxygenReading> readings, const CurveAsk& ask);

}  // namespace barm::air
