// The sizes of vessel the air model knows, asked of pump and transfer alike.
#pragma once

#include "air/bounds.h"
#include "air/pump.h"

namespace barm::air {

inline constexpr double deepest_m =
    3.0;  // judged: past the shallow tanks the efficiencies and correlations are used for

/// Refuses a vessel without volume or bore, or deeper than 3 m; says whether it will do.
inline bool will_do(const Vessel& vessel, Findings& findings) {
  static constexpr Bounds volume{.missing = "air.volume.missing",
                                 .out_of_range = "air.volume.out_of_range",
                                 .field = "volume",
                                 .dimension = Dimension::volume,
                                 .least = 0.1,
                                 .most = 1e6};
  static constexpr Bounds diameter{.missing = "air.diameter.missing",
                                   .out_of_range = "air.diameter.out_of_range",
                                   .field = "diameter",
                                   .dimension = Dimension::length,
                                   .least = 0.02,
                                   .most = 50.0};
  const bool has_volume = inside(volume, vessel.volume_l, findings);
  const bool has_diameter = inside(diameter, vessel.diameter_m, findings);
  if (!has_volume || !has_diameter) return false;
  if (vessel.depth_m() <= deepest_m) return true;
  findings.refuse({.code = "air.depth.too_deep",
                   .field = "diameter",
                   .facts = {{"given", Quantity{vessel.depth_m(), Dimension::length}},
                             {"most", Quantity{deepest_m, Dimension::length}}}});
  return false;
}

}  // namespace barm::air
