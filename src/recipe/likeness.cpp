#include "recipe/likeness.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace barm::recipe {
namespace {

constexpr double mg_per_g = 1000.0;
constexpr double cod_per_carbon = 32.0 / 12.0;  // CH2O + O2 -> CO2 + H2O: 32 g of oxygen for 12 g of carbon
constexpr double hardly_eaten_share = 0.1;      // judged: humic matter outlasts a brew

}  // namespace

double nitrogen_of_cells(const brew::Priors& priors) {
  return priors.of("i_NB").middle * priors.of("Y_B").middle;
}

Part part_of(const food::Food& food, const brew::Priors& priors) {
  if (food.alpha_factor < 1.0) return Part::surface;
  const double eaten_share = food.readily_share + food.slowly_share;
  if (eaten_share < hardly_eaten_share) return Part::colour;
  if (food.nitrogen_share >= nitrogen_of_cells(priors) * food.cod_g_per_g * eaten_share) return Part::nitrogen;
  return food.readily_share > food.slowly_share ? Part::sugar : Part::slow;
}

Brings brings(const food::Food& food, double mass_g, double volume_l) {
  const double mg_per_l = mass_g * mg_per_g / volume_l;
  const double usable_share = food.nitrogen_is_soluble ? 1.0 : food.nitrogen_mineral_share;
  return {.ready_mg_per_l = mg_per_l * food.cod_g_per_g * food.readily_share,
          .slow_mg_per_l = mg_per_l * food.cod_g_per_g * food.slowly_share,
          .nitrogen_mg_per_l = mg_per_l * food.nitrogen_share,
          .usable_nitrogen_mg_per_l = mg_per_l * food.nitrogen_share * usable_share};
}

double misfit(const Brings& from, const Brings& to, const brew::Priors& priors) {
  const double eaten = std::max(from.eaten_mg_per_l(), 1e-9);
  return (std::abs(to.eaten_mg_per_l() - from.eaten_mg_per_l()) + std::abs(to.ready_mg_per_l - from.ready_mg_per_l) +
          std::abs(to.nitrogen_mg_per_l - from.nitrogen_mg_per_l) / nitrogen_of_cells(priors)) /
         eaten;
}

double carbon_to_nitrogen(double cod_g, double nitrogen_g) {
  return nitrogen_g > 0.0 ? cod_g / cod_per_carbon / nitrogen_g : unset;
}

}  // namespace barm::recipe
