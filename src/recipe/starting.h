// Three recipes to start from, one for each aim, formulated per litre. Figures and reasons: data/recipes.toml,
// docs/recipe/starting.md
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "recipe/scale.h"

namespace barm::recipe {

struct StartingRecipe {
  std::string id;
  Aim aim = Aim::balanced;
  std::string english, spanish;
  double length_h = unset;
  Recipe per_litre;                  // for 1 L of water
  std::string reason_en, reason_es;  // why these foods, in these amounts
  std::string source;
};

/// Reads data/recipes.toml. A broken file, or one that names a food or compost nobody knows, is our fault: throws
/// BrokenPromise naming the entry.
std::vector<StartingRecipe> read_starting_recipes(std::string_view toml, const food::Library& foods,
                                                  const compost::Kinds& composts);

}  // namespace barm::recipe
