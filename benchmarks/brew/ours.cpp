#include "benchmarks/brew/ours.h"

#include <chrono>

#include "brew/tea.h"

namespace barm::bench {
namespace {

brew::Stretch solve(brew::Members& members, const brew::Kernel& kernel, int thread_count,
                    const brew::Tolerance& tolerance) {
  const auto shared_out = [thread_count](int count, const std::function<void(int)>& job) {
    thread_count == 1 ? brew::one_after_the_other(count, job) : on_threads(thread_count, count, job);
  };
  return brew::run(members, 0.0, horizon_h, {}, output_hours(), shared_out, tolerance, kernel);
}

}  // namespace

std::vector<Path> by_barm(const brew::Members& members, int member_count, const brew::Kernel& kernel,
                          const brew::Tolerance& tolerance) {
  using namespace brew::tea;
  brew::Members moved = members;
  const brew::Stretch stretch = solve(moved, kernel, 1, tolerance);
  std::vector<Path> paths;
  for (int m = 0; m < member_count; ++m) {
    Path path(output_hours().size() * state_count);
    for (std::size_t i = 0; i < output_hours().size(); ++i) {
      double* at = path.data() + i * state_count;
      at[S_O] = stretch.of(m, i, oxygen);
      at[X_B] = stretch.of(m, i, bacteria);
      at[X_F] = stretch.of(m, i, fungi);
      at[X_P] = stretch.of(m, i, flagellates);
      at[X_C] = stretch.of(m, i, ciliates);
    }
    paths.push_back(std::move(path));
  }
  return paths;
}

double seconds_of(const brew::Members& members, const brew::Kernel& kernel, int thread_count,
                  const brew::Tolerance& tolerance) {
  brew::Members moved = members;
  const auto begun = std::chrono::steady_clock::now();
  solve(moved, kernel, thread_count, tolerance);
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
}

}  // namespace barm::bench
