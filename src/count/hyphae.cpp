#include "count/hyphae.h"

#include <algorithm>
#include <numbers>

#include "count/checks.h"
#include "count/poisson.h"

namespace barm::count {
namespace {

constexpr double normal_95 = 1.959963984540054;

bool refuse_wrong(const Hyphae& in, Findings& findings) {
  const bool crosses = !in.intersections.empty();
  if (crosses != in.length_m.empty()) {
    findings.refuse({.code = crosses ? "count.hyphae.both_ways" : "count.hyphae.nothing", .field = "intersections"});
    return true;
  }
  check_each<std::int64_t>("intersections", in.intersections, {.least = 0, .most = 1e5}, findings);
  check_each<double>("lengths", in.length_m, {0.0, 1.0, true, Dimension::length}, findings);
  check("dilution_factor", in.dilution_factor, {.least = 1.0, .most = 1e12}, findings);
  if (!crosses) return findings.refused();
  const bool has_grid = std::isfinite(in.grid_m), has_lines = std::isfinite(in.line_m);
  if (has_grid == has_lines) findings.refuse({.code = "count.hyphae.lines_missing", .field = "grid"});
  if (has_grid) check("grid", in.grid_m, {1e-6, 1e-2, true, Dimension::length}, findings);  // judged
  if (has_lines) check("line", in.line_m, {1e-6, 1.0, true, Dimension::length}, findings);  // judged
  if (has_lines && !std::isfinite(in.field.area_m2()))
    findings.refuse({.code = "count.hyphae.area_missing", .field = "field_area"});
  return findings.refused();
}

/// Length in one field for one crossing [m].
double per_crossing_m(const Hyphae& in) {
  if (std::isfinite(in.grid_m)) return length_from_grid_m(1.0, in.grid_m);
  return length_from_lines_m(1.0, {.total_m = in.line_m, .area_m2 = in.field.area_m2()});
}

/// Length in one field that a thread tells, where none was seen [m]. Threads fall by chance, not crossings: a long one
/// crosses many lines at once, so its way across the field counts; a short one may lie between the lines.
double per_thread_m(const Hyphae& in) {
  const double chord_m = in.field.mean_chord_m();
  return in.intersections.empty() ? chord_m : std::max(chord_m, per_crossing_m(in));
}

double variance(const std::vector<double>& all, double mean) {
  double sum = 0.0;
  for (const double each : all) sum += (each - mean) * (each - mean);
  return sum / static_cast<double>(all.size() - 1);
}

}  // namespace

double length_from_grid_m(double intersections, double grid_m) {
  return 11.0 / 14.0 * intersections * grid_m;  // S64
}

double length_from_lines_m(double intersections, const RandomLines& lines) {
  return std::numbers::pi * intersections * lines.area_m2 / (2.0 * lines.total_m);  // S64
}

Answer<HyphaeCount> count_hyphae(const Hyphae& in) {
  Findings findings;
  if (refuse_wrong(in, findings)) return std::move(findings).refusal<HyphaeCount>();
  const double volume_ml = field_volume_ml(in.field, findings);
  if (findings.refused()) return std::move(findings).refusal<HyphaeCount>();

  HyphaeCount out;
  const bool crosses = !in.intersections.empty();
  std::vector<double> fields_m = in.length_m;
  for (const std::int64_t crossings : in.intersections) {
    out.intersections_count += crossings;
    fields_m.push_back(static_cast<double>(crossings) * per_crossing_m(in));
  }
  const double n = static_cast<double>(fields_m.size());
  out.fields_count = static_cast<std::int64_t>(fields_m.size());
  double mean_m = 0.0;
  for (const double each : fields_m) mean_m += each / n;
  const double per_field_m = in.dilution_factor / volume_ml;
  out.m_per_ml = mean_m * per_field_m;
  if (fields_m.size() == 1)
    findings.doubt({.code = "count.hyphae.one_field", .field = crosses ? "intersections" : "lengths"});
  if (mean_m == 0.0) {
    out.low_95 = 0.0;
    out.high_95 = poisson_95(0).high * per_thread_m(in) / n * per_field_m;
    out.interval_method = HyphaeInterval::poisson_exact;
    findings.doubt({.code = "count.hyphae.none_seen", .field = crosses ? "intersections" : "lengths"});
    return std::move(findings).answer(out);
  }
  double variance_ln = crosses ? 1.0 / static_cast<double>(out.intersections_count) : unset;
  if (fields_m.size() > 1) {
    out.degrees_of_freedom = out.fields_count - 1;
    const double of_fields = variance(fields_m, mean_m) / (n * mean_m * mean_m);
    variance_ln = crosses ? std::max(variance_ln, of_fields) : of_fields;
  }
  out.ln_standard_error = std::sqrt(variance_ln);
  if (std::isfinite(variance_ln))
    out.interval_method = out.degrees_of_freedom > 0 ? HyphaeInterval::ln_student : HyphaeInterval::ln_normal;
  const double t = out.degrees_of_freedom > 0 ? student_95(out.degrees_of_freedom) : normal_95;
  out.low_95 = out.m_per_ml * std::exp(-t * out.ln_standard_error);
  out.high_95 = out.m_per_ml * std::exp(t * out.ln_standard_error);
  return std::move(findings).answer(out);
}

}  // namespace barm::count
