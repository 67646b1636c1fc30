// Clearing water of free chlorine and chloramine before microbes meet it. Rates, doses and sources:
// docs/water/chlorine.md
#pragma once

#include <cstdint>
#include <vector>

#include "quantity/answer.h"

namespace barm::water {

enum class ClearingMethod : std::uint8_t {
  stand,
  bubble,
  carbon_filter,
  ascorbic_acid,
  sodium_ascorbate,
  sodium_thiosulfate,
  humic_acid
};

struct Disinfectant {                   // what a test or the supplier's report says is in the water
  double free_chlorine_mg_per_l = 0.0;  // as Cl2
  double chloramine_mg_per_l = 0.0;     // monochloramine, as Cl2
};

/// Tap water nobody has tested, at its worst usual: all of what United States mains may carry on a yearly average (4
/// mg/L, 40 CFR 141.65, from memory), as chloramine, the slower to clear. What clears it clears free chlorine as well.
/// The remark says so ("water.clear.untested") and belongs beside any plan made from it.
Disinfectant untested_tap_water();
Remark untested_tap_water_remark();

/// What one method does to this water. Waits are the cautious end of the published spread; the trade's own rule stands
/// beside, since the two disagree. Nothing here replaces a test strip.
struct Clearing {
  ClearingMethod method = ClearingMethod::stand;
  bool works = false;           // on all of what is in the water, within 72 h
  double dose_g = 0.0;          // of the chemical for the whole volume; 0 when the method takes none, or none is known
  double wait_low_h = unset;    // quickest published rate
  double wait_high_h = unset;   // slowest published rate: plan by this one; unset when nobody knows that it gets there
  double trade_wait_h = unset;  // common practice, no source; unset when the trade has no rule for this water
  Remarks notes = {};           // evidence, limits and cautions of the method
};

/// Every method, for a volume [L] of this water, down to `target_mg_per_l` of total chlorine (default 0.05, below what
/// a test strip shows). The first one that works is the one to recommend: standing or bubbling where a day is enough by
/// the slowest rate, else what acts at once. Doubts more chlorine than mains usually carry (4 mg/L). Refuses, all at
/// once: a volume of none or above 100,000 L; chlorine or chloramine below none or above 20 mg/L, which is no tap
/// water; a target outside 0.01 to 1 mg/L; not a number. Fields: "volume", "free_chlorine", "chloramine", "target".
Answer<std::vector<Clearing>> clear_water(double volume_l, const Disinfectant& in, double target_mg_per_l = 0.05);

/// Share of free chlorine that is hypochlorous acid, the form that kills [0 to 1]. Source: S25. Range: 0 to 30 degC.
double hocl_share(double temperature_c, double ph);

}  // namespace barm::water
