// Measuring KLa: strip the oxygen, run the pump, log the rise, fit the curve. Method and limits: docs/air/reaeration.md
#pragma once

#include <span>

#include "quantity/answer.h"

namespace barm::air {

struct OxygenReading {
  double time_s = unset;
  double oxygen_mg_per_l = unset;
};

struct ReaerationOptions {
  double probe_lag_s = 0.0;              // time constant of the probe; 0: none
  bool fit_probe_lag = false;            // three-parameter curve plus the lag
  double temperature_c = unset;          // for KLa at 20 degC; unset: none is given
};

struct Reaeration {
  double kla_per_h = unset;
  double kla_standard_error_per_h = unset;
  double kla20_per_h = unset;
  double saturation_mg_per_l = unset;
  double saturation_standard_error_mg_per_l = unset;
  double start_mg_per_l = unset;
  double start_standard_error_mg_per_l = unset;
  double probe_lag_s = 0.0;
  double residual_mg_per_l = unset;      // standard deviation of the readings about the curve
  int readings_used_count = 0;
  double covered_share = unset;          // how much of the way from start to saturation the readings cover
};

/// Nonlinear least squares of C = C* - (C* - C0) exp(-KLa t), with a first-order probe when it lags. Refuses a failed test
/// and says why: too few readings, no rise, too little of the curve covered, a curve the readings do not follow, times that
/// do not increase. Doubts: lag that matters (KLa x lag > 0.2), saturation far from what the water can hold.
Answer<Reaeration> fit_reaeration(std::span<const OxygenReading> readings, const ReaerationOptions& options = {});

struct AirOff {
  double uptake_mg_per_l_per_h = unset;  // slope while the air is off
  double uptake_standard_error = unset;
  double alpha_kla_per_h = unset;        // from the recovery, when readings after the restart are given
};
/// Air-off test in a live brew: the fall gives the uptake, the recovery alpha KLa = (dC/dt + uptake)/(C* - C).
Answer<AirOff> fit_air_off(std::span<const OxygenReading> falling, std::span<const OxygenReading> rising,
                           double saturation_mg_per_l);

}  // namespace barm::air
