// Amounts that can be measured out, and the brew they make.
#include <algorithm>
#include <cmath>

#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

double bulk_density(const Choosable& what) {
  return what.food == nullptr ? 0.0 : spoon_density(*what.food);
}

double past(double use) {
  return std::max(0.0, use - 1.0);
}

}  // namespace

double measurable(const Choosable& what, double amount, const Customs& customs) {
  constexpr int rounds_most = 8;  // rounding a rounded amount may find a plainer one still
  for (int i = 0; i < rounds_most; ++i) {
    const auto rounded = round_for_kitchen({amount, what.measure}, customs, bulk_density(what));
    if (!rounded.ok()) return 0.0;
    if (rounded->rounded.value == amount) return amount;
    amount = rounded->rounded.value;
  }
  return amount;
}

double neighbour(const Choosable& what, double amount, bool up, const Customs& customs, double step) {
  constexpr double furthest = 3.0;
  if (!(amount > 0.0)) return up ? what.least : 0.0;
  if (up && amount >= what.most) return amount;
  if (!up && amount <= what.least) return 0.0;
  for (double factor = step; factor < furthest; factor *= step) {
    const double next = measurable(what, up ? amount * factor : amount / factor, customs);
    if (up ? next > amount : next < amount) return std::clamp(next, what.least, what.most);
  }
  return up ? what.most : what.least;
}

Brewing brewing_of(const Draft& draft, const Mix& mix) {
  Brewing brewing = draft.brewing;
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const Choosable& what = draft.shelf[i];
    const double amount = mix.amounts[i];
    if (!(amount > 0.0)) continue;
    const double mass_g = amount * what.g_per_measure;
    if (what.kind != nullptr) {
      brewing.composts.push_back({what.kind, mass_g, what.in_bag});
    } else {
      brewing.foods.push_back({what.food, {amount, what.measure}, mass_g, "food"});
    }
  }
  return brewing;
}

PlanAsk plan_ask(const Draft& draft, const Mix& mix, const Slot& slot) {
  PlanAsk ask = draft.brewing.ask;
  ask.composts.clear();
  ask.foods.clear();
  ask.start_at = slot.start_at;
  ask.length_h = slot.length_h;
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const Choosable& what = draft.shelf[i];
    if (!(mix.amounts[i] > 0.0)) continue;
    if (what.kind != nullptr) {
      ask.composts.push_back(
          {.kind = what.kind->id, .mass_g = mix.amounts[i], .in_bag = what.in_bag, .price = what.price});
    } else {
      ask.foods.push_back(
          {.name = what.food->names.front(), .amount = {{mix.amounts[i], what.measure}}, .price = what.price});
    }
  }
  return ask;
}

double Uses::excess() const {
  return past(sugar) + past(salt) + past(food) + past(thick) + past(thin) + past(nitrogen);
}

Uses uses_of(const Draft& draft, const Mix& mix) {
  const Brewing brewing = brewing_of(draft, mix);
  const Contents in = contents(brewing);
  double compost_g = 0.0;
  for (const CompostPortion& portion : brewing.composts) compost_g += portion.mass_g;
  const double water_g = brewing.ask.volume_l * 1000.0;  // 1 kg/L
  const brew::Priors& priors = draft.knowledge->priors;
  const double covered_mg_per_l = in.nitrogen_mg_per_l / priors.of("i_NB").middle / priors.of("Y_B").middle;
  Uses uses;
  uses.sugar = in.sugar_share / lines::sugar_most_share;
  uses.salt = in.conductivity_rise_ms_per_cm / lines::conductivity_most_ms_per_cm;
  uses.food = in.food_cod_g_per_l / lines::food_cod_most_g_per_l;
  uses.thick = compost_g * lines::water_per_compost_least / water_g;
  // A mix without any compost is as far past the line as it gets, but a number still.
  uses.thin = std::min(10.0, water_g / std::max(compost_g, 1e-9) / lines::water_per_compost_most);
  const double ready_mg_per_l = in.ready_cod_g_per_l * 1000.0;
  uses.nitrogen = ready_mg_per_l <= 0.0
                      ? 0.0
                      : std::min(10.0, lines::nitrogen_covers_least_share * ready_mg_per_l / covered_mg_per_l);
  return uses;
}

}  // namespace barm::recipe
