#include "recipe/lines.h"
#include "recipe/trial.h"

namespace barm::recipe {
namespace {

constexpr double helps_least = 0.02;  // judged: below, the gain is lost in the draws

/// Trials of one round: those that are enough, and the one that helps most.
class Round {
 public:
  explicit Round(double shortfall_now) : best_shortfall_(shortfall_now - helps_least) {}

  void weigh(const char* code, std::optional<Trial> trial) {
    if (!trial) return;
    if (trial->is_enough()) {
      enough_.push_back(told(code, *trial));
    } else if (const double missing = shortfall(trial->odds); missing < best_shortfall_) {
      best_shortfall_ = missing;
      best_help_ = told(code, *trial);
    }
  }
  bool found() const { return !enough_.empty(); }
  const std::vector<Mend>& enough() const { return enough_; }
  const std::optional<Mend>& best_help() const { return best_help_; }

 private:
  static Mend told(const char* code, const Trial& trial) {
    return {.code = code,
            .facts = trial.facts,
            .probability_oxygen_stays_above_6 = trial.odds.stays_above_6,
            .probability_oxygen_below_2 = trial.odds.below_2,
            .mends = shortfall(trial.odds) <= 0.0,
            .changes = trial.changes};
  }
  std::vector<Mend> enough_;
  std::optional<Mend> best_help_;
  double best_shortfall_;
};

void try_each_alone(Round& round, const Workbench& bench, const brew::ReadyWindow& ready) {
  round.weigh("recipe.mend.shorter", shorter(bench, ready));
  const auto food = less_food(bench, 1.0);
  round.weigh(food && leaves_food_out(*food) ? "recipe.mend.without_food" : "recipe.mend.less_food", food);
  round.weigh("recipe.mend.more_air", more_air(bench));
  round.weigh("recipe.mend.cooler", cooler(bench));
}

}  // namespace

std::vector<Mend> mends(const BrewPlan& plan, const Brewing& brewing, const Knowledge& knowledge,
                        const Forecaster& forecaster) {
  if (plan.verdict == Verdict::holds) return {};
  const Workbench bench(brewing, knowledge, forecaster, Goal::every_line);
  const auto now = bench.forecast(brewing);  // with the same few draws as the trials
  if (!now) return {};

  Round round(shortfall(*now));
  if (plan.headline.code == "recipe.headline.too_long") {
    round.weigh("recipe.mend.shorter", shorter(bench, plan.forecast.ready));
    return round.enough();
  }
  try_each_alone(round, bench, plan.forecast.ready);
  const bool one_is_enough = round.found();
  if (!one_is_enough) {
    const auto both = together(bench);
    const bool without = both && leaves_food_out(*both);
    round.weigh(without ? "recipe.mend.together_without_food" : "recipe.mend.together", both);
  }
  std::vector<Mend> all = round.enough();
  if (!one_is_enough && plan.verdict == Verdict::fails) {
    const Workbench modest = bench.towards(Goal::not_flat);
    Round second(shortfall(*now));
    try_each_alone(second, modest, plan.forecast.ready);
    all.insert(all.end(), second.enough().begin(), second.enough().end());
  }
  if (all.empty() && round.best_help()) all.push_back(*round.best_help());
  return all;
}

}  // namespace barm::recipe
