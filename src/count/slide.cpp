#include "count/slide.h"

#include <numbers>

#include "count/checks.h"
#include "count/poisson.h"

namespace barm::count {
namespace {

constexpr double ml_per_l = 1000.0;
constexpr double improbable = 0.05;  // judged: the usual level

/// Volume of sample seen in one field [mL]; refuses where that is not known.
double field_volume_ml(const Slide& in, Findings& findings) {
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
  const double area_m2 =
      has_area ? in.field_area_m2 : std::numbers::pi / 4.0 * in.field_diameter_m * in.field_diameter_m;
  if (area_m2 > in.covered_area_m2) {
    findings.refuse({.code = "count.slide.field_larger_than_cover",
                     .field = has_area ? "field_area" : "field_diameter",
                     .facts = {{"given", Quantity{area_m2, Dimension::area}},
                               {"most", Quantity{in.covered_area_m2, Dimension::area}}}});
  }
  return area_m2 / in.covered_area_m2 * in.volume_l * ml_per_l;
}

}  // namespace

Answer<SlideCount> count_slide(const Slide& in) {
  Findings findings;
  check_not_empty("counted", in.counted.size(), findings);
  check_each<std::int64_t>("counted", in.counted, {.least = 0, .most = 1e6}, findings);
  check("dilution_factor", in.dilution_factor, {.least = 1.0, .most = 1e12}, findings);
  check("precision", in.precision_share, {0.001, 1.0, true, Dimension::share}, findings);
  const double volume_ml = field_volume_ml(in, findings);
  if (findings.refused()) return std::move(findings).refusal<SlideCount>();

  const double n = static_cast<double>(in.counted.size());
  std::vector<Part> parts;
  SlideCount out;
  for (const std::int64_t one : in.counted) {
    parts.push_back({.counted = static_cast<double>(one)});
    out.counted_count += one;
  }
  const double mean = static_cast<double>(out.counted_count) / n;
  const double per_cell = in.dilution_factor / volume_ml;
  const Dispersion spread = dispersion(parts);
  out.dispersion_index = spread.index;
  out.dispersion_probability = spread.probability;
  const bool is_clumped = spread.probability < improbable;
  out.per_ml = mean * per_cell;
  const Range limits = poisson_95(out.counted_count);
  out.low_95 = limits.low / n * per_cell;
  out.high_95 = limits.high / n * per_cell;
  if (out.counted_count > 0) {
    // Variance of a field over its mean: 1 by chance, the index where fields clump.
    const double variance_ratio = is_clumped ? spread.index : 1.0;
    if (spread.index > 1.0) out.clumping_k = mean / (spread.index - 1.0);  // S71: k = m^2 / (s^2 - m)
    out.ln_standard_error = std::sqrt(variance_ratio / (mean * n));
    const double wanted = std::ceil(variance_ratio / (mean * in.precision_share * in.precision_share));
    out.more_fields_count = static_cast<std::int64_t>(std::max(0.0, wanted - n));
    if (is_clumped) {
      const double reach = std::exp(student_95(static_cast<std::int64_t>(n) - 1) * out.ln_standard_error);
      out.interval_method = SlideInterval::ln_student;
      out.low_95 = out.per_ml / reach;
      out.high_95 = out.per_ml * reach;
      findings.doubt({.code = "count.slide.clumped",
                      .field = "counted",
                      .facts = {{"given", Quantity{spread.index, Dimension::number}}}});
    }
  }
  if (in.counted.size() == 1) findings.doubt({.code = "count.slide.one_field", .field = "counted"});
  return std::move(findings).answer(out);
}

}  // namespace barm::count
