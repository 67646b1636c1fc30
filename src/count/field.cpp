#include "count/field.h"

#include "count/checks.h"

namespace barm::count {
namespace {

constexpr double ml_per_l = 1000.0, l_per_m3 = 1000.0;
// Judged: eyepieces show 18 to 26.5 mm over the magnification of the objective, 4 times at least.
constexpr double widest_field_m = 7e-3;
constexpr double deepest_drop_m = 1e-3;  // judged: of counting cells; a cover lies a tenth of that above the slide

void doubt_odd_sizes(const Field& in, const char* field, Findings& findings) {
  const double width_m = std::sqrt(in.area_m2() * 4.0 / std::numbers::pi);
  const double depth_m = in.volume_l / l_per_m3 / in.covered_area_m2;
  if (width_m > widest_field_m)
    findings.doubt({.code = "count.slide.field_of_eyepiece",
                    .field = field,
                    .facts = {{"given", Quantity{width_m, Dimension::length}}}});
  if (depth_m > deepest_drop_m)
    findings.doubt({.code = "count.slide.drop_deep",
                    .field = "volume",
                    .facts = {{"given", Quantity{depth_m, Dimension::length}}}});
}

}  // namespace

double field_volume_ml(const Field& in, Findings& findings) {
  if (std::isfinite(in.square_volume_ml)) return in.square_volume_ml;
  const bool has_area = std::isfinite(in.field_area_m2), has_diameter = std::isfinite(in.field_diameter_m);
  if ((!has_area && !has_diameter) || !std::isfinite(in.covered_area_m2) || !std::isfinite(in.volume_l)) {
    findings.refuse({.code = "count.slide.geometry_missing", .field = "field_area"});
    return unset;
  }
  // Judged: a field is seen through a microscope, a cover is no larger than a hand, a drop no larger than a spoon.
  bool good = true;
  if (has_area)
    good = check("field_area", in.field_area_m2, {1e-12, 1e-3, false, Dimension::area}, findings);
  else
    good = check("field_diameter", in.field_diameter_m, {1e-6, 0.03, false, Dimension::length}, findings);
  good &= check("covered_area", in.covered_area_m2, {1e-8, 1e-2, false, Dimension::area}, findings);
  good &= check("volume", in.volume_l, {1e-9, 1e-2, false, Dimension::volume}, findings);
  if (!good) return unset;
  const double area_m2 = in.area_m2();
  const char* field = has_area ? "field_area" : "field_diameter";
  if (area_m2 > in.covered_area_m2) {
    findings.refuse({.code = "count.slide.field_larger_than_cover",
                     .field = field,
                     .facts = {{"given", Quantity{area_m2, Dimension::area}},
                               {"most", Quantity{in.covered_area_m2, Dimension::area}}}});
  }
  doubt_odd_sizes(in, field, findings);
  return area_m2 / in.covered_area_m2 * in.volume_l * ml_per_l;
}

}  // namespace barm::count
