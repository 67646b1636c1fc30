// What a mix of feedstocks is: C:N, moisture, bulk density and free air space. Equations: docs/compost/blend.md
#pragma once

#include <string>
#include <vector>

#include "quantity/answer.h"

namespace barm::compost {

/// A material as it goes into the pile.
struct Material {
  std::string name, spanish{};
  double moisture_share = unset;          // of the moist mass
  double nitrogen_share = unset;          // of the dry matter
  double cn = unset;                      // by mass
  double bulk_density_kg_per_m3 = unset;  // moist; infinite for water, which fills pores
  double price_per_kg = 0.0;              // moist
  bool is_animal_origin = false;

  double dry_share() const { return 1.0 - moisture_share; }
  double nitrogen_kg_per_kg() const { return nitrogen_share * dry_share(); }
  double carbon_kg_per_kg() const { return nitrogen_share * cn * dry_share(); }
  double volume_m3_per_kg() const { return 1.0 / bulk_density_kg_per_m3; }
};

/// Puts its name among what the remark tells, in English and, where there is one, in Spanish.
inline void name_in_both(const Material& of, const std::string& fact, Remark& remark) {
  remark.facts[fact] = of.name;
  if (!of.spanish.empty()) remark.facts[fact + "_es"] = of.spanish;
}

struct Mix {
  double mass_kg = 0.0, volume_m3 = 0.0;  // volume: of the parts side by side; a mix settles below it
  double cn = unset, moisture_share = unset, bulk_density_kg_per_m3 = unset, free_air_share = unset;
  double free_air_settled_share = unset;  // once the fine parts lie between the coarse ones
  double cost = 0.0;
};

/// Source: S62 for C:N (all carbon over all nitrogen, never a mean of ratios) and moisture. Free air space is what
/// solids and water leave of the volume: solids at 1,500 kg/m3 (judged: organic matter 1,400 to 1,600, ash 2,500),
/// water at 1,000. Settled: the volume shrinks to 85 % (practice: mixing takes a tenth to a fifth). As many masses [kg]
/// as materials. Without mass all but the cost stays unset.
Mix mix_of(const std::vector<Material>& materials, const std::vector<double>& mass_kg);

/// What a pile should be. Sources: C:N S37; the others common practice (docs/compost/blend.md).
struct MixLimits {
  double cn_least = 25.0, cn_most = 40.0;
  double moisture_least_share = 0.5, moisture_most_share = 0.6;
  double bulk_density_most_kg_per_m3 = 650.0;
  double free_air_least_share = 0.35;
};

/// What of the limits a mix breaks, as doubts: compost.blend.cn_low, cn_high, too_dry, too_wet, too_dense, too_airless.
Remarks off_limits(const Mix& mix, const MixLimits& limits);

/// Mass of a material to add so that the C:N of the mix becomes `cn`; nothing when no amount does.
/// Source: S62, the balance of carbon and nitrogen solved for the second mass.
double mass_for_cn_kg(const std::vector<Material>& materials, const std::vector<double>& mass_kg, const Material& added,
                      double cn);
/// The same for its moisture.
double mass_for_moisture_kg(const std::vector<Material>& materials, const std::vector<double>& mass_kg,
                            const Material& added, double moisture_share);

/// Plain water, as a hose gives it.
Material water();

}  // namespace barm::compost
