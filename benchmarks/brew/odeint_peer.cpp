#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <utility>

#include "benchmarks/brew/peers.h"
#include "brew/process_matrix.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/plain_side.inc"
}  // namespace
}  // namespace barm::brew

namespace barm::bench {

Path by_odeint(const brew::Members& members, int member, const Effort& effort) {
  using namespace brew;
  namespace odeint = boost::numeric::odeint;
  using Vector = boost::numeric::ublas::vector<double>;
  using Matrix = boost::numeric::ublas::matrix<double>;
  const auto m = static_cast<std::size_t>(member);
  const Brew brew{.parameters = members.parameters.data() + m * tea::parameter_count,
                  .coefficients = members.coefficients.data() + m * tea::coefficients.size()};
  const auto rates = [&](const Vector& y, Vector& dy, double) { derivative(brew, &y[0], &dy[0]); };
  const auto slopes = [&](const Vector& y, Matrix& slope, double, Vector& by_time) {
    slope.clear();
    by_time.clear();
    jacobian(brew, &y[0], [&](int row, int column) -> double& {
      return slope(static_cast<std::size_t>(row), static_cast<std::size_t>(column));
    });
  };
  Vector y(tea::state_count);
  for (std::size_t i = 0; i < tea::state_count; ++i) y[i] = members.states[m * tea::state_count + i];
  Path path;
  path.reserve(output_hours().size() * tea::state_count);
  // It knows one absolute tolerance for all states: that of oxygen.
  auto stepper = odeint::make_dense_output<odeint::rosenbrock4<double>>(
      tea::System::absolute[tea::S_O] * effort.absolute_scale, effort.relative);
  try {
    odeint::integrate_times(
        stepper, std::make_pair(rates, slopes), y, output_hours().begin(), output_hours().end(), 1e-3,
        [&](const Vector& at, double) { path.insert(path.end(), at.begin(), at.end()); },
        odeint::max_step_checker(100000));
  } catch (const std::exception&) {
    path.assign(output_hours().size() * tea::state_count, std::nan(""));
  }
  return path;
}

}  // namespace barm::bench
