#include "quantity/dimension.h"

namespace barm {

std::string_view unit_inside(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "";
    case Dimension::share:
      return "";
    case Dimension::volume:
      return "L";
    case Dimension::mass:
      return "g";
    case Dimension::temperature:
      return "°C";
    case Dimension::duration:
      return "h";
    case Dimension::flow:
      return "L/h";
    case Dimension::pressure:
      return "kPa";
    case Dimension::length:
      return "m";
    case Dimension::area:
      return "m2";
    case Dimension::concentration:
      return "mg/L";
    case Dimension::salinity:
      return "g/kg";
    case Dimension::conductivity:
      return "mS/cm";
    case Dimension::rate:
      return "1/h";
    case Dimension::power:
      return "W";
    case Dimension::speed:
      return "m/s";
    case Dimension::density:
      return "kg/m3";
    case Dimension::coverage:
      return "L/ha";
    case Dimension::cell_density:
      return "1/mL";
    case Dimension::angle:
      return "°";
  }
  return "";
}

std::string_view dimension_key(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "number";
    case Dimension::share:
      return "share";
    case Dimension::volume:
      return "volume";
    case Dimension::mass:
      return "mass";
    case Dimension::temperature:
      return "temperature";
    case Dimension::duration:
      return "duration";
    case Dimension::flow:
      return "flow";
    case Dimension::pressure:
      return "pressure";
    case Dimension::length:
      return "length";
    case Dimension::area:
      return "area";
    case Dimension::concentration:
      return "concentration";
    case Dimension::salinity:
      return "salinity";
    case Dimension::conductivity:
      return "conductivity";
    case Dimension::rate:
      return "rate";
    case Dimension::power:
      return "power";
    case Dimension::speed:
      return "speed";
    case Dimension::density:
      return "density";
    case Dimension::coverage:
      return "coverage";
    case Dimension::cell_density:
      return "cell_density";
    case Dimension::angle:
      return "angle";
  }
  return "";
}

}  // namespace barm
