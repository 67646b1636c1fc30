// Colonies on plates to a count, by the rule of a standard. Rules and sources: docs/count/plates.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "count/estimate.h"
#include "count/tables.h"

namespace barm::count {

enum class PlatesLimits : std::uint8_t {
  by_test,    // as chance has it, unless the plates differ more than that
  by_spread,  // always from the spread of the plates: for samples known to clump, since few plates seldom show it
};
struct Plates {
  std::vector<double> dilution{};        // of each counted plate: 0.01 for one part in a hundred
  std::vector<std::int64_t> colonies{};  // on it
  std::vector<double> too_many{};        // dilutions of plates too crowded to count
  std::vector<double> spreaders{};       // dilutions of plates spoiled by spreaders: left out, and said so
  double volume_ml = 1.0;                // on each plate
  PlatesLimits limits = PlatesLimits::by_test;
};
enum class PlatesKind : std::uint8_t { countable, estimated, below, above };
enum class PlatesInterval : std::uint8_t {
  poisson_exact,  // S69, of the colonies used
  ln_student,     // t on the logarithm, from the plates' own spread, never less than chance's
};

struct PlateCount {
  double per_ml = unset;  // weighted mean of the plates used (S11, S13); unset when every plate is too crowded
  double low_95 = unset, high_95 = unset;
  PlatesInterval interval_method = PlatesInterval::poisson_exact;
  double ln_standard_error = unset;
  PlatesKind kind = PlatesKind::countable;
  double reported_per_ml = unset;  // two significant digits, by the standard's rounding
  std::int64_t plates_used_count = 0, colonies_used_count = 0, spreaders_count = 0;
  double dispersion_index = unset, dispersion_probability = unset;  // of the plates used (S70)
  Estimate estimate() const { return {per_ml, ln_standard_error}; }
};

/// Two significant digits. `five_to_even` (S11): a third digit of 5 goes to the even second digit, whatever follows it.
double two_significant(double value, Rounding rounding);

/// Weighted mean of the dilutions with a countable plate; where there is none, an estimate (all too crowded, or few but
/// enough), or "less than". Range: 1 to 1000 plates, dilution 1e-12 to 1, volume up to 100 mL. Left out: colonies grown
/// from clumps, cells that do not grow on the plate. Doubts: no countable plate, plates that differ more than chance
/// (p < 0.05), spoiled plates, limits asked of a spread that one plate or no colony cannot show. Refuses: no plate,
/// lists of unequal length, what is outside its range. Fields of the remarks: "dilution[i]", "colonies[i]",
/// "too_many[i]", "spreaders[i]", "volume".
Answer<PlateCount> count_plates(const Plates& in, const PlateRule& rule);

}  // namespace barm::count
