// The members that every solver is given, and how far an answer may lie from the tight reference.
#pragma once

#include <functional>
#include <vector>

#include "brew/run.h"

namespace barm::bench {

inline constexpr double horizon_h = 36.0;

/// 145 output hours, every quarter of an hour.
const std::vector<double>& output_hours();

/// Members of the test bucket, drawn from the priors.
brew::Members bucket_members(int count, std::uint64_t seed);

/// States of one member at the output hours, [at][tea::state_count].
using Path = std::vector<double>;

/// How far paths lie from the reference: oxygen [mg/L]; biomass as a share of max(value, 1 mg/L, 1 % of its peak).
struct Distance {
  double oxygen_mg_per_l = 0.0;
  double biomass_share = 0.0;
  bool passes() const { return oxygen_mg_per_l < 0.05 && biomass_share < 0.005; }
};
Distance distance(const std::vector<Path>& paths, const std::vector<Path>& reference);

/// Does `job` for members 0 to count - 1 on so many threads.
void on_threads(int thread_count, int count, const std::function<void(int member)>& job);

}  // namespace barm::bench
