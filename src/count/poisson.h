// Colonies and cells that fall where they may: exact limits, and whether replicates spread as chance lets them.
#pragma once

#include <cstdint>
#include <span>

#include "count/estimate.h"
#include "quantity/text.h"

namespace barm::count {

/// Exact 95 % limits of the mean of a Poisson count (Garwood 1936, S69).
Range poisson_95(std::int64_t counted);

/// The values between which 2.5 % lies outside on either side of a t distribution.
double student_95(std::int64_t degrees_of_freedom);

struct Part {  // what was counted in one piece
  double counted = 0;
  double amount = 1.0;  // its size, in any unit
};
struct Dispersion {
  double index = unset;        // chi-square over its degrees of freedom: 1 as chance has it, more for clumps
  double probability = unset;  // that chance alone spreads at least so much
};
/// Fisher's index of dispersion (S70), for pieces of any size. Unset with fewer than two pieces or nothing counted.
Dispersion dispersion(std::span<const Part> parts);

}  // namespace barm::count
