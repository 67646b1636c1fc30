#include "recipe/scale.h"

#include <cmath>

namespace barm::recipe {
namespace {

bool is_positive(double value) {
  return value > 0.0 && std::isfinite(value);
}

Answer<Recipe> refused(const char* code, const char* field, Quantity given) {
  return Answer<Recipe>::refused({{.code = code, .field = field, .facts = {{"given", given}}}});
}

}  // namespace

Answer<Recipe> scaled(const Recipe& recipe, double factor) {
  if (!is_positive(factor)) return refused("recipe.scale.factor_not_positive", "factor", {factor, Dimension::number});
  Recipe result = recipe;
  result.volume_l *= factor;
  for (PlannedCompost& compost : result.composts) compost.mass_g *= factor;
  for (PlannedFood& food : result.foods) food.amount.measured.value *= factor;
  return result;
}

Answer<Recipe> scaled_to(const Recipe& recipe, double volume_l) {
  expects(is_positive(recipe.volume_l), "a recipe is for some water");
  if (!is_positive(volume_l))
    return refused("recipe.scale.volume_not_positive", "volume", {volume_l, Dimension::volume});
  Answer<Recipe> result = scaled(recipe, volume_l / recipe.volume_l);
  if (result.ok()) result.value().volume_l = volume_l;
  return result;
}

}  // namespace barm::recipe
