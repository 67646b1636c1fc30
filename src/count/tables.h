// What counts are worked out with, from data/counts.toml: rules for plates and
// for series, chambers, and cells to dry mass.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "count/biomass.h"
#include "count/series.h"
#include "quantity/answer.h"

namespace barm::count {

enum class Rounding : std::uint8_t { half_up, five_to_even };

struct PlateRule {
  std::string id{};
  double low_count = unset, high_count = unset;  // colonies on a countable plate, both included
  double estimated_from_count = unset;           // fewer than `low_count` but at least these: reported as an estimate
  bool takes_next_dilution = false;              // the dilution after the first countable one counts whatever it shows
  Rounding rounding = Rounding::half_up;
  std::string source{};
};
struct Chamber {
  std::string id{};
  double square_volume_ml = unset;  // of the space over one square
  double square_side_m = unset;
  std::string source{};
};

class Tables {
 public:
  /// Broken data are our fault: throws BrokenPromise naming the entry.
  static Tables read(std::string_view toml);
  // Each refuses an id that is not there, telling those that are; field of the remark: "standard", "chamber",
  // "factors" or "rule".
  Answer<const PlateRule*> plate_rule(std::string_view id) const;
  Answer<const Chamber*> chamber(std::string_view id) const;
  Answer<const BiomassFactors*> biomass_factors(std::string_view id) const;
  Answer<const SeriesRule*> series_rule(std::string_view id) const;
  const CellFigures& cells() const { return cells_; }

 private:
  std::vector<PlateRule> plate_rules_;
  std::vector<Chamber> chambers_;
  std::vector<BiomassFactors> biomass_factors_;
  std::vector<SeriesRule> series_rules_;
  CellFigures cells_;
};

}  // namespace barm::count
