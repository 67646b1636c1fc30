// How much of a sample one field of a microscope shows.
#pragma once

#include <cmath>
#include <numbers>

#include "quantity/answer.h"

namespace barm::count {

struct Field {
  double square_volume_ml = unset;  // over one square of a chamber, with
  double square_side_m = unset;     // or the four below
  double field_area_m2 = unset;     // or
  double field_diameter_m = unset;
  double covered_area_m2 = unset;  // over which the drop spreads
  double volume_l = unset;         // of the drop

  double area_m2() const {
    if (std::isfinite(square_volume_ml)) return square_side_m * square_side_m;
    return std::isfinite(field_area_m2) ? field_area_m2 : std::numbers::pi / 4.0 * field_diameter_m * field_diameter_m;
  }
  /// Mean way of a straight line across the field [m]: pi x area / outline (Crofton, from memory). Of a field known by
  /// its area alone: a round one, the longest there is.
  double mean_chord_m() const {
    if (std::isfinite(square_volume_ml)) return std::numbers::pi / 4.0 * square_side_m;
    return std::numbers::pi / 4.0 * std::sqrt(area_m2() * 4.0 / std::numbers::pi);
  }
};

/// Volume of sample seen in one field [mL]: its share of the drop. Source: geometry (S65). Range: field up to 10 cm2,
/// cover 0.01 mm2 to 100 cm2, drop 1 nL to 10 mL (judged). Refuses: no size of the field, a field larger than the
/// cover, what is outside its range. Doubts: a field as wide as the eyepiece shows, a drop deeper than 1 mm. Fields of
/// the remarks: "field_area", "field_diameter", "covered_area", "volume".
double field_volume_ml(const Field& in, Findings& findings);

}  // namespace barm::count
