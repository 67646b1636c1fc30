// Setups that the brew tests share, and random ones.
#pragma once

#include <cstdint>
#include <cmath>
#include <random>

#include "brew/priors.h"
#include "brew/setup.h"
#include "compost/kind.h"
#include "data/embedded.h"
#include "food/food.h"

namespace barm::test {

inline const brew::Priors& priors() {
  static const brew::Priors all = brew::Priors::read(data::file("model.toml"));
  return all;
}
inline const food::Library& foods() {
  static const food::Library all = food::Library::read(data::file("foods.toml"));
  return all;
}
inline const compost::Kinds& composts() {
  static const compost::Kinds all = compost::Kinds::read(data::file("composts.toml"));
  return all;
}
inline brew::FoodDose dose(const char* name, double mass_g, double at_h = 0.0) {
  return {.food = **foods().find(name), .mass_g = mass_g, .at_h = at_h};
}

/// The bucket whose figures stand in docs/brew/model.md, section 8.
inline brew::Setup bucket() {
  brew::Setup setup;
  setup.volume_l = 19.0;
  setup.diameter_m = 0.28;
  setup.water_temperature_c = 20.0;
  setup.room_temperature_c = 20.0;
  setup.air_flow_l_per_h = 1300.0;
  setup.kla20_per_h = 28.0;
  setup.kla20_spread_ln = 0.25;
  setup.length_h = 24.0;
  setup.composts = {{.kind = **composts().find("mixed"), .mass_g = 700.0}};
  setup.foods = {dose("blackstrap molasses", 70.0), dose("kelp meal", 8.0), dose("fish hydrolysate", 16.8)};
  return setup;
}

/// Any brew a grower might try, and some nobody should.
inline brew::Setup random_brew(std::uint64_t seed) {
  std::mt19937_64 draw(seed);
  const auto between = [&](double low, double high) { return std::uniform_real_distribution(low, high)(draw); };
  const auto spread = [&](double low, double high) { return std::exp(between(std::log(low), std::log(high))); };
  brew::Setup setup;
  setup.volume_l = spread(4.0, 2000.0);
  setup.diameter_m = 0.105 * std::cbrt(setup.volume_l) * between(0.8, 1.3);
  setup.water_temperature_c = between(6.0, 36.0);
  setup.room_temperature_c = between(0.0, 38.0);
  setup.room_humidity_share = between(0.2, 0.95);
  setup.pressure_kpa = between(70.0, 102.0);
  setup.air_flow_l_per_h = setup.volume_l * spread(3.0, 120.0);
  setup.kla20_per_h = spread(1.0, 80.0);
  setup.kla20_spread_ln = between(0.05, 0.5);
  setup.length_h = between(8.0, 36.0);
  const char* kinds[] = {"mixed", "bacterial", "fungal", "worm"};
  const int lots = std::uniform_int_distribution(1, 2)(draw);
  for (int i = 0; i < lots; ++i)
    setup.composts.push_back({.kind = **composts().find(kinds[std::uniform_int_distribution(0, 3)(draw)]),
                              .mass_g = setup.volume_l * between(3.0, 80.0),
                              .in_bag = draw() % 4 != 0});
  for (const food::Food& food : foods().foods())
    if (draw() % 3 == 0)
      setup.foods.push_back({.food = food,
                             .mass_g = setup.volume_l * spread(0.02, 8.0),
                             .at_h = draw() % 4 == 0 ? between(0.5, 20.0) : 0.0});
  if (draw() % 3 == 0)
    for (double hour = between(-1.0, 0.0); hour < 40.0; hour += 1.0)
      setup.room_steps.push_back({std::max(0.0, hour), between(-5.0, 40.0)});
  return setup;
}

}  // namespace barm::test
