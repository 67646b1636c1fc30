// Microbe foods: what is in them. Figures and sources: data/foods.toml; meaning: docs/food/foods.md
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "quantity/text.h"

namespace barm::food {

struct Food {
  std::string id;                  // "blackstrap_molasses"
  std::vector<std::string> names;  // accepted in plans, the first is shown; generic names only
  std::string spanish;             // name shown in Spanish
  bool is_liquid = false;
  double density_g_per_ml = unset;  // of a liquid; of a dry food as it lies in the spoon (bulk)
  double cod_g_per_g = unset;       // as used
  double cod_low_g_per_g = unset;
  double cod_high_g_per_g = unset;
  double readily_share = unset;  // of the COD: readily biodegradable
  double slowly_share = unset;
  double inert_share = unset;
  double nitrogen_share = unset;          // g N per g as used
  double nitrogen_mineral_share = unset;  // of that N, usable at once
  bool nitrogen_is_soluble = false;       // the rest goes to soluble (sugary liquids) or particulate organic N (meals)
  double conductivity_ms_per_cm_per_g_per_l = unset;
  double alpha_factor = 1.0;           // what it does to oxygen transfer (saponins, oil)
  bool is_fish = false;                // stands 10 to 20 min in water first
  std::vector<std::string> allergens;  // it brings or is likely to: "fish", "soy", "gluten"; a label says more
  bool is_animal_origin = false;
  std::string source;
};

class Library {
 public:
  /// Reads data/foods.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Library read(std::string_view toml);
  /// By any accepted name, upper or lower case. Refuses an unknown one with the likely spelling.
  Answer<const Food*> find(std::string_view name) const;
  const std::vector<Food>& foods() const { return foods_; }

 private:
  std::vector<Food> foods_;
};

/// Mass of an amount of this food [g]; a volume goes through its density. Refuses a volume of a dry food without a
/// density.
Answer<double> mass_g(const Food& food, const Amount& amount);

}  // namespace barm::food
