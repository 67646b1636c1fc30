// Writing quantities for people: a unit that suits the size, and no more digits than asked for.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "quantity/text.h"
#include "quantity/units.h"

namespace barm {
namespace {

using enum Dimension;

/// One step of a ladder: the unit is used from `from` of it upwards. The last rung of a ladder takes what is smaller.
struct Rung {
  Dimension dimension;
  std::string_view unit;
  double from = 0.0;
};

// Judged: units in which people say such sizes aloud.
constexpr auto metric_rungs = std::to_array<Rung>({
    {volume, "m3", 100000}, {volume, "L", 1}, {volume, "mL"},      {mass, "tonne", 10}, {mass, "kg", 1},
    {mass, "g", 1},         {mass, "mg"},     {temperature, "°C"}, {flow, "m3/h", 100}, {flow, "L/h"},
    {pressure, "kPa"},      {length, "m", 1}, {length, "cm", 1},   {length, "mm", 1},   {length, "µm"},
    {area, "ha", 1},        {area, "m2"},     {speed, "m/s"},      {density, "kg/m3"},  {coverage, "L/ha"},
});
constexpr auto us_rungs = std::to_array<Rung>({
    {volume, "US gal", 1}, {volume, "US qt", 1}, {volume, "cup", 0.25},     {volume, "tbsp", 1},
    {volume, "tsp"},       {mass, "lb", 1},      {mass, "oz", 0.1},         {mass, "g", 1},
    {mass, "mg"},          {temperature, "°F"},  {flow, "US gal/h"},        {pressure, "psi"},
    {length, "ft", 1},     {length, "in"},       {area, "acre", 1},         {area, "ft2"},
    {speed, "mph"},        {density, "lb/yd3"},  {coverage, "US gal/acre"},
});
constexpr auto shared_rungs = std::to_array<Rung>({
    {share, "%"},
    {concentration, "g/L", 1},
    {concentration, "mg/L", 0.001},
    {concentration, "µg/L"},
    {salinity, "g/kg"},
    {conductivity, "mS/cm", 0.1},
    {conductivity, "µS/cm"},
    {rate, "1/h"},
    {power, "kW", 10},
    {power, "W"},
    {cell_density, "1/mL"},
    {angle, "°"},
});

/// Rounded to so many significant digits.
double rounded_to(double value, int significant) {
  if (value == 0.0) return 0.0;
  std::array<char, 64> buffer{};
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                          std::chars_format::scientific, significant - 1);
  double out = value;
  if (error == std::errc()) std::from_chars(buffer.data(), end, out);
  return out;
}

std::string plain_digits(double value, int decimals) {
  std::array<char, 512> buffer{};
  const auto [end, error] =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
  expects(error == std::errc(), "a number of human size fits the buffer");
  std::string out(buffer.data(), end);
  if (out.find('.') != std::string::npos) {
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
  }
  return out == "-0" ? "0" : out;
}

std::string raised(int power) {
  constexpr auto figures = std::to_array<std::string_view>({"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"});
  std::string out = power < 0 ? "⁻" : "";
  for (const char c : std::to_string(std::abs(power))) out += figures[static_cast<std::size_t>(c - '0')];
  return out;
}

std::string digits_of(double value, int significant) {
  const double shown = rounded_to(value, significant);
  if (shown == 0.0) return "0";
  const int power = static_cast<int>(std::floor(std::log10(std::abs(shown)) + 1e-12));
  if (power >= 7 || power < -5) {  // beyond human size: 2 × 10⁸
    const double scaled = rounded_to(shown / std::pow(10.0, power), significant);
    if (!std::isfinite(scaled) || scaled == 0.0) return shown < 0.0 ? "-0" : "0";
    return plain_digits(scaled, significant - 1) + " × 10" + raised(power);
  }
  return plain_digits(shown, std::max(0, significant - 1 - power));
}

/// A garden that prints US measures but owns imperial gallons reads those.
std::string_view imperial_for(std::string_view unit) {
  if (unit == "US gal") return "imp gal";
  if (unit == "US qt") return "imp qt";
  if (unit == "US gal/h") return "imp gal/h";
  if (unit == "US gal/acre") return "imp gal/acre";
  return unit;
}

/// The rung a quantity is written on; null when the ladder has none of its dimension. Nothing is written in the unit
/// inside where the ladder has it.
const Unit* pick_unit(std::span<const Rung> ladder, const Quantity& quantity, int significant, bool imperial) {
  const Unit* last = nullptr;
  for (const Rung& rung : ladder) {
    if (rung.dimension != quantity.dimension) continue;
    const Unit& unit = unit_spelled(imperial ? imperial_for(rung.unit) : rung.unit, rung.dimension);
    if (quantity.value == 0.0 && unit.zero == 0.0) {
      if (!last || unit.spelling == unit_inside(quantity.dimension)) last = &unit;
      continue;
    }
    last = &unit;
    if (std::abs(rounded_to(from_inside(unit, quantity.value), significant)) >= rung.from) break;
  }
  return last;
}

std::string hours_and_minutes(long long minutes) {
  const long long hours = minutes / 60, rest = minutes % 60;
  std::string out = hours > 0 ? std::to_string(hours) + " h" : std::string();
  if (rest > 0 || hours == 0) out += (out.empty() ? "" : " ") + std::to_string(rest) + " min";
  return out;
}

/// Durations as people say them: seconds, minutes, "1 h 30 min", days from four days on. Three digits mean minutes up
/// to ten hours and ten minutes beyond; two digits mean ten minutes and hours.
std::string write_duration(double hours, int significant) {
  const double size = std::abs(hours);
  const std::string sign = hours < 0.0 ? "-" : "";
  const double minutes = size * 60.0;
  if (size == 0.0) return "0 min";
  if (std::round(minutes * 60.0) < 60.0) return sign + digits_of(size * 3600.0, significant) + " s";
  if (std::round(minutes) < 60.0) return sign + digits_of(minutes, significant) + " min";
  if (size >= 96.0) return sign + digits_of(size / 24.0, significant) + " d";
  const bool long_one = size >= 10.0;
  const double step = significant >= 4 ? 1.0 : significant == 3 ? (long_one ? 10.0 : 1.0) : (long_one ? 60.0 : 10.0);
  return sign + hours_and_minutes(std::llround(minutes / step) * static_cast<long long>(step));
}

std::string with_unit(const std::string& digits, std::string_view unit) {
  if (unit == "°") return digits + "°";
  if (unit == "US gal/h") return digits + " gph";
  if (unit == "imp gal/h") return digits + " imp gph";
  if (unit == "1/h") return digits + " /h";
  if (unit == "1/mL") return digits + " /mL";
  if (unit == "cup" && digits != "1" && !digits.starts_with("0.")) return digits + " cups";
  return digits + " " + std::string(unit);
}

}  // namespace

std::string write(Quantity quantity, const Customs& customs, int significant) {
  if (!std::isfinite(quantity.value)) return "unknown";
  significant = std::clamp(significant, 1, 15);
  if (quantity.dimension == number) return digits_of(quantity.value, significant);
  if (quantity.dimension == duration) return write_duration(quantity.value, significant);

  const bool us = customs.measures == Measures::us;
  const bool imperial = us && customs.gallon == Gallon::imperial;
  const Unit* unit = pick_unit(shared_rungs, quantity, significant, false);
  if (!unit && us) unit = pick_unit(us_rungs, quantity, significant, imperial);
  if (!unit && !us) unit = pick_unit(metric_rungs, quantity, significant, false);
  expects(unit != nullptr, "every dimension has a unit to be written in");
  const double reading = from_inside(*unit, quantity.value);
  if (!std::isfinite(reading)) return "unknown";
  return with_unit(digits_of(reading, significant), unit->spelling);
}

}  // namespace barm
