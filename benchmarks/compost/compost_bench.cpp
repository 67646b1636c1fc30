// How fast a year of one-minute readings at 12 positions is judged. Aim: under 100 ms. The answer is checked first.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "compost/heap.h"
#include "compost/heat_log.h"
#include "data/embedded.h"

namespace {

using namespace barm::compost;

/// Three weeks hot, then cool for the rest of the year; a ripple, so that no reading stands still.
HeatLog a_year() {
  HeatLog log;
  constexpr int minutes = 365 * 24 * 60;
  for (int place = 0; place < 12; ++place) {
    HeatPosition at{.name = "p" + std::to_string(place), .time_h = {}, .temperature_c = {}};
    for (int minute = 0; minute < minutes; ++minute) {
      const double day = minute / 1440.0;
      at.time_h.push_back(minute / 60.0);
      at.temperature_c.push_back(
          static_cast<float>((day < 21.0 ? 62.0 : 25.0) + 0.1 * place + 0.8 * std::sin(0.013 * minute)));
    }
    log.positions.push_back(std::move(at));
  }
  for (int turn = 1; turn <= 6; ++turn) log.turned_at_h.push_back(turn * 72.0);
  return log;
}

void a_year_of_minutes_at_twelve_positions(benchmark::State& state) {
  const auto rules = read_heat_rules(barm::data::file("heat_rules.toml"));
  const HeatLog log = a_year();
  const auto told = judge_heat(log, {.initial_cn = 30.0}, rules);
  if (!told.ok() || !told->asked.meets || std::abs(told->positions[0].held_h - 504.0) > 0.1) {
    std::fprintf(stderr, "wrong answer: the log holds 21 days\n");
    std::exit(1);
  }
  for (auto _ : state) benchmark::DoNotOptimize(judge_heat(log, {.initial_cn = 30.0}, rules));
}
BENCHMARK(a_year_of_minutes_at_twelve_positions)->Unit(benchmark::kMillisecond);

void a_month_of_a_pile_foretold(benchmark::State& state) {
  const auto figures = HeapFigures::read(barm::data::file("heap.toml"));
  for (auto _ : state) benchmark::DoNotOptimize(foretell_heap({.volume_m3 = 2.0, .air_c = 15.0}, figures));
}
BENCHMARK(a_month_of_a_pile_foretold)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
