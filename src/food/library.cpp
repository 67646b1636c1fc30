#include <algorithm>
#include <cmath>

#include "quantity/data_entry.h"
#include "compost/names.h"
#include "food/food.h"

namespace barm::food {
namespace {

using compost::plain_name;

Food read_food(DataEntry entry, const std::string& id) {
  Food food;
  food.id = id;
  food.names = entry.texts("names");
  food.spanish = entry.text("spanish");
  food.is_liquid = entry.claim("is_liquid");
  food.density_g_per_ml = entry.figure("density", "g/mL").value;
  const Figure cod = entry.figure("cod", "g/g");
  food.cod_g_per_g = cod.value;
  food.cod_low_g_per_g = cod.low;
  food.cod_high_g_per_g = cod.high;
  food.readily_share = entry.number("readily", "share");
  food.slowly_share = entry.number("slowly", "share");
  food.inert_share = entry.number("inert", "share");
  food.nitrogen_share = entry.figure("nitrogen", "g/g").value;
  food.nitrogen_mineral_share = entry.number("nitrogen_mineral", "share");
  food.nitrogen_is_soluble = entry.claim("nitrogen_is_soluble");
  food.conductivity_ms_per_cm_per_g_per_l = entry.figure("conductivity", "mS/cm per g/L").value;
  if (entry.has("alpha_factor")) food.alpha_factor = entry.figure("alpha_factor", "share").value;
  food.is_fish = entry.claim("is_fish");
  if (entry.has("allergens")) food.allergens = entry.texts("allergens");
  food.is_animal_origin = entry.claim("is_animal_origin");
  food.source = entry.sources();

  const double sum = food.readily_share + food.slowly_share + food.inert_share;
  entry.promise(std::abs(sum - 1.0) < 1e-9, "readily, slowly and inert do not add up to 1");
  entry.promise(food.readily_share >= 0 && food.slowly_share >= 0 && food.inert_share >= 0, "a share is negative");
  entry.promise(food.density_g_per_ml > 0 && food.cod_low_g_per_g > 0, "density or COD is not positive");
  entry.promise(food.nitrogen_share >= 0 && food.nitrogen_share < 1, "nitrogen is no share");
  entry.promise(food.nitrogen_mineral_share >= 0 && food.nitrogen_mineral_share <= 1, "mineral nitrogen is no share");
  entry.promise(food.alpha_factor > 0 && food.alpha_factor <= 1, "alpha_factor is outside 0 to 1");
  const bool names_fish = std::ranges::find(food.allergens, "fish") != food.allergens.end();
  entry.promise(food.is_fish == names_fish, "fish is an allergen");
  entry.promise(!food.is_fish || food.is_animal_origin, "fish is of animal origin");
  return food;
}

std::vector<std::string> all_names(const Food& food) {
  std::vector<std::string> names = food.names;
  names.push_back(food.id);
  names.push_back(food.spanish);
  return names;
}

}  // namespace

Library Library::read(std::string_view toml) {
  Library library;
  std::vector<std::string> taken;
  each_data_entry(toml, "food", "foods.toml", [&](const DataEntry& entry, const std::string& id) {
    Food food = read_food(entry, id);
    std::vector<std::string> own;
    for (const std::string& name : all_names(food)) own.push_back(plain_name(name));
    for (const std::string& name : own) {
      for (const std::string& other : taken) entry.promise(name != other, "the name \"" + name + "\" means two foods");
    }
    taken.insert(taken.end(), own.begin(), own.end());
    library.foods_.push_back(std::move(food));
  });
  return library;
}

Answer<const Food*> Library::find(std::string_view name) const {
  const std::string wanted = plain_name(name);
  std::vector<std::string> known;
  std::string allowed;
  for (const Food& food : foods_) {
    for (const std::string& own : all_names(food)) {
      if (plain_name(own) == wanted) return &food;
    }
    known.insert(known.end(), food.names.begin(), food.names.end());
    allowed += (allowed.empty() ? "" : ", ") + food.names.front();
  }
  Remark unknown{.code = "food.name.unknown", .field = "name", .facts = {}};
  unknown.facts = {{"given", std::string(name)}, {"allowed", allowed}};
  if (const std::string meant = compost::nearest_name(name, known); !meant.empty()) unknown.facts["suggestion"] = meant;
  return Answer<const Food*>::refused({unknown});
}

}  // namespace barm::food
