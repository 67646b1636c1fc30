#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <cmath>
#include <stdexcept>
#include <utility>

#include "benchmarks/brew/peers.h"
#include "brew/process_matrix.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/plain_side.inc"

int cvode_derivative(realtype, N_Vector y, N_Vector dy, void* brew) {
  derivative(*static_cast<const Brew*>(brew), NV_DATA_S(y), NV_DATA_S(dy));
  return 0;
}
int cvode_jacobian(realtype, N_Vector y, N_Vector, SUNMatrix matrix, void* brew, N_Vector, N_Vector, N_Vector) {
  jacobian(*static_cast<const Brew*>(brew), NV_DATA_S(y),
           [&](int row, int column) -> double& { return SM_ELEMENT_D(matrix, row, column); });
  return 0;
}
void must(int status) {
  if (status < 0) throw std::runtime_error("CVODE gave up");
}

}  // namespace
}  // namespace barm::brew

namespace barm::bench {

Path by_cvode(const brew::Members& members, int member, const Effort& effort) {
  using namespace brew;
  const auto m = static_cast<std::size_t>(member);
  Brew brew{.parameters = members.parameters.data() + m * tea::parameter_count,
            .coefficients = members.coefficients.data() + m * tea::coefficients.size()};
  sundials::Context context;
  N_Vector y = N_VNew_Serial(tea::state_count, context), absolute = N_VNew_Serial(tea::state_count, context);
  for (int i = 0; i < tea::state_count; ++i) {
    NV_Ith_S(y, i) = members.states[m * tea::state_count + static_cast<std::size_t>(i)];
    NV_Ith_S(absolute, i) = tea::System::absolute[static_cast<std::size_t>(i)] * effort.absolute_scale;
  }
  void* solver = CVodeCreate(CV_BDF, context);
  SUNMatrix matrix = SUNDenseMatrix(tea::state_count, tea::state_count, context);
  SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
  must(CVodeInit(solver, cvode_derivative, 0.0, y));
  must(CVodeSVtolerances(solver, effort.relative, absolute));
  must(CVodeSetUserData(solver, &brew));
  must(CVodeSetLinearSolver(solver, linear, matrix));
  must(CVodeSetJacFn(solver, cvode_jacobian));
  must(CVodeSetMaxNumSteps(solver, 1000000));
  Path path;
  path.reserve(output_hours().size() * tea::state_count);
  double t = 0.0;
  bool fine = true;
  for (const double at_h : output_hours()) {
    fine = fine && (at_h <= t || CVode(solver, at_h, y, &t, CV_NORMAL) >= 0);
    for (int i = 0; i < tea::state_count; ++i) path.push_back(fine ? NV_Ith_S(y, i) : std::nan(""));
  }
  CVodeFree(&solver);
  SUNLinSolFree(linear);
  SUNMatDestroy(matrix);
  N_VDestroy(y);
  N_VDestroy(absolute);
  return path;
}

}  // namespace barm::bench
