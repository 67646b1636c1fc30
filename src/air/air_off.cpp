#include <cmath>

#include "air/readings.h"
#include "air/reaeration.h"
#include "quantity/least_squares.h"

namespace barm::air {
namespace {

constexpr int least_readings_count = 3;
constexpr double seconds_per_h = 3600.0;
constexpr double clear_of_noise = 2.0;               // judged: a slope under two of its errors is not seen
constexpr double most_alpha_kla_error_share = 0.35;  // judged, as for KLa
constexpr double bend_share = 0.25;                  // judged: the halves of the fall differ by more than this
constexpr int least_for_a_bend_count = 6;

using Readings = std::span<const OxygenReading>;

struct Slope {
  double per_h;
  double error_per_h;
};

// The straight line through a run of readings, in closed form.
Slope slope_of(Readings readings) {
  const auto n = static_cast<double>(readings.size());
  double t_mean = 0.0, c_mean = 0.0;
  for (const auto& reading : readings) {
    t_mean += reading.time_s / seconds_per_h / n;
    c_mean += reading.oxygen_mg_per_l / n;
  }
  double tt = 0.0, tc = 0.0, cc = 0.0;
  for (const auto& reading : readings) {
    const double t = reading.time_s / seconds_per_h - t_mean;
    const double c = reading.oxygen_mg_per_l - c_mean;
    tt += t * t;
    tc += t * c;
    cc += c * c;
  }
  const double slope = tc / tt;
  const double left = std::max(cc - slope * tc, 0.0);
  return {slope, std::sqrt(left / (n - 2.0) / tt)};
}

bool bends(Readings falling) {
  if (falling.size() < least_for_a_bend_count) return false;
  const std::size_t half = falling.size() / 2;
  const Slope early = slope_of(falling.first(half));
  const Slope late = slope_of(falling.last(half));
  const double error = std::hypot(early.error_per_h, late.error_per_h);
  const double difference = std::abs(early.per_h - late.per_h);
  return difference > clear_of_noise * error && difference > bend_share * std::abs(early.per_h + late.per_h) / 2.0;
}

// While air is on, dC/dt = a (C* - C) - uptake, so C = E - (E - C0) e^-at with E = C* - uptake / a.
std::optional<LeastSquaresFit> fit_recovery(Readings rising, double saturation_mg_per_l, double uptake_per_h) {
  const Residuals residuals = [&](std::span<const double> b, std::span<double> out) {
    const double end = saturation_mg_per_l - uptake_per_h / b[0];
    for (std::size_t i = 0; i < out.size(); ++i) {
      const double t_h = (rising[i].time_s - rising.front().time_s) / seconds_per_h;
      out[i] = rising[i].oxygen_mg_per_l - end + (end - b[1]) * std::exp(-b[0] * t_h);
    }
  };
  const double middle_mg_per_l = 0.5 * (rising.front().oxygen_mg_per_l + rising.back().oxygen_mg_per_l);
  const double guess_per_h = (slope_of(rising).per_h + uptake_per_h) / (saturation_mg_per_l - middle_mg_per_l);
  const double start[] = {guess_per_h, rising.front().oxygen_mg_per_l};
  return fit_least_squares(residuals, start, static_cast<int>(rising.size()));
}

void recover(Readings rising, double saturation_mg_per_l, AirOff& out, Findings& findings) {
  const Slope rise = slope_of(rising);
  if (!(rise.per_h > clear_of_noise * rise.error_per_h)) {
    findings.refuse({.code = "air.test.no_recovery",
                     .field = "rising",
                     .facts = {{"given", Quantity{rising.back().oxygen_mg_per_l - rising.front().oxygen_mg_per_l,
                                                  Dimension::concentration}}}});
    return;
  }
  for (const auto& reading : rising) {
    if (reading.oxygen_mg_per_l < saturation_mg_per_l) continue;
    findings.refuse({.code = "air.test.above_saturation",
                     .field = "rising",
                     .facts = {{"given", Quantity{reading.oxygen_mg_per_l, Dimension::concentration}},
                               {"most", Quantity{saturation_mg_per_l, Dimension::concentration}}}});
    return;
  }
  const double uptake = out.uptake_mg_per_l_per_h;
  const auto fit = fit_recovery(rising, saturation_mg_per_l, uptake);
  const auto shifted = fit_recovery(rising, saturation_mg_per_l, uptake + out.uptake_standard_error);
  const double alpha_kla = fit ? fit->parameters[0] : unset;
  const double error = fit && shifted ? std::hypot(fit->standard_errors[0], shifted->parameters[0] - alpha_kla) : unset;
  if (!(alpha_kla > 0.0 && error <= most_alpha_kla_error_share * alpha_kla)) {
    findings.refuse({.code = "air.test.recovery_not_fixed", .field = "rising", .facts = {}});
    return;
  }
  out.alpha_kla_per_h = alpha_kla;
  out.alpha_kla_standard_error_per_h = error;
}

}  // namespace

Answer<AirOff> fit_air_off(Readings falling, Readings rising, double saturation_mg_per_l) {
  Findings findings;
  const bool falling_will_do = will_do(falling, least_readings_count, "falling", findings);
  const bool recovers = !rising.empty();
  if (recovers) will_do(rising, least_readings_count, "rising", findings);
  if (recovers && !(saturation_mg_per_l > 0.0 && saturation_mg_per_l <= 60.0)) {
    findings.refuse({.code = "air.test.saturation_out_of_range",
                     .field = "saturation",
                     .facts = {{"least", Quantity{0.0, Dimension::concentration}},
                               {"most", Quantity{60.0, Dimension::concentration}}}});
  }
  AirOff out;
  if (falling_will_do) {
    const Slope fall = slope_of(falling);
    if (!(-fall.per_h > clear_of_noise * fall.error_per_h)) {
      findings.refuse({.code = "air.test.no_fall",
                       .field = "falling",
                       .facts = {{"given", Quantity{falling.back().oxygen_mg_per_l - falling.front().oxygen_mg_per_l,
                                                    Dimension::concentration}}}});
    }
    out.uptake_mg_per_l_per_h = -fall.per_h;
    out.uptake_standard_error = fall.error_per_h;
  }
  if (findings.refused()) return std::move(findings).refusal<AirOff>();
  if (bends(falling)) findings.doubt({.code = "air.test.fall_bends", .field = "falling", .facts = {}});
  if (recovers) recover(rising, saturation_mg_per_l, out, findings);
  return std::move(findings).answer(out);
}

}  // namespace barm::air
