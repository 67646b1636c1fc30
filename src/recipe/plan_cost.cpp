#include "recipe/plan_cost.h"

#include <cmath>

namespace barm::recipe {
namespace {

std::string row(const char* list, std::size_t index) {
  return std::string(list) + "[" + std::to_string(index + 1) + "]";
}

/// What `mass_g` of something costs that was paid for by the `priced_g`.
double share_of(const Price& price, double priced_g, double mass_g) {
  return price.paid * mass_g / priced_g;
}

/// A plan tells no stock, so that a price says nothing without its amount.
bool says_for_how_much(const Price& price, const std::string& row, Findings& findings) {
  if (!std::isnan(price.amount.measured.value)) return true;
  findings.refuse({"recipe.cost.for_how_much", row + ".price_for", {}});
  return false;
}

double composts_cost(const PlanAsk& ask, Findings& findings, std::vector<std::string>& not_priced) {
  double cost = 0.0;
  for (std::size_t i = 0; i < ask.composts.size(); ++i) {
    const PlannedCompost& compost = ask.composts[i];
    if (!(compost.price.paid > 0.0)) {
      not_priced.push_back(row("compost", i));
    } else if (says_for_how_much(compost.price, row("compost", i), findings)) {
      cost += share_of(compost.price, compost.price.amount.measured.value, compost.mass_g);
    }
  }
  return cost;
}

double foods_cost(const PlanAsk& ask, const Knowledge& knowledge, Findings& findings,
                  std::vector<std::string>& not_priced) {
  double cost = 0.0;
  for (std::size_t i = 0; i < ask.foods.size(); ++i) {
    const PlannedFood& planned = ask.foods[i];
    const auto food = knowledge.foods.find(planned.name);
    if (!food.ok() || !(planned.price.paid > 0.0)) {
      not_priced.push_back(row("food", i));
      continue;
    }
    const auto weighed = [&](const Amount& amount, const char* column) -> double {
      const auto mass = food::mass_g(**food, amount);
      for (Remark why : mass.refusals()) {
        why.field = row("food", i) + column;
        findings.refuse(std::move(why));
      }
      return mass.ok() ? *mass : unset;
    };
    if (!says_for_how_much(planned.price, row("food", i), findings)) continue;
    const double priced_g = weighed(planned.price.amount, ".price_for");
    const double mass_g = weighed(planned.amount, ".amount");
    if (!findings.refused()) cost += share_of(planned.price, priced_g, mass_g);
  }
  return cost;
}

}  // namespace

Answer<PlanCost> plan_cost(const PlanAsk& ask, const Tariffs& tariffs, double rate_l_per_ha,
                           const Knowledge& knowledge) {
  Findings findings;
  PlanCost told;
  BatchUse use{.volume_l = ask.volume_l, .length_h = ask.length_h, .rate_l_per_ha = rate_l_per_ha};
  use.compost = composts_cost(ask, findings, told.not_priced);
  use.foods = foods_cost(ask, knowledge, findings, told.not_priced);
  if (findings.refused()) return std::move(findings).refusal<PlanCost>();
  told.cost = batch_cost(use, tariffs);
  if (!(told.cost.water > 0.0)) told.not_priced.emplace_back("water");
  if (!(told.cost.electricity > 0.0)) told.not_priced.emplace_back("electricity");
  if (!(told.cost.labour > 0.0)) told.not_priced.emplace_back("labour");
  return std::move(findings).answer(std::move(told));
}

}  // namespace barm::recipe
