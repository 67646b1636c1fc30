#include "count/slide.h"

#include "count/checks.h"
#include "count/field.h"
#include "count/poisson.h"

namespace barm::count {
namespace {

constexpr double improbable = 0.05;  // judged: the usual level

}  // namespace

Answer<SlideCount> count_slide(const Slide& in) {
  Findings findings;
  check_not_empty("counted", in.counted.size(), findings);
  check_each<std::int64_t>("counted", in.counted, {.least = 0, .most = 1e6}, findings);
  check("dilution_factor", in.dilution_factor, {.least = 1.0, .most = 1e12}, findings);
  check("precision", in.precision_share, {0.001, 1.0, true, Dimension::share}, findings);
  const double volume_ml = field_volume_ml({.square_volume_ml = in.square_volume_ml,
                                            .field_area_m2 = in.field_area_m2,
                                            .field_diameter_m = in.field_diameter_m,
                                            .covered_area_m2 = in.covered_area_m2,
                                            .volume_l = in.volume_l},
                                           findings);
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
  doubt_more_than_fits("counted", out.per_ml, findings);
  if (in.counted.size() == 1) findings.doubt({.code = "count.slide.one_field", .field = "counted"});
  return std::move(findings).answer(out);
}

}  // namespace barm::count
