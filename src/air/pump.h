// What an air pump delivers at the bottom of a tank, through its line and diffuser. Model: docs/air/pump.md
#pragma once

#include <cstdint>

#include "quantity/answer.h"

namespace barm::air {

enum class Diffuser : std::uint8_t { stone, fine, open_tube };

struct Supply {                       // what the grower owns
  double rated_flow_l_per_h = unset;  // free air, as printed on the pump; 1 to 1,000,000
  // Gauge, at which it delivers nothing; unset: a usual diaphragm pump of its size is assumed, with a doubt.
  double maximum_pressure_kpa = unset;
  Diffuser diffuser = Diffuser::stone;
  double tube_length_m = 1.5;  // of each line; 0: none
  double tube_bore_mm = 4.0;   // of each line
  int line_count = 0;          // lines side by side, each with its diffuser; 0: one for every 500 L/h of rating
  double ageing_share = 0.9;   // of the rating that a used pump still gives
};

/// Lines that lead down from the pump, each with its diffuser: as told, else one for every 500 L/h of rating.
int lines_count(const Supply& supply);

struct Vessel {
  double volume_l = unset;  // of the water, not of the tank
  double diameter_m = unset;
  double depth_m() const;  // of the water, in a vessel with upright walls
};

struct Delivered {
  double flow_l_per_h = unset;      // free air that reaches the water
  double flow_low_l_per_h = unset;  // with a tired pump and a clogging diffuser; 0 when that air no longer gets down
  double flow_high_l_per_h = unset;
  double vvm = unset;                // volumes of air per volume of water per minute
  double back_pressure_kpa = unset;  // water + line + diffuser at this flow
  double water_head_kpa = unset;
  double line_loss_kpa = unset;  // Darcy-Weisbach
  double diffuser_loss_kpa = unset;
};

/// Where the pump's curve meets the resistance of water, line and diffuser. Refuses a pump that cannot push air to that
/// depth at all, and sizes outside what the model knows (depth over 3 m, flow under 1 L/h). Doubts an assumed pressure.
Answer<Delivered> deliver(const Supply& supply, const Vessel& vessel, double water_temperature_c,
                          double air_pressure_kpa);

/// Pressure of the water over the diffuser at the bottom [kPa].
double water_head_kpa(const Vessel& vessel, double water_temperature_c);

/// The pressure [kPa] assumed of a diaphragm pump whose label does not say: 12 up to 200 L/h, 25 from 2000 L/h, between
/// by the logarithm of the rating. Source: judged.
double usual_maximum_pressure_kpa(double rated_flow_l_per_h);

/// Pressure lost along a line [kPa] by Darcy-Weisbach, for free air at `water_temperature_c` flowing at the density it
/// has above `gauge_pressure_kpa`. Source: memory (laminar 64/Re, turbulent Blasius; the larger of the two).
struct Line {
  double length_m = unset;
  double bore_mm = unset;
  double free_air_l_per_h = unset;
  double gauge_pressure_kpa = 0.0;
  double air_pressure_kpa = 101.325;
  double temperature_c = 20.0;
};
double line_loss_kpa(const Line& line);

}  // namespace barm::air
