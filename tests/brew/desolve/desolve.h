// Integrators of R's deSolve on a compiled right-hand side and Jacobian: another opinion for tests and benchmarks, in a
// process of its own. Never linked into barm.
#pragma once

#include <string>
#include <vector>

#include "brew/run.h"

namespace barm::test {

struct DesolveTask {
  std::string method = "lsoda";  // also "radau", "bdf", as deSolve names them
  double relative = 1e-6;
  double absolute_scale = 1.0;  // times tea::System::absolute
  std::vector<double> at_h = {};
  int member_count = 1;  // of the first
};

struct DesolveRun {
  std::vector<std::vector<double>> paths;  // [member]([at][tea::state_count]); empty when R could not do it
  double seconds = 0.0;                    // of its loop over the members, starting R left out
};

/// Brews without later food or acts.
DesolveRun by_desolve(const brew::Members& members, const DesolveTask& task);

}  // namespace barm::test
