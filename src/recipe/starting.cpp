#include "recipe/starting.h"

#include <toml++/toml.h>

#include "quantity/data_entry.h"

namespace barm::recipe {
namespace {

Aim read_aim(const DataEntry& entry) {
  const std::string aim = entry.text("aim");
  if (aim == "bacterial") return Aim::bacterial;
  if (aim == "fungal") return Aim::fungal;
  entry.promise(aim == "balanced", "aim is not bacterial, fungal or balanced");
  return Aim::balanced;
}

/// Amount for 1 L of water: "g/L" becomes a mass [g], "mL/L" a volume [L].
Quantity read_amount_per_litre(const DataEntry& entry, const toml::table& line) {
  const auto amount = line["amount"].value<double>();
  const auto unit = line["unit"].value_or(std::string_view());
  entry.promise(amount.has_value() && *amount > 0.0, "an amount is no positive number");
  if (unit == "g/L") return {*amount, Dimension::mass};
  entry.promise(unit == "mL/L", "an amount is in neither g/L nor mL/L");
  return {*amount / 1000.0, Dimension::volume};
}

}  // namespace

std::vector<StartingRecipe> read_starting_recipes(std::string_view toml, const food::Library& foods,
                                                  const compost::Kinds& composts) {
  std::vector<StartingRecipe> recipes;
  each_data_entry(toml, "recipe", "recipes.toml", [&](DataEntry entry, const std::string& id) {
    StartingRecipe recipe;
    recipe.id = id;
    recipe.aim = read_aim(entry);
    recipe.english = entry.text("english");
    recipe.spanish = entry.text("spanish");
    recipe.length_h = entry.number("length", "h");
    recipe.reason_en = entry.text("reason_en");
    recipe.reason_es = entry.text("reason_es");
    recipe.source = entry.text("source");
    recipe.per_litre.volume_l = 1.0;
    for (const toml::table* line : entry.tables("compost")) {
      const std::string kind = (*line)["kind"].value_or(std::string());
      entry.promise(composts.find(kind).ok(), "no compost \"" + kind + "\"");
      const Quantity amount = read_amount_per_litre(entry, *line);
      entry.promise(amount.dimension == Dimension::mass, "compost is weighed");
      recipe.per_litre.composts.push_back({.kind = kind, .mass_g = amount.value});
    }
    for (const toml::table* line : entry.tables("food")) {
      const std::string name = (*line)["name"].value_or(std::string());
      entry.promise(foods.find(name).ok(), "no food \"" + name + "\"");
      recipe.per_litre.foods.push_back({.name = name, .amount = {read_amount_per_litre(entry, *line)}});
    }
    recipes.push_back(std::move(recipe));
  });
  return recipes;
}

}  // namespace barm::recipe
