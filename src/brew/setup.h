// One brew as the model sees it: what goes in, what it stands in, and what will happen to it when.
#pragma once

#include <cstdint>
#include <vector>

#include "compost/kind.h"
#include "food/food.h"
#include "quantity/answer.h"

namespace barm::brew {

/// What the brew is for. It decides what "ready" means (docs/brew/ready.md), not what grows.
enum class Aim : std::uint8_t { bacterial, fungal, balanced };

struct CompostLoad {
  compost::Kind kind;
  double mass_g = unset;  // moist
  bool in_bag = true;     // loose compost stays in suspension and gives up more
};
struct FoodDose {
  food::Food food;
  double mass_g = unset;
  double at_h = 0.0;  // hours since air on
};

/// Something done while the brew runs: how air and bag stand from then on.
struct Act {
  double at_h = 0.0;
  bool air_is_on = true;
  bool bag_is_in = true;
};

inline constexpr double room_coldest_c = -10.0, room_warmest_c = 45.0;  // judged: where people brew

/// How warm the room is from this hour on, until the next.
struct RoomStep {
  double from_h = 0.0;  // hours since air on
  double temperature_c = unset;
};

struct Setup {
  Aim aim = Aim::balanced;
  double volume_l = unset;
  double diameter_m = unset;
  double water_temperature_c = unset;
  double room_temperature_c = unset;
  double room_humidity_share = 0.5;      // of air at that temperature; its moisture stays when the room cools
  std::vector<RoomStep> room_steps;      // in order; before the first, the temperature above
  double pressure_kpa = 101.325;         // at the site
  double oxygen_start_mg_per_l = unset;  // unset: 0.95 of saturation, as bubbled water has
  double air_flow_l_per_h = unset;       // free air that reaches the water
  double kla20_per_h = unset;            // clean water, 20 degC
  double kla20_spread_ln = unset;        // standard deviation of its logarithm
  std::vector<CompostLoad> composts;
  std::vector<FoodDose> foods;
  std::vector<Act> acts;   // in order; before the first, the air runs and the bag is in
  double length_h = 20.0;  // air on to air off; the bag stays in as long
  double horizon_h = 0.0;  // how far to look; 0: length + 12 h, at least 36 h, so that the window shows
};

}  // namespace barm::brew
