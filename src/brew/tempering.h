// Draws from what is known of some unknowns after something was observed: members drawn beforehand are taken to the
// observations in small steps, thinned and multiplied by how well they fit, and moved so that they do not clump.
// Knows nothing of brews. Method and its limits: docs/brew/learning.md
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace barm::brew {

/// Members seen against the observations.
struct Weighed {
  std::vector<double> log_likelihood;  // [member]
  std::vector<double> predicted;       // [member][observation], in units of the observation's error
};
/// Weighs members given by their scores, [member][unknown]; unknowns are independent standard normal beforehand.
using Weigh = std::function<Weighed(int member_count, std::span<const double> scores)>;

struct TemperOptions {
  int unknown_count = 0;
  int observation_count = 0;
  std::uint64_t seed = 1;
  double effective_share = 0.5;  // of the members, kept at each step; more: smaller steps, more work
  int moves_per_step = 4;        // pairs of moves; more: less clumping, more work
  int last_moves = 6;
};

struct Tempered {
  std::vector<double> scores;  // [member][unknown], all of equal weight
  Weighed weighed;
  int steps_count = 0;
  double log_evidence = 0.0;     // of the observations under what was known beforehand
  double effective_count = 0.0;  // members in effect: those that did not part since the last thinning count as one
  double moved_share = 0.0;      // of the moves of the last round
};

/// Same input, same answer. `scores`: members drawn beforehand, [member][unknown].
Tempered temper(std::vector<double> scores, const Weigh& weigh, const TemperOptions& options);

}  // namespace barm::brew
