// Colonies per mL from all plates at once, counted or too crowded. Equations: docs/count/plates.md
#pragma once

#include <cstdint>
#include <vector>

#include "count/estimate.h"

namespace barm::count {

struct LikelyPlates {
  std::vector<double> amount_ml{};  // of sample on each counted plate
  std::vector<std::int64_t> colonies{};
  std::vector<double> crowded_ml{};           // on each plate too crowded to count
  std::vector<std::int64_t> crowded_above{};  // colonies it surely has more than
};
struct LikelyCount {
  double per_ml = unset;                   // unset where every plate is crowded
  double low_95 = unset, high_95 = unset;  // likelihood ratio; one-sided where nothing grew or every plate is crowded
  double ln_standard_error = unset;        // from the curvature at the estimate
};

/// Maximum likelihood (S12: Haas, Rose & Gerba 2014, ch. 6): each count Poisson, each crowded plate the Poisson chance
/// of more than its limit. Without crowded plates it is all colonies over all sample. Range: 1 to 1000 plates, 1e-12 to
/// 100 mL, up to 1e6 colonies. Left out: clumps and spreaders. Doubts: crowded plates that the counted ones make next
/// to impossible (chance below 1e-6 at the estimate). Refuses: no plate, lists of unequal length, what is outside its
/// range. Fields of the remarks: "amount[i]", "colonies[i]", "crowded[i]", "crowded_above[i]".
Answer<LikelyCount> count_plates_likely(const LikelyPlates& in);

}  // namespace barm::count
