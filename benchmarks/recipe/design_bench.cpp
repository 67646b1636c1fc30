// Brews tried out by the second while a brew is designed: best and two alternatives, a bucket, one compost, five foods.
// Built twice, over our solver and over CVODE. The design is checked before it is timed: planned again it must promise
// the same, and keep the line for oxygen.
#include <benchmark/benchmark.h>

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <thread>
#include <vector>

#include "brew/kernels.h"
#include "data/embedded.h"
#include "recipe/design.h"

namespace {

using namespace barm;

const recipe::Knowledge& shipped() {
  static const recipe::Knowledge knowledge{.foods = food::Library::read(data::file("foods.toml")),
                                           .composts = compost::Kinds::read(data::file("composts.toml")),
                                           .priors = brew::Priors::read(data::file("model.toml")),
                                           .instruments = brew::Instruments::read(data::file("instruments.toml"))};
  return knowledge;
}

recipe::DesignAsk bucket(int members_count) {
  recipe::DesignAsk ask;
  ask.purpose = recipe::Purpose::balanced;
  ask.place = {.latitude_deg = 52.2, .longitude_deg = -1.5};
  ask.volume_l = 19.0;
  ask.vessels = {{.name = "bucket", .capacity_l = 22.0, .diameter_m = 0.28}};
  ask.water_temperature_c = ask.room_temperature_c = 21.0;
  ask.disinfectant_is_known = true;
  ask.air.rated_flow_l_per_h = 2160.0;
  ask.air.maximum_pressure_kpa = 25.0;
  recipe::CompostLot lot;
  lot.kind = "mixed";
  lot.stock_g = 900.0;
  ask.composts = {lot};
  for (const char* name : {"blackstrap molasses", "kelp meal", "fish hydrolysate", "oat flour", "humic acid"}) {
    recipe::ShelfFood food;
    food.name = name;
    food.stock = {{700.0, Dimension::mass}};
    ask.foods.push_back(food);
  }
  ask.start_from_at = 1'778'846'400'000;
  ask.members_count = members_count;
  return ask;
}

void must(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "wrong: %s\n", what);
  std::exit(1);
}

/// On so many threads, made anew at each call as barm's own are.
brew::Parallel on_threads(int thread_count) {
  if (thread_count == 1) return brew::one_after_the_other;
  return [=](int count, const std::function<void(int)>& job) {
    std::atomic<int> next{0};
    const auto work = [&] {
      for (int i = next++; i < count; i = next++) job(i);
    };
    std::vector<std::thread> others;
    for (int i = 1; i < std::min(thread_count, count); ++i) others.emplace_back(work);
    work();
    for (std::thread& other : others) other.join();
  };
}

void a_design(benchmark::State& state) {
  const recipe::DesignAsk ask = bucket(static_cast<int>(state.range(0)));
  const recipe::DesignHelp help{
      .parallel = on_threads(static_cast<int>(state.range(1))), .progress = {}, .should_stop = {}};
  int tried_count = 0;
  for (auto _ : state) {
    const auto designed = recipe::design_brew(ask, shipped(), help);
    state.PauseTiming();
    must(designed.ok(), "a design is found");
    must(designed->designs.size() == 3, "and two alternatives");
    for (const recipe::Design& one : designed->designs) {
      const auto again = recipe::plan_brew(one.plan.ask, shipped());
      must(again.ok() && again->forecast.oxygen_mg_per_l.p05 == one.plan.forecast.oxygen_mg_per_l.p05,
           "planned again it promises the same");
      must(again->forecast.probability_oxygen_stays_above_6 >= ask.tolerance, "it keeps the line for oxygen");
    }
    tried_count = designed->tried_count;
    state.ResumeTiming();
  }
  state.SetLabel(std::string(brew::fastest_kernel().name));
  state.counters["tried"] = tried_count;
  state.counters["tried_per_s"] = benchmark::Counter(
      static_cast<double>(tried_count) * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(a_design)
    ->ArgNames({"members", "threads"})
    ->Args({256, 1})
    ->Args({256, 2})
    ->Args({64, 1})
    ->UseRealTime()
    ->Unit(benchmark::kSecond);

}  // namespace

BENCHMARK_MAIN();
