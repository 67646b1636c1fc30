// Length of fungal threads per mL, from where they cross lines or from their lengths. Equations: docs/count/hyphae.md
#pragma once

#include <cstdint>
#include <vector>

#include "count/estimate.h"
#include "count/field.h"

namespace barm::count {

/// Length [m] of threads that cross the lines of a square grid `intersections` times. Source: S64 (Tennant):
/// 11/14 x crossings x spacing of the lines.
double length_from_grid_m(double intersections, double grid_m);

struct RandomLines {
  double total_m = unset;  // length of all lines laid
  double area_m2 = unset;  // over which threads and lines lie
};
/// The same for lines laid at random. Source: S64 (Newman): pi x crossings x area / (2 x length of lines).
double length_from_lines_m(double intersections, const RandomLines& lines);

struct Hyphae {  // one value a field: crossings of a grid or of lines, or lengths
  std::vector<std::int64_t> intersections{};
  double grid_m = unset;  // spacing of the grid's lines, as the slide lies, not as the eye sees it; or
  double line_m = unset;  // length of the lines laid at random in each field
  std::vector<double> length_m{};
  Field field{};
  double dilution_factor = 1.0;
};

enum class HyphaeInterval : std::uint8_t { none, poisson_exact, ln_normal, ln_student };

struct HyphaeCount {
  double m_per_ml = unset, low_95 = unset, high_95 = unset;
  HyphaeInterval interval_method = HyphaeInterval::none;
  double ln_standard_error = unset;     // of the length; unset where nothing was seen or one length alone is known
  std::int64_t degrees_of_freedom = 0;  // of the t that widens it; 0: normal, from a single field
  std::int64_t fields_count = 0, intersections_count = 0;
};

/// Mean length of the fields over the volume of one. Interval: t on the logarithm from the spread of the fields, never
/// narrower than chance alone (S70) leaves the crossings; a single field of crossings: normal on the logarithm; nothing
/// seen: 0 to the exact Poisson limit (S69) of no thread, each as long as its mean way across the field, and no shorter
/// than one crossing tells. Range: 1 to 1000 fields, 0 to 1e5 crossings
/// each, grid 1 um to 10 mm. Left out: threads too faint to see, and clumps that hide their crossings. Doubts: a single
/// field, none seen. Refuses: neither or both of crossings and lengths, neither or both of grid and lines, no size of
/// the field, what is outside its range. Fields of the remarks: "intersections", "grid", "line", "lengths", and
/// Field's.
Answer<HyphaeCount> count_hyphae(const Hyphae& in);

}  // namespace barm::count
