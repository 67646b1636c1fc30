// Our solver on the bench.
#pragma once

#include "benchmarks/brew/members.h"
#include "brew/kernels.h"

namespace barm::bench {

/// Oxygen and biomass of the first `member_count` members at the output hours, in the places a path has them.
std::vector<Path> by_barm(const brew::Members& members, int member_count, const brew::Kernel& kernel,
                          const brew::Tolerance& tolerance = {});

/// Seconds to take copies of the members through the output hours.
double seconds_of(const brew::Members& members, const brew::Kernel& kernel, int thread_count,
                  const brew::Tolerance& tolerance = {});

/// Peak memory [MiB] of a process that takes so many members through the 145 output hours: keeping all that is seen, or
/// only bands.
enum class Keep { everything, bands };
double peak_mib(int member_count, Keep keep);

}  // namespace barm::bench
