// Brews as the sources describe them. What a source does not print is assumed, and the assumption stands on the page.
#pragma once

#include <functional>
#include <vector>

#include "brew/run.h"

namespace barm::test {

inline constexpr int member_count = 256;

/// A number for each member, told as a band.
struct Predicted {
  double low = 0.0, middle = 0.0, high = 0.0;  // 5, 50 and 95 % of the members
};
Predicted band_of(std::vector<double> values);

/// One brew in many members, standing at hour 0; solved on the kernel every machine has, so that the page does not
/// depend on the machine.
class PaperBrew {
 public:
  explicit PaperBrew(const brew::Setup& setup, std::uint64_t seed = 1);
  /// What is seen of each member at the hours, [at][member].
  std::vector<std::vector<double>> seen(brew::tea::Observed what, std::vector<double> at_h) const;
  /// Bacteria by direct count [1/mL], likewise.
  std::vector<std::vector<double>> bacteria_per_ml(std::vector<double> at_h) const;
  /// Lowest oxygen of each member until the hour [mg/L].
  std::vector<double> lowest_oxygen_mg_per_l(double until_h) const;
  /// Hour at which each member's bacteria stand highest.
  std::vector<double> bacteria_peak_h() const;
  const brew::Members& start() const { return start_; }

 private:
  brew::Stretch run(std::vector<double> at_h) const;
  brew::Members start_;
};

/// Share of members (0 to 1) whose `after` lies above `before`.
double share_that_rises(const std::vector<double>& before, const std::vector<double>& after);

}  // namespace barm::test
