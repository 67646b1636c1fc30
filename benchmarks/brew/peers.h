// General integrators given the same members, with an analytic Jacobian where they take one.
#pragma once

#include <string>
#include <vector>

#include "benchmarks/brew/members.h"

namespace barm::bench {

/// How hard a peer tries: relative tolerance, and the model's own absolute tolerances times a scale.
struct Effort {
  double relative = 1e-6;
  double absolute_scale = 1.0;
};

/// SUNDIALS CVODE, BDF, dense linear solver, analytic Jacobian.
Path by_cvode(const brew::Members& members, int member, const Effort& effort);

/// Boost.odeint, rosenbrock4 with dense output. (Its time-derivative coefficients carry a wrong sign, which costs it an
/// order where rates depend on time; here they do not.)
Path by_odeint(const brew::Members& members, int member, const Effort& effort);

}  // namespace barm::bench
