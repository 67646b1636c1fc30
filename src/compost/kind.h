// Kinds of compost and what a brew gets out of them. Figures and sources: data/composts.toml
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::compost {

/// What one gram of dry matter gives to the water. Bands are 5 to 95 %; a measured lot narrows them.
struct Kind {
  std::string id;  // "bacterial", "fungal", "mixed", "worm"
  std::string english, spanish;
  struct Spread {
    double middle = unset, low = unset, high = unset;
  };
  Spread dry_matter_share, volatile_share;  // volatile: of the dry matter
  Spread bacteria_per_g;                    // cells per g dry matter
  Spread fungi_ug_per_g;                    // dry fungal mass
  Spread protozoa_per_g;
  Spread nitrogen_mg_per_g;              // extractable mineral N
  Spread carbon_mg_cod_per_g;            // extractable biodegradable COD
  Spread uptake_mg_per_g_vs_h;           // respiration of the solids in the bag at 20 degC
  double bulk_density_g_per_ml = unset;  // as it lies in a bucket
  std::string source;
};

class Kinds {
 public:
  /// Reads data/composts.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Kinds read(std::string_view toml);
  Answer<const Kind*> find(std::string_view name) const;
  const std::vector<Kind>& kinds() const { return kinds_; }

 private:
  std::vector<Kind> kinds_;
};

}  // namespace barm::compost
