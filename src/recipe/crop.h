// What practitioners aim for by plant group, and that no trial supports it. Figures: data/crops.toml;
// docs/recipe/crops.md
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::recipe {

/// A plant group and the ratio of fungal to bacterial biomass in its soil that practitioners name.
struct Crop {
  std::string id;
  std::vector<std::string> names;
  std::string spanish;
  double low = unset, high = unset;
  std::string source;
  /// The convention in a sentence, with its lack of support.
  Remark said() const;
};

class Crops {
 public:
  /// Reads data/crops.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Crops read(std::string_view toml);
  /// By id or name. Refuses an unknown one with the likely spelling.
  Answer<const Crop*> find(std::string_view name) const;
  const std::vector<Crop>& all() const { return all_; }

 private:
  std::vector<Crop> all_;
};

}  // namespace barm::recipe
