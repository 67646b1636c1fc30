#include "brew/hearing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "brew/cells.h"
#include "quantity/expects.h"

namespace barm::brew {
namespace {

constexpr double impossible_log_likelihood = -1e6;  // of a member the solver gave up on
constexpr double counted_least_per_ml = 1.0;        // below it a count and a forecast mean the same: none

bool is_oxygen(Measured what) {
  return what == Measured::oxygen || what == Measured::oxygen_share;
}

/// Hardly off as a rule, far off now and then: near zero a straight line, beyond two standard scores an exponential.
double long_tailed(double score) {
  constexpr double bend = 1.2;  // judged: three standard scores are fifteen times the scale
  return std::sinh(bend * score) / bend;
}

}  // namespace

Hearing::Hearing(const Setup& setup, const Priors& priors, const Unknowns& unknowns, const Instruments& instruments,
                 std::vector<LogReading> readings, const Parallel& parallel)
    : setup_(setup),
      priors_(priors),
      unknowns_(unknowns),
      instruments_(instruments),
      readings_(std::move(readings)),
      parallel_(parallel) {
  const auto was_read = [&](auto is) { return std::any_of(readings_.begin(), readings_.end(), is); };
  const auto of = [](Measured what) { return [what](const LogReading& r) { return r.what == what; }; };
  if (was_read([](const LogReading& r) { return is_oxygen(r.what); }))
    for (const auto score : {MeterScore::oxygen_offset, MeterScore::oxygen_slope, MeterScore::oxygen_drift})
      meters_.push_back(score);
  if (was_read(of(Measured::temperature))) meters_.push_back(MeterScore::temperature_offset);
  if (was_read(of(Measured::bacteria))) meters_.push_back(MeterScore::bacteria_offset);
  if (was_read(of(Measured::protozoa))) meters_.push_back(MeterScore::protozoa_offset);

  // A lagging probe shows what was there a little earlier, though nothing from before the last act.
  std::vector<double> at_h;
  bool first = true;
  for (const LogReading& r : readings_) {
    double seen_h = r.at_h;
    if (is_oxygen(r.what)) {
      if (first) first_oxygen_at_h_ = r.at_h;
      first = false;
      double since_h = 0.0;
      for (const Act& act : setup_.acts)
        if (act.at_h <= r.at_h) since_h = std::max(since_h, act.at_h);
      seen_h = std::max(since_h, r.at_h - instruments_.oxygen.lag_h);
    }
    at_h.push_back(seen_h);
  }
  output_at_h_ = at_h;
  std::sort(output_at_h_.begin(), output_at_h_.end());
  output_at_h_.erase(std::unique(output_at_h_.begin(), output_at_h_.end()), output_at_h_.end());
  for (const double h : at_h)
    output_of_.push_back(
        static_cast<std::size_t>(std::lower_bound(output_at_h_.begin(), output_at_h_.end(), h) - output_at_h_.begin()));
}

Members Hearing::members(int member_count, std::span<const double> scores) const {
  const auto width = static_cast<std::size_t>(unknown_count());
  const auto own = static_cast<std::size_t>(unknowns_.count());
  std::vector<double> values;
  values.reserve(static_cast<std::size_t>(member_count) * own);
  for (std::size_t m = 0; m < static_cast<std::size_t>(member_count); ++m) {
    const std::vector<double> one = unknowns_.values_of_scores(scores.subspan(m * width, own));
    values.insert(values.end(), one.begin(), one.end());
  }
  return members_of(setup_, priors_, unknowns_, std::move(values));
}

double Hearing::meter(std::span<const double> of_member, MeterScore which) const {
  for (std::size_t i = 0; i < meters_.size(); ++i)
    if (meters_[i] == which) return of_member[static_cast<std::size_t>(unknowns_.count()) + i];
  return 0.0;
}

double Hearing::shown_of(const LogReading& reading, std::span<const double> of_member, double oxygen, double saturation,
                         double temperature, double bacteria, double protozoa) const {
  switch (reading.what) {
    case Measured::oxygen:
    case Measured::oxygen_share: {
      const Instrument& probe = instruments_.oxygen;
      const double shown = std::max(0.0, oxygen) * std::exp(probe.slope * meter(of_member, MeterScore::oxygen_slope)) +
                           probe.offset * meter(of_member, MeterScore::oxygen_offset) +
                           probe.drift_per_h * long_tailed(meter(of_member, MeterScore::oxygen_drift)) *
                               (reading.at_h - first_oxygen_at_h_);
      return reading.what == Measured::oxygen ? shown : shown / saturation;
    }
    case Measured::temperature:
      return temperature + instruments_.temperature.offset * meter(of_member, MeterScore::temperature_offset);
    case Measured::bacteria:
      return std::log(std::max(bacteria, counted_least_per_ml)) +
             instruments_.bacteria.offset * meter(of_member, MeterScore::bacteria_offset);
    case Measured::protozoa:
      return std::log(std::max(protozoa, counted_least_per_ml)) +
             instruments_.protozoa.offset * meter(of_member, MeterScore::protozoa_offset);
  }
  throw BrokenPromise("a reading is of one of the named kinds");
}

std::vector<double> Hearing::shown(int member_count, std::span<const double> scores) const {
  Members moving = members(member_count, scores);
  const auto width = static_cast<std::size_t>(unknown_count());
  const double until_h = output_at_h_.empty() ? 0.0 : std::max(output_at_h_.back(), 1e-3);
  const Stretch stretch = run(moving, 0.0, until_h, {}, output_at_h_, parallel_);
  std::vector<double> all;
  all.reserve(static_cast<std::size_t>(member_count) * readings_.size());
  for (int m = 0; m < member_count; ++m) {
    const std::span<const double> of_member = scores.subspan(static_cast<std::size_t>(m) * width, width);
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      const auto seen = [&](tea::Observed what) { return stretch.of(m, output_of_[i], what); };
      all.push_back(shown_of(readings_[i], of_member, seen(tea::oxygen), seen(tea::saturation), seen(tea::temperature),
                             bacteria_per_ml(seen(tea::bacteria), moving.cell_pg_cod[static_cast<std::size_t>(m)]),
                             flagellates_per_ml(seen(tea::flagellates))));
    }
  }
  return all;
}

