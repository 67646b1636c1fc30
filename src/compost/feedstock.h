// Materials a compost is made of. Figures and sources: data/feedstocks.toml
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/figure.h"
#include "quantity/answer.h"

namespace barm::compost {

struct Feedstock {
  std::string id, english, spanish;
  bool is_animal_origin = false;
  // Between handbooks; unset where none prints it.
  Figure nitrogen_share;          // of the dry matter
  Figure cn;                      // carbon to nitrogen, by mass
  Figure moisture_share;          // of the moist mass
  Figure bulk_density_kg_per_m3;  // moist, as it lies
  std::string source;
};

class Feedstocks {
 public:
  /// Reads data/feedstocks.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Feedstocks read(std::string_view toml);
  /// By id or by either name. Refuses an unknown one, offering the likely spelling.
  Answer<const Feedstock*> find(std::string_view name) const;
  const std::vector<Feedstock>& all() const { return all_; }

 private:
  std::vector<Feedstock> all_;
};

}  // namespace barm::compost
