// What an air pump delivers at the bottom of a tank, through its line and diffuser. Model: docs/air/pump.md
#pragma once

#include <cstdint>

#include "quantity/answer.h"

namespace barm::air {

enum class Diffuser : std::uint8_t { stone, fine, open_tube };

struct Supply {                          // what the grower owns
  double rated_flow_l_per_h = unset;     // free air, as printed on the pump
  double maximum_pressure_kpa = unset;   // gauge, at which it delivers nothing; unset: a usual diaphragm pump is assumed
  Diffuser diffuser = Diffuser::stone;
  double tube_length_m = 1.5;
  double tube_bore_mm = 4.0;
  double ageing_share = 0.9;             // of the rating that a used pump still gives
};

struct Vessel {
  double volume_l = unset;               // of the water, not of the tank
  double diameter_m = unset;
  double depth_m() const;                // of the water
};

struct Delivered {
  double flow_l_per_h = unset;           // free air that reaches the water
  double flow_low_l_per_h = unset;       // with a tired pump and a clogging diffuser
  double flow_high_l_per_h = unset;
  double vvm = unset;                    // volumes of air per volume of water per minute
  double back_pressure_kpa = unset;      // water + line + diffuser at this flow
  double water_head_kpa = unset;
  double line_loss_kpa = unset;          // Darcy-Weisbach
  double diffuser_loss_kpa = unset;
};

/// Where the pump's curve meets the resistance of water, line and diffuser. Refuses a pump that cannot push air to that
/// depth at all, and sizes outside what the model knows (depth over 3 m, flow under 1 L/h).
Answer<Delivered> deliver(const Supply& supply, const Vessel& vessel, double water_temperature_c, double air_pressure_kpa);

}  // namespace barm::air
