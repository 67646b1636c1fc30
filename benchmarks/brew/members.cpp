#include "benchmarks/brew/members.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <thread>

#include "brew/brews.h"

namespace barm::bench {

const std::vector<double>& output_hours() {
  static const std::vector<double> hours = [] {
    std::vector<double> at_h;
    for (int i = 0; i <= 144; ++i) at_h.push_back(0.25 * i);
    return at_h;
  }();
  return hours;
}

brew::Members bucket_members(int count, std::uint64_t seed) {
  const brew::Setup setup = test::bucket();
  return brew::draw_members(setup, test::priors(), brew::Unknowns(setup, test::priors()), count, seed);
}

Distance distance(const std::vector<Path>& paths, const std::vector<Path>& reference) {
  using namespace brew::tea;
  static constexpr double unknown = std::numeric_limits<double>::infinity();
  if (paths.empty() || paths.size() != reference.size()) return {unknown, unknown};
  Distance worst;
  const auto further = [](double& most, double found) {
    most = std::max(most, std::isfinite(found) ? found : unknown);
  };
  for (std::size_t m = 0; m < paths.size(); ++m) {
    if (paths[m].size() != reference[m].size()) return {unknown, unknown};
    for (std::size_t i = S_O; i < paths[m].size(); i += state_count)
      further(worst.oxygen_mg_per_l, std::abs(paths[m][i] - reference[m][i]));
    for (const State life : {X_B, X_F, X_P, X_C}) {
      double peak = 0.0;
      for (std::size_t i = life; i < paths[m].size(); i += state_count) peak = std::max(peak, reference[m][i]);
      for (std::size_t i = life; i < paths[m].size(); i += state_count)
        further(worst.biomass_share,
                std::abs(paths[m][i] - reference[m][i]) / std::max({reference[m][i], 1.0, 0.01 * peak}));
    }
  }
  return worst;
}

void on_threads(int thread_count, int count, const std::function<void(int)>& job) {
  std::vector<std::thread> threads;
  for (int t = 0; t < thread_count; ++t)
    threads.emplace_back([&, t] {
      for (int m = t; m < count; m += thread_count) job(m);
    });
  for (std::thread& thread : threads) thread.join();
}

}  // namespace barm::bench
