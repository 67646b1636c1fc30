#include "operations/brew_plan_rules.h"

#include <fmt/format.h>

#include <algorithm>

#include "data/embedded.h"
#include "operations/rule_record.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

/// What the plan itself tells: food or none, animal food, how long it is held.
rule::Facts facts_of_plan(const PlanInput& in, const recipe::BrewPlan& plan) {
  rule::Facts facts = in.facts.facts();
  facts.set("food", plan.ask.foods.empty() ? "no" : "yes");
  facts.set("held", plan.ask.length_h + 1.0);  // filled, brewed and carried out: never within the hour
  for (const auto& planned : plan.ask.foods) {
    if (is_animal_food(planned.name).value_or(false)) facts.set("animal_origin", "yes");
  }
  return facts;
}

/// Biodegradable COD the foods and composts could give, high ends [g/L].
rule::GrowthAsk growth_ask(const recipe::BrewPlan& plan, const recipe::Knowledge& knowledge) {
  rule::GrowthAsk ask{.length_h = plan.ask.length_h};
  const auto& forecast = plan.forecast;
  ask.warmth = {forecast.time_h, forecast.temperature_c.p05, forecast.temperature_c.p95};
  for (const auto& planned : plan.ask.foods) {
    const auto food = knowledge.foods.find(planned.name);
    const auto mass_g = food.ok() ? food::mass_g(**food, planned.amount) : Answer<double>::refused(food.refusals());
    if (mass_g.ok())
      ask.food_cod_g_per_l += *mass_g * (*food)->cod_high_g_per_g * (1.0 - (*food)->inert_share) / plan.ask.volume_l;
  }
  for (const auto& planned : plan.ask.composts) {
    const auto kind = knowledge.composts.find(planned.kind);
    if (!kind.ok()) continue;
    constexpr double g_per_mg = 0.001;
    ask.compost_cod_g_per_l += planned.mass_g * (*kind)->dry_matter_share.high * (*kind)->carbon_mg_cod_per_g.high *
                               g_per_mg / plan.ask.volume_l;
  }
  ask.half_saturation_g_per_l = knowledge.priors.of("K_SE").low / 1000.0;
  return ask;
}

std::string tenfold(double decades) {
  return fmt::format("{:.1f}", decades);
}

}  // namespace

void hold_to_rules(const PlanInput& in, const std::vector<rule::RuleSet>& sets, PlanAnswer& answer) {
  auto& plan = answer.plan;
  static const auto strains = rule::read_strains(data::file("indicator.toml"));
  answer.growth = rule::growth(growth_ask(plan, shipped_knowledge()), strains);
  if (answer.growth.decades >= rule::decades_told) {
    plan.warnings.push_back({"rule.contaminant.could_grow",
                             "food",
                             {{"given", tenfold(answer.growth.decades)},
                              {"without_food", tenfold(answer.growth.without_food_decades)},
                              {"cooler", tenfold(answer.growth.cooler_decades)},
                              {"shorter", tenfold(answer.growth.shorter_decades)}}});
  }
  const bool has_class =
      std::any_of(sets.begin(), sets.end(), [](const auto& set) { return set.name == "us_produce"; });
  if (!has_class) return;
  const auto facts = facts_of_plan(in, plan);
  answer.legal = ClassTold::of(rule::tea_facts(facts), rule::contact_facts(facts));
  Remark headline = class_headline(*answer.legal);
  if (answer.legal->is_allowed()) {
    plan.notes.push_back(headline);
    return;
  }
  if (!answer.legal->tea.missing.empty()) plan.notes.push_back({"rule.class.tell", "rule", {}});
  headline.field = "rule";
  for (const auto way : answer.legal->ways) headline.facts.emplace(rule::word(way), std::string());
  // First where that law may hold; elsewhere told, but after what the brew itself will do.
  const bool may_hold = in.zone.starts_with("America/") || in.zone.starts_with("US/") || in.zone == "Pacific/Honolulu";
  plan.warnings.insert(may_hold ? plan.warnings.begin() : plan.warnings.end(), std::move(headline));
}

}  // namespace barm::operations