double Hearing::noise(std::size_t i) const {
  const LogReading& r = readings_[i];
  if (std::isfinite(r.error)) return r.error;
  switch (r.what) {
    case Measured::oxygen:
      return instruments_.oxygen.noise;
    case Measured::oxygen_share:
      return instruments_.oxygen_share.noise;
    case Measured::temperature:
      return instruments_.temperature.noise;
    case Measured::bacteria:
      return instruments_.bacteria.noise;
    case Measured::protozoa:
      return instruments_.protozoa.noise;
  }
  throw BrokenPromise("a reading is of one of the named kinds");
}

double Hearing::heard(std::size_t i) const {
  const LogReading& r = readings_[i];
  const bool is_count = r.what == Measured::bacteria || r.what == Measured::protozoa;
  return is_count ? std::log(std::max(r.value, counted_least_per_ml)) : r.value;
}

double Hearing::gross_range(std::size_t i) const {
  switch (readings_[i].what) {
    case Measured::oxygen:
      return 15.0;  // mg/L: anything a meter shows, evenly (judged, as those below)
    case Measured::oxygen_share:
      return 1.5;  // of saturation
    case Measured::temperature:
      return 50.0;  // degC
    case Measured::bacteria:
    case Measured::protozoa:
      return 20.0;  // from 1 to 5e8 per mL
  }
  throw BrokenPromise("a reading is of one of the named kinds");
}

double Hearing::sound_density(std::size_t i, double shown) const {
  const double sigma = noise(i), off = (heard(i) - shown) / sigma;
  return (1.0 - instruments_.gross_share) * std::exp(-0.5 * off * off) / (sigma * std::sqrt(2.0 * std::numbers::pi));
}

double Hearing::gross_density(std::size_t i) const {
  return instruments_.gross_share / gross_range(i);
}

double Hearing::gross_odds(std::size_t i, double shown) const {
  return gross_density(i) / (gross_density(i) + sound_density(i, shown));
}

Weighed Hearing::weigh(int member_count, std::span<const double> scores) const {
  Weighed weighed;
  weighed.predicted = shown(member_count, scores);
  const std::size_t readings = readings_.size();
  for (std::size_t m = 0; m < static_cast<std::size_t>(member_count); ++m) {
    double sum = 0.0;
    for (std::size_t i = 0; i < readings; ++i) {
      double& predicted = weighed.predicted[m * readings + i];
      sum += std::log(sound_density(i, predicted) + gross_density(i));
      predicted = std::isfinite(predicted) ? predicted / noise(i) : 0.0;
    }
    weighed.log_likelihood.push_back(std::isfinite(sum) ? sum : impossible_log_likelihood);
  }
  return weighed;
}

}  // namespace barm::brew
