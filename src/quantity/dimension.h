// What a number measures, and the one unit each measure has inside the program.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace barm {

enum class Dimension : std::uint8_t {
  number,         // plain number
  share,          // 0 to 1; people also write percent
  volume,         // L
  mass,           // g
  temperature,    // degC
  duration,       // h
  flow,           // L/h, of water or of free air
  pressure,       // kPa, absolute or gauge as the field says
  length,         // m
  area,           // m2
  concentration,  // mg/L; "ppm" in water is read as mg/L (1 kg/L)
  salinity,       // g/kg
  conductivity,   // mS/cm at 25 degC
  rate,           // 1/h
  power,          // W
  speed,          // m/s
  density,        // kg/m3
  coverage,       // L/ha, volume spread over an area
  cell_density,   // 1/mL
  angle,          // degree
};

/// The unit of a dimension inside the program, as printed ("mg/L"); empty for a plain number and for a share.
std::string_view unit_inside(Dimension dimension);

/// The name of a dimension as it stands in codes and keys ("cell_density"); never shown to people.
std::string_view dimension_key(Dimension dimension);

inline constexpr std::size_t dimension_count = static_cast<std::size_t>(Dimension::angle) + 1;

/// A number that knows what it measures, in the unit of `unit_inside`.
struct Quantity {
  double value = 0.0;
  Dimension dimension = Dimension::number;
  bool operator==(const Quantity&) const = default;
};

}  // namespace barm
