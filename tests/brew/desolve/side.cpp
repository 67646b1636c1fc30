// The tea model as deSolve wants it: parameters first, then coefficients, in one array that R fills.
#include <cmath>
#include <cstring>
#include <utility>

#include "brew/process_matrix.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/plain_side.inc"
}  // namespace
}  // namespace barm::brew

using namespace barm::brew;

namespace {
constexpr int number_count = tea::parameter_count + static_cast<int>(tea::coefficients.size());
double numbers[number_count];
Brew brew() {
  return {.parameters = numbers, .coefficients = numbers + tea::parameter_count};
}
}  // namespace

extern "C" {
void tea_start(void (*take)(int*, double*)) {
  int count = number_count;
  take(&count, numbers);
}
void tea_derivative(int*, double*, double* y, double* dy, double*, int*) {
  derivative(brew(), y, dy);
}
void tea_jacobian(int*, double*, double* y, int*, int*, double* matrix, int* row_count, double*, int*) {
  std::memset(matrix, 0, sizeof(double) * static_cast<std::size_t>(*row_count) * tea::state_count);
  jacobian(brew(), y, [&](int row, int column) -> double& { return matrix[row + column * *row_count]; });
}
}
