#include <algorithm>

#include "recipe/planning.h"

namespace barm::recipe {
namespace {

// Salt of compost per gram of dry matter in a litre [mS/cm]. judged: extracts of 200 g dry compost in 1 L read 2 to 10
// mS/cm (memory), which is 0.01 to 0.05; see docs/recipe/contents.md.
constexpr double compost_conductivity_ms_per_cm_per_g_per_l = 0.04;

// Ready COD of 1 g blackstrap molasses [g]: 0.80 x 0.72, M18 as in data/foods.toml. Makes 1 g of molasses count as 1 g.
constexpr double molasses_ready_cod_g_per_g = 0.80 * 0.72;

}  // namespace

std::map<std::string, Remark::Fact> named(const food::Food& food) {
  return {{"food", food.names.front()}, {"food_es", food.spanish}};
}

Contents contents(const Brewing& brewing) {
  const double volume_l = brewing.ask.volume_l;
  Contents in;
  in.has_food = !brewing.foods.empty();
  for (const FoodPortion& portion : brewing.foods) {
    const food::Food& food = *portion.food;
    const double g_per_l = portion.mass_g / volume_l;
    in.conductivity_rise_ms_per_cm += g_per_l * food.conductivity_ms_per_cm_per_g_per_l;
    const double usable_share =
        food.nitrogen_mineral_share + (food.nitrogen_is_soluble ? 1.0 - food.nitrogen_mineral_share : 0.0);
    in.nitrogen_mg_per_l += g_per_l * 1000.0 * food.nitrogen_share * usable_share;
    in.ready_cod_g_per_l += g_per_l * food.cod_g_per_g * food.readily_share;
    in.food_cod_g_per_l += g_per_l * food.cod_g_per_g * (food.readily_share + food.slowly_share);
    in.alpha_factor = std::min(in.alpha_factor, food.alpha_factor);
  }
  for (const CompostPortion& portion : brewing.composts) {
    const double dry_g_per_l = portion.mass_g * portion.lot().dry_matter_share.middle / volume_l;
    in.conductivity_rise_ms_per_cm += dry_g_per_l * compost_conductivity_ms_per_cm_per_g_per_l;
    in.nitrogen_mg_per_l += dry_g_per_l * portion.kind->nitrogen_mg_per_g.middle;
  }
  constexpr double brew_g_per_l = 1000.0;
  in.sugar_share = in.ready_cod_g_per_l / molasses_ready_cod_g_per_g / brew_g_per_l;
  return in;
}

}  // namespace barm::recipe
