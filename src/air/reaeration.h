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
  double probe_lag_s = 0.0;            // time constant of the probe; 0: none
  bool fit_probe_lag = false;          // three-parameter curve plus the lag
  double temperature_c = unset;        // for KLa at 20 degC; unset: none is given
  double saturation_mg_per_l = unset;  // what this water can hold, from the table; unset: the fitted one is not judged
  bool saturation_is_fixed = false;    // take it as it is instead of fitting it: for tests that end early
};

struct Reaeration {
  double kla_per_h = unset;
  double kla_standard_error_per_h = unset;
  double kla20_per_h = unset;
  double saturation_mg_per_l = unset;
  double saturation_standard_error_mg_per_l = unset;  // 0 when it was fixed
  double start_mg_per_l = unset;                      // at the first reading used
  double start_standard_error_mg_per_l = unset;
  double probe_lag_s = 0.0;
  double residual_mg_per_l = unset;  // standard deviation of the readings about the curve
  int readings_used_count = 0;
  double first_used_s = unset;   // time of the first reading used; those before it do not follow the curve
  double covered_share = unset;  // how much of the way from start to saturation the readings used cover
};

/// Nonlinear least squares of C = C* - (C* - C0) exp(-KLa t), with a first-order probe when it lags. Time runs from the
/// first reading used. The head of a test, where leftover sulfite or a slow probe still speaks, is left out when
/// leaving it out mends the fit more than chance would (one in a thousand); see src/air/head.h. Standard errors take
/// the readings' errors for independent. Refuses a failed test and says why: fewer than six readings, times that do not
/// increase, a rise under 0.5 mg/L, no curve, under 0.3 of the curve covered, a rise quicker than the readings,
/// readings that do not follow the curve, KLa not fixed to within 35 %. Doubts: a head left out, readings that wander
/// about the curve, coverage under 0.6, lag that matters (KLa x lag > 0.2) or is not stated and could, a fitted lag no
/// probe has, saturation far from what the water can hold.
Answer<Reaeration> fit_reaeration(std::span<const OxygenReading> readings, const ReaerationOptions& options = {});

struct AirOff {
  double uptake_mg_per_l_per_h = unset;  // slope while the air is off
  double uptake_standard_error = unset;
  double alpha_kla_per_h = unset;  // from the recovery, when readings after the restart are given
  double alpha_kla_standard_error_per_h = unset;
};
/// Air-off test in a live brew: the fall gives the uptake, the recovery alpha KLa = (dC/dt + uptake)/(C* - C), fitted
/// over all of the recovery at once. Each run of readings has its own clock. Refuses fewer than three readings in a
/// run, times that do not increase, oxygen that does not fall (or rise again), no saturation, a recovery that does not
/// fix alpha KLa. Doubts a fall that bends, as it does when oxygen runs short or bubbles were still leaving.
Answer<AirOff> fit_air_off(std::span<const OxygenReading> falling, std::span<const OxygenReading> rising,
                           double saturation_mg_per_l);

}  // namespace barm::air
