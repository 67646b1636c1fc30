// The forecast's solver beside general integrators: same members, same outputs, same accuracy, one run. First every
// solver shows that its answers hold to the rule; only then is it timed. What came out: docs/brew/speed.md
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "benchmarks/brew/counted.h"
#include "benchmarks/brew/fma_peak.h"
#include "benchmarks/brew/members.h"
#include "benchmarks/brew/ours.h"
#include "benchmarks/brew/peers.h"
#include "brew/brews.h"
#include "brew/desolve/desolve.h"
#include "brew/ensemble.h"
#include "brew/synthetic.h"

namespace barm::bench {
namespace {

constexpr int member_count = 2000, repeat_count = 5;

double seconds_of_call(const std::function<void()>& call) {
  const auto begun = std::chrono::steady_clock::now();
  call();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
}

struct Bench {
  brew::Members members = bucket_members(member_count, 1);
  std::vector<Path> reference = std::vector<Path>(member_count);

  Bench() {
    on_threads(2, member_count, [&](int m) {
      reference[static_cast<std::size_t>(m)] = by_cvode(members, m, {.relative = 1e-10, .absolute_scale = 1e-7});
    });
  }
  std::vector<Path> first(std::size_t count) const {
    return {reference.begin(), reference.begin() + static_cast<long>(count)};
  }
};

/// A solver that takes an effort, as the bench sees it: paths of the first members, and the seconds they took.
struct Timed {
  std::vector<Path> paths;
  double seconds = 0.0;
};
using Peer = std::function<Timed(int count, const Effort&, int threads)>;

Peer looped(Path (*one)(const brew::Members&, int, const Effort&), const brew::Members& members) {
  return [one, &members](int count, const Effort& effort, int threads) {
    Timed timed{.paths = std::vector<Path>(static_cast<std::size_t>(count))};
    timed.seconds = seconds_of_call([&] {
      on_threads(threads, count, [&](int m) { timed.paths[static_cast<std::size_t>(m)] = one(members, m, effort); });
    });
    return timed;
  };
}

/// The cheapest effort whose answers hold to the rule on every member: tried on a tenth first, cheapest first.
std::optional<Effort> cheapest_effort(const Bench& bench, const char* name, const Peer& peer) {
  constexpr int few = 200;
  std::vector<std::pair<double, Effort>> promising;
  for (const double relative : {1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6})
    for (const double scale : {1.0, 0.1, 0.01, 0.001}) {
      const Effort effort{.relative = relative, .absolute_scale = scale};
      const Timed timed = peer(few, effort, 1);
      if (timed.paths.size() == few && distance(timed.paths, bench.first(few)).passes())
        promising.emplace_back(timed.seconds, effort);
    }
  std::sort(promising.begin(), promising.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [seconds, effort] : promising) {
    const Distance found = distance(peer(member_count, effort, 2).paths, bench.reference);
    std::fprintf(stderr, "%s: relative %g, absolute x %g: %.4f mg/L, %.3f %%%s\n", name, effort.relative,
                 effort.absolute_scale, found.oxygen_mg_per_l, 100.0 * found.biomass_share,
                 found.passes() ? "" : ", fails");
    if (found.passes()) return effort;
  }
  return std::nullopt;
}

void tell(benchmark::State& state, double members) {
  state.counters["members_per_s"] = benchmark::Counter(members, benchmark::Counter::kIsIterationInvariantRate);
}
void tell(benchmark::State& state, double members, const Distance& found) {
  tell(state, members);
  state.counters["worst_oxygen_mg_per_l"] = found.oxygen_mg_per_l;
  state.counters["worst_biomass_share"] = found.biomass_share;
}

benchmark::internal::Benchmark* add(const std::string& name, std::function<void(benchmark::State&)> body) {
  return benchmark::RegisterBenchmark(name.c_str(), [body](benchmark::State& state) { body(state); })
      ->Repetitions(repeat_count)
      ->ReportAggregatesOnly(true)
      ->UseManualTime()
      ->Unit(benchmark::kMillisecond);
}

/// As for the peers: the cheapest effort that holds to the rule on these members. What ships tries harder, since it
/// must hold on any plan.
brew::Tolerance cheapest_tolerance(const Bench& bench, const brew::Kernel& kernel) {
  brew::Tolerance cheapest;
  double least_s = seconds_of(bench.members, kernel, 1);
  for (const double relative : {3e-4, 1e-4, 3e-5})
    for (const double scale : {10.0, 1.0, 0.1})
      for (const double largest_step_h : {0.75, 1.0}) {
        const brew::Tolerance tried{.relative = relative, .absolute_scale = scale, .largest_step_h = largest_step_h};
        const double took_s = seconds_of(bench.members, kernel, 1, tried);
        if (took_s < least_s &&
            distance(by_barm(bench.members, member_count, kernel, tried), bench.reference).passes()) {
          cheapest = tried;
          least_s = took_s;
        }
      }
  return cheapest;
}

void add_ours(const Bench& bench) {
  for (const brew::Kernel& kernel : brew::kernels()) {
    if (!kernel.runs_here()) continue;
    const Distance found = distance(by_barm(bench.members, member_count, kernel), bench.reference);
    for (const int threads : {1, 2})
      add("solver/" + std::string(kernel.name) + "/threads:" + std::to_string(threads),
          [&, found, threads](auto& state) {
            if (!found.passes()) return state.SkipWithError("outside the rule");
            for (auto _ : state) state.SetIterationTime(seconds_of(bench.members, kernel, threads));
            tell(state, member_count, found);
          });
  }
  const brew::Kernel& kernel = brew::fastest_kernel();
  const brew::Tolerance cheapest = cheapest_tolerance(bench, kernel);
  const Distance found = distance(by_barm(bench.members, member_count, kernel, cheapest), bench.reference);
  for (const int threads : {1, 2})
    add("solver_cheapest/" + std::string(kernel.name) + "/threads:" + std::to_string(threads),
        [=, &bench, &kernel](auto& state) {
          for (auto _ : state) state.SetIterationTime(seconds_of(bench.members, kernel, threads, cheapest));
          tell(state, member_count, found);
          state.counters["relative"] = cheapest.relative;
          state.counters["absolute_scale"] = cheapest.absolute_scale;
          state.counters["largest_step_h"] = cheapest.largest_step_h;
        });
}

void add_peer(const Bench& bench, const char* name, const Peer& peer, std::vector<int> threads, int count) {
  const auto effort = cheapest_effort(bench, name, peer);
  for (const int thread_count : threads)
    add(std::string("peer/") + name + "/threads:" + std::to_string(thread_count), [=, &bench](auto& state) {
      if (!effort) return state.SkipWithError("no effort tried holds to the rule");
      Timed timed;
      for (auto _ : state) {
        timed = peer(count, *effort, thread_count);
        state.SetIterationTime(timed.seconds);
      }
      tell(state, count, distance(timed.paths, bench.first(static_cast<std::size_t>(count))));
      state.counters["relative"] = effort->relative;
      state.counters["absolute_scale"] = effort->absolute_scale;
    })->Iterations(1);
}

/// The floor: the counted work done at the speed of nothing but multiply-and-add.
void add_floor(const Bench& bench) {
  const Work work = work_of(bench.members);
  for (const brew::Kernel& kernel : brew::kernels()) {
    if (!kernel.runs_here()) continue;
    add("floor/" + std::string(kernel.name), [&, work](auto& state) {
      double peak = 0.0;
      for (auto _ : state) {
        peak = peak_flops_per_s(kernel.name);
        state.SetIterationTime(static_cast<double>(work.flops) / peak);
      }
      tell(state, member_count);
      state.counters["peak_gflops"] = peak / 1e9;
      state.counters["flops_per_member"] = static_cast<double>(work.flops) / member_count;
      state.counters["rejected_per_member"] = static_cast<double>(work.rejected) / member_count;
      state.counters["steps_per_member"] = static_cast<double>(work.steps) / member_count;
    })->Iterations(1);
  }
}

void add_growth() {
  for (const int members : {64, 256, 1024, 4096, 16384, 65536})
    add("members:" + std::to_string(members), [members](auto& state) {
      for (auto _ : state)
        state.SetIterationTime(seconds_of_call([&] {
          benchmark::DoNotOptimize(brew::forecast(test::bucket(), test::priors(), {.members_count = members}).value());
        }));
      tell(state, members);
    });
  for (const double horizon : {12.0, 24.0, 48.0, 96.0})
    add("horizon_h:" + std::to_string(static_cast<int>(horizon)), [horizon](auto& state) {
      const brew::Members start = bucket_members(1024, 1);
      std::vector<double> at_h;
      for (double h = 0.0; h <= horizon; h += 0.25) at_h.push_back(h);
      for (auto _ : state) {
        brew::Members moved = start;
        state.SetIterationTime(seconds_of_call([&] { brew::run(moved, 0.0, horizon, {}, at_h); }));
      }
      tell(state, 1024);
    });
}

void add_whole() {
  add("forecast_of_256_with_bands", [](auto& state) {
    for (auto _ : state)
      state.SetIterationTime(seconds_of_call([] {
        benchmark::DoNotOptimize(brew::forecast(test::bucket(), test::priors(), {.members_count = 256}).value());
      }));
  });
  add("learn_from_40_readings", [](auto& state) {
    auto wanted = test::readings_at(brew::Measured::oxygen, {});
    for (int i = 1; i <= 40; ++i) wanted.push_back({.what = brew::Measured::oxygen, .at_h = 0.4 * i, .value = 1.0});
    const test::TrueBrew brew = test::true_brew(test::bucket(), wanted, 1);
    for (auto _ : state)
      state.SetIterationTime(seconds_of_call([&] {
        benchmark::DoNotOptimize(
            brew::learn(brew.setup, test::priors(), test::instruments(), {.readings = brew.readings, .acts = {}}, {}));
      }));
  });
}

void add_memory() {
  struct Case {
    const char* name;
    Keep keep;
    double mib;
  };
  for (const Case& one : {Case{"memory_of_65536/everything", Keep::everything, peak_mib(65536, Keep::everything)},
                          Case{"memory_of_65536/bands", Keep::bands, peak_mib(65536, Keep::bands)}})
    benchmark::RegisterBenchmark(one.name,
                                 [one](benchmark::State& state) {
                                   for (auto _ : state) state.SetIterationTime(1e-9);
                                   state.counters["peak_mib"] = one.mib;
                                 })
        ->UseManualTime()
        ->Iterations(1);
}

}  // namespace
}  // namespace barm::bench

int main(int count, char** words) {
  using namespace barm::bench;
  benchmark::Initialize(&count, words);
  add_memory();  // first: its children must not carry what the others need
  const Bench bench;
  add_ours(bench);
  add_peer(bench, "cvode", looped(by_cvode, bench.members), {1, 2}, member_count);
  const Peer lsoda = [&](int members, const Effort& effort, int) {
    barm::test::DesolveRun run = barm::test::by_desolve(bench.members, {.method = "lsoda",
                                                                        .relative = effort.relative,
                                                                        .absolute_scale = effort.absolute_scale,
                                                                        .at_h = output_hours(),
                                                                        .member_count = members});
    return Timed{.paths = std::move(run.paths), .seconds = run.seconds};
  };
  add_peer(bench, "lsoda", lsoda, {1}, member_count);
  add_peer(bench, "odeint_rosenbrock4", looped(by_odeint, bench.members), {1}, 400);
  add_floor(bench);
  add_growth();
  add_whole();
  benchmark::RunSpecifiedBenchmarks();
}
