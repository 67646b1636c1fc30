// Cells or protozoa per mL from what was seen in fields or chamber squares. Model and sources: docs/count/slide.md
#pragma once

#include <cstdint>
#include <vector>

#include "count/estimate.h"

namespace barm::count {

struct Slide {
  std::vector<std::int64_t> counted{};  // in each field or square, all of one size
  double square_volume_ml = unset;      // over one square of a chamber; or the four below
  double field_area_m2 = unset;         // or
  double field_diameter_m = unset;
  double covered_area_m2 = unset;  // over which the drop spreads
  double volume_l = unset;         // of the drop
  double dilution_factor = 1.0;    // volumes the sample was made up to, over its own
  double precision_share = 0.1;    // standard error wanted, over the count
};

enum class SlideInterval : std::uint8_t { poisson_exact, ln_student };

struct SlideCount {
  double per_ml = unset, low_95 = unset, high_95 = unset;
  SlideInterval interval_method = SlideInterval::poisson_exact;
  double ln_standard_error = unset;  // unset when nothing was counted
  std::int64_t counted_count = 0;
  double dispersion_index = unset;  // unset with a single field or nothing counted
  double dispersion_probability = unset;
  double clumping_k = unset;            // of the negative binomial, by moments (S71); unset where nothing clumps
  std::int64_t more_fields_count = -1;  // still to count for the precision wanted; -1: nothing counted yet
  Estimate estimate() const { return {per_ml, ln_standard_error}; }
};

/// Mean of the fields over the volume of one. Interval: exact Poisson limits (S69) while the fields spread as chance
/// has it, else t on the logarithm from their own spread. Range: 1 to 1000 fields, up to 1e6 cells each. Left out:
/// cells nobody can see, and an uneven drop counted only in its middle. Doubts: clumped fields (p < 0.05, S70), a
/// single field. Refuses: no size of the field, a field larger than the cover, what is outside its range. Fields of the
/// remarks: "counted[i]", "field_area", "field_diameter", "covered_area", "volume", "dilution_factor", "precision".
Answer<SlideCount> count_slide(const Slide& in);

}  // namespace barm::count
