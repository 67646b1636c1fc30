// How likely readings are, given members of an ensemble and a meter that may be off. Model: docs/brew/learning.md
#pragma once

#include <span>
#include <string>
#include <vector>

#include "brew/instruments.h"
#include "brew/log.h"
#include "brew/run.h"
#include "brew/tempering.h"

namespace barm::brew {

/// What a meter is off by, as scores beside those of the brew: only for meters that were read.
enum class MeterScore : std::uint8_t {
  oxygen_offset,
  oxygen_slope,
  oxygen_drift,
  temperature_offset,
  bacteria_offset,
  protozoa_offset
};

class Hearing {
 public:
  /// `readings` in order of time, all of them to be used. The setup holds the acts.
  Hearing(const Setup& setup, const Priors& priors, const Unknowns& unknowns, const Instruments& instruments,
          std::vector<LogReading> readings, const Parallel& parallel = one_after_the_other);

  /// Scores of a member: the brew's unknowns, then the meters'.
  int unknown_count() const { return unknowns_.count() + static_cast<int>(meters_.size()); }
  int reading_count() const { return static_cast<int>(readings_.size()); }
  const std::vector<MeterScore>& meters() const { return meters_; }

  Weighed weigh(int member_count, std::span<const double> scores) const;
  /// Members of the given scores, standing at hour 0.
  Members members(int member_count, std::span<const double> scores) const;
  /// What each member's meters would show, [member][reading]; of counts the logarithm. Without noise.
  std::vector<double> shown(int member_count, std::span<const double> scores) const;
  /// Standard deviation of a reading's noise, in what `shown` gives.
  double noise(std::size_t reading) const;
  /// The reading in what `shown` gives.
  double heard(std::size_t reading) const;
  /// Probability that a reading is a gross error when a member's meter would show `shown`.
  double gross_odds(std::size_t reading, double shown) const;
  /// How widely gross errors scatter, in what `shown` gives.
  double gross_range(std::size_t reading) const;

 private:
  /// Density of the reading when it is sound, and when it is a gross error, each times its probability.
  double sound_density(std::size_t reading, double shown) const;
  double gross_density(std::size_t reading) const;
  double meter(std::span<const double> of_member, MeterScore which) const;
  double shown_of(const LogReading& reading, std::span<const double> of_member, double oxygen, double saturation,
                  double temperature, double bacteria, double protozoa) const;

  Setup setup_;
  const Priors& priors_;
  const Unknowns& unknowns_;
  Instruments instruments_;
  std::vector<LogReading> readings_;
  std::vector<MeterScore> meters_;
  std::vector<double> output_at_h_;     // in order, each once
  std::vector<std::size_t> output_of_;  // of each reading
  double first_oxygen_at_h_ = 0.0;
  Parallel parallel_;
};

}  // namespace barm::brew
