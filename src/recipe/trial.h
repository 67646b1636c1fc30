// Changes to a brew, each tried out by forecasting it again with the same draws. For mend.cpp.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "recipe/planning.h"

namespace barm::recipe {

/// What a change has to reach: every line, or for a brew that would go flat at least the 2 mg/L line.
enum class Goal : std::uint8_t { every_line, not_flat };

struct Trial {
  Odds odds;
  std::map<std::string, Remark::Fact> facts;  // from, to, which food
  Goal goal = Goal::every_line;
  std::vector<Change> changes{};
  bool is_enough() const;
};

class Workbench {
 public:
  Workbench(const Brewing& brewing, const Knowledge& knowledge, const Forecaster& forecaster, Goal goal)
      : brewing_(brewing), knowledge_(knowledge), forecaster_(forecaster), goal_(goal) {}
  const Brewing& brewing() const { return brewing_; }
  Goal goal() const { return goal_; }
  /// The same bench, its forecasts remembered, for another goal.
  Workbench towards(Goal goal) const {
    Workbench other = *this;
    other.goal_ = goal;
    return other;
  }
  /// Odds of a changed brew, its pump `air_factor` times as strong; nothing when that cannot be.
  std::optional<Odds> forecast(const Brewing& changed, double air_factor = 1.0) const;

 private:
  std::optional<Odds> forecast_anew(const Brewing& changed, double air_factor) const;
  using Change = std::array<double, 4>;  // all that a trial may change: length, water temperature, food mass, air

  const Brewing& brewing_;
  const Knowledge& knowledge_;
  const Forecaster& forecaster_;
  Goal goal_;
  mutable std::map<Change, std::optional<Odds>> known_;
};

// Each gives the smallest change that is enough, or its largest when none is; nothing when it cannot be tried.

/// Less of the strongest food, in amounts that can be measured, with a pump `air_factor` times as strong.
std::optional<Trial> less_food(const Workbench& bench, double air_factor);
bool leaves_food_out(const Trial& trial);
/// A pump 1.5 to 4 times as strong.
std::optional<Trial> more_air(const Workbench& bench);
/// Water and room 2 to 8 degC cooler.
std::optional<Trial> cooler(const Workbench& bench);
/// Whole hours, never shorter than it takes to be ready, never past 24 h.
std::optional<Trial> shorter(const Workbench& bench, const brew::ReadyWindow& ready);
/// Less food and two or four times the air.
std::optional<Trial> together(const Workbench& bench);

}  // namespace barm::recipe
