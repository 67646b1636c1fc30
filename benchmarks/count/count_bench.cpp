// How fast tubes are worked out. Aims: ten levels of ten tubes under 1 ms; all 1,331 outcomes of three levels of ten
// tubes, with limits, under 100 ms. Each answer is checked before it is timed.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "count/tubes.h"

namespace {

using barm::count::most_probable_number;
using barm::count::Tubes;

void must(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "wrong answer: %s\n", what);
  std::exit(1);
}

void ten_levels_of_ten_tubes(benchmark::State& state) {
  Tubes in;
  for (int level = 0; level < 10; ++level) {
    in.inoculum.push_back(std::pow(10.0, -level));
    in.tubes.push_back(10);
    in.positive.push_back(level < 4 ? 10 : level == 4 ? 6 : level == 5 ? 1 : 0);
  }
  // The estimate solves sum of p v / (1 - exp(-d v)) = sum of n v.
  const double density = most_probable_number(in)->per_unit;
  double left = 0.0, right = 0.0;
  for (std::size_t i = 0; i < in.inoculum.size(); ++i) {
    left += static_cast<double>(in.positive[i]) * in.inoculum[i] / -std::expm1(-density * in.inoculum[i]);
    right += 10.0 * in.inoculum[i];
  }
  must(std::abs(left / right - 1.0) < 1e-9, "ten levels of ten tubes");
  for (auto _ : state) benchmark::DoNotOptimize(most_probable_number(in));
}
BENCHMARK(ten_levels_of_ten_tubes)->Unit(benchmark::kMillisecond);

void all_outcomes_of_three_levels_of_ten_tubes(benchmark::State& state) {
  Tubes in{.inoculum = {0.1, 0.01, 0.001}, .tubes = {10, 10, 10}, .positive = {10, 5, 1}};
  must(std::isfinite(most_probable_number(in)->high_95), "10-5-1 has an upper limit");
  for (auto _ : state) {
    double sum = 0.0;
    for (std::int64_t a = 0; a <= 10; ++a)
      for (std::int64_t b = 0; b <= 10; ++b)
        for (std::int64_t c = 0; c <= 10; ++c) {
          in.positive = {a, b, c};
          const auto answer = most_probable_number(in);
          if (std::isfinite(answer->low_95)) sum += answer->low_95;
        }
    benchmark::DoNotOptimize(sum);
  }
}
BENCHMARK(all_outcomes_of_three_levels_of_ten_tubes)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
