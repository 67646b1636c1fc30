// How a plan is put together: each part has its own file, named in the comment. For plan.cpp and its tests.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "recipe/plan.h"

namespace barm::recipe {

/// What foretells a brew: brew::forecast, or a stand-in in tests.
using Forecaster =
    std::function<Answer<brew::Forecast>(const brew::Setup&, const brew::Priors&, const brew::EnsembleOptions&)>;

struct CompostPortion {
  const compost::Kind* kind = nullptr;
  double mass_g = unset;
  bool in_bag = true;
  compost::LotMeasured measured{};
  /// The kind, with what was measured of the lot in place of what is usual.
  compost::Kind lot() const { return compost::with_measured(*kind, measured); }
};
struct FoodPortion {
  const food::Food* food = nullptr;
  Quantity measured;  // mass [g] or volume [L], as the plan says it
  double mass_g = unset;
  std::string field;  // "food[2].amount"
};

/// An ask that has been checked and looked up.
struct Brewing {
  PlanAsk ask;
  std::vector<CompostPortion> composts;
  std::vector<FoodPortion> foods;
  double pressure_kpa = unset;  // at the site
  double depth_m() const { return vessel().depth_m(); }
  air::Vessel vessel() const { return {.volume_l = ask.volume_l, .diameter_m = ask.vessel_diameter_m}; }
};

// check.cpp
/// Everything that is wrong goes to `findings`; nothing when anything was.
std::optional<Brewing> check(const PlanAsk& ask, const Knowledge& knowledge, Findings& findings);

// amounts.cpp
/// Rounds every amount to measures people own and writes the list. `brewing` then holds the rounded amounts, so that
/// what is printed is what is forecast.
std::vector<AmountLine> measure_out(Brewing& brewing, Findings& findings);

/// g/mL of a dry food, so that a mass may be spooned; 0 for a liquid, which is measured as the plan says.
double spoon_density(const food::Food& food);

// contents.cpp
/// Facts that name a food in both languages; the catalogue takes "food_es" for "food" when it speaks Spanish.
std::map<std::string, Remark::Fact> named(const food::Food& food);

struct Contents {
  bool has_food = false;
  double conductivity_rise_ms_per_cm = 0.0;
  double nitrogen_mg_per_l = 0.0;  // mineral and soluble organic
  double ready_cod_g_per_l = 0.0;  // readily biodegradable, of the foods
  double food_cod_g_per_l = 0.0;   // all but inert
  double sugar_share = 0.0;        // ready food, told as blackstrap molasses, of the brew's weight
  double alpha_factor = 1.0;       // the strongest hindrance to oxygen transfer among the foods
};
Contents contents(const Brewing& brewing);

// aerate.cpp
struct Aeration {
  air::Delivered air;
  air::KlaEstimate kla;
};
/// What the pump gives this vessel. Doubts travel along; refusals name the plan's fields.
Answer<Aeration> aerate(const Brewing& brewing);
/// The same with a pump that is `factor` times as strong; a measured KLa grows as the estimate does.
Answer<Aeration> aerate(const Brewing& brewing, double factor);
brew::Setup set_up(const Brewing& brewing, const Aeration& aeration);

// verdict.cpp
struct Odds {
  double stays_above_6 = unset;
  double below_2 = unset;
  double length_h = unset;
};
Odds odds(const brew::Forecast& forecast, double length_h);
Verdict judge(const Odds& odds);
/// How far the lines are missed: 0 when every one is met.
double shortfall(const Odds& odds);
Remark headline(const BrewPlan& plan);
/// A probability as people count, 1 to 99 unless it is exactly none or all of them.
Quantity of_100(double probability);

// warnings.cpp
Remarks warnings(const BrewPlan& plan, const Brewing& brewing, const Knowledge& knowledge, const Contents& in);
/// How far the lines, the figures and the claims may be trusted.
Remarks evidence(const BrewPlan& plan);

// steps.cpp
std::vector<Step> steps(const BrewPlan& plan, const Brewing& brewing);

// cautions.cpp
Remarks cautions(const BrewPlan& plan, const Brewing& brewing);

// mend.cpp, trial.cpp
/// Smallest changes that make the plan meet every line, each forecast again with the same draws; when none does alone
/// and the brew would go flat, also those that at least stop that; else the one that helps most. At most 21 forecasts
/// of 64 brews.
std::vector<Mend> mends(const BrewPlan& plan, const Brewing& brewing, const Knowledge& knowledge,
                        const Forecaster& forecaster);

// plan.cpp
Answer<BrewPlan> plan_brew_with(const PlanAsk& ask, const Knowledge& knowledge, const Forecaster& forecaster);

}  // namespace barm::recipe
