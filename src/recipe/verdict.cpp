#include <algorithm>
#include <cmath>

#include "recipe/lines.h"
#include "recipe/planning.h"

namespace barm::recipe {

Odds odds(const brew::Forecast& forecast, double length_h) {
  return {.stays_above_6 = forecast.probability_oxygen_stays_above_6,
          .below_2 = forecast.probability_oxygen_below_2,
          .length_h = length_h};
}

Verdict judge(const Odds& odds) {
  if (!(odds.below_2 <= lines::below_2_most)) return Verdict::fails;  // not a number fails too
  if (!(odds.stays_above_6 >= lines::stays_above_6_least)) return Verdict::doubtful;
  return odds.length_h > lines::length_usual_h ? Verdict::doubtful : Verdict::holds;
}

double shortfall(const Odds& odds) {
  const double above = std::max(0.0, lines::stays_above_6_least - odds.stays_above_6);
  const double below = std::max(0.0, odds.below_2 - lines::below_2_most);
  const double late = std::max(0.0, odds.length_h / lines::length_usual_h - 1.0);
  return above + 2.0 * below + late;  // judged: going flat weighs double
}

Quantity of_100(double probability) {
  if (!(probability > 0.0) || probability >= 1.0) return {probability * 100.0, Dimension::number};
  return {std::clamp(std::round(probability * 100.0), 1.0, 99.0), Dimension::number};
}

Remark headline(const BrewPlan& plan) {
  const brew::Forecast& forecast = plan.forecast;
  Remark said;
  said.facts["above_6"] = of_100(forecast.probability_oxygen_stays_above_6);
  said.facts["below_2"] = of_100(forecast.probability_oxygen_below_2);
  if (std::isfinite(forecast.low_hour_h)) {
    said.facts["after"] = Quantity{std::round(forecast.low_hour_h), Dimension::duration};
  }
  switch (plan.verdict) {
    case Verdict::holds:
      said.code = "recipe.headline.holds";
      return said;
    case Verdict::fails:
      said.code = "recipe.headline.goes_flat";
      return said;
    case Verdict::doubtful:
      break;
  }
  const bool oxygen_is_fine = forecast.probability_oxygen_stays_above_6 >= lines::stays_above_6_least;
  said.code = oxygen_is_fine ? "recipe.headline.too_long" : "recipe.headline.may_dip";
  said.facts["most"] = Quantity{lines::length_usual_h, Dimension::duration};
  return said;
}

}  // namespace barm::recipe
