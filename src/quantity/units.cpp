#include "quantity/units.h"

#include <array>

namespace barm {
namespace {

using enum Dimension;

// Defined exactly (S63: Handbook 44, appendix C; SP 811, appendix B).
constexpr double inch_m = 0.0254;
constexpr double foot_m = 0.3048;
constexpr double yard_m = 0.9144;
constexpr double mile_m = 1609.344;
constexpr double pound_g = 453.59237;
constexpr double ounce_g = pound_g / 16.0;
constexpr double us_gallon_l = 3.785411784;  // 231 cubic inches
constexpr double imperial_gallon_l = 4.54609;
constexpr double cup_l = us_gallon_l / 16.0;
constexpr double fluid_ounce_l = us_gallon_l / 128.0;
constexpr double imperial_fluid_ounce_l = imperial_gallon_l / 160.0;
constexpr double tablespoon_l = us_gallon_l / 256.0;
constexpr double teaspoon_l = us_gallon_l / 768.0;
constexpr double litres_per_m3 = 1000.0;
constexpr double foot2_m2 = foot_m * foot_m;
constexpr double foot3_l = 28.316846592;
constexpr double yard3_l = 764.554857984;
constexpr double inch3_l = 0.016387064;
constexpr double acre_m2 = 4046.8564224;  // international, 43,560 square feet
constexpr double hectare_m2 = 10000.0;
constexpr double gravity_m_per_s2 = 9.80665;
// Derived from the above.
constexpr double psi_kpa = pound_g * gravity_m_per_s2 / (inch_m * inch_m) * 1e-6;
constexpr double horsepower_w = 550.0 * foot_m * pound_g * 1e-3 * gravity_m_per_s2;
// Conventional columns of water (1 kg/L, 4 degC) and mercury, to the digits printed in S63.
constexpr double inch_water_kpa = 0.24908891;
constexpr double inch_mercury_kpa = 3.386388640341;
constexpr double mm_mercury_kpa = 0.133322387415;

constexpr auto table = std::to_array<Unit>({
    {"%", "percent|/cent|pct|/ciento", share, 0.01, "S63"},
    {"‰", "permille|/mille|/mil", share, 0.001, "S63"},

    {"L", "l|litre|litres|liter|liters|ltr|ltrs|litro|litros|lt|lts|dm3", volume, 1.0, "S63"},
    {"mL",
     "ml|millilitre|millilitres|milliliter|milliliters|mililitro|mililitros|cc|ccm|cm3|cubic centimetre|"
     "cubic centimetres|cubic centimeter|cubic centimeters",
     volume, 0.001, "S63"},
    {"µL", "uL|µl|ul|microlitre|microlitres|microliter|microliters|microlitro|microlitros", volume, 1e-6, "S63"},
    {"cL", "cl|centilitre|centilitres|centiliter|centiliters|centilitro|centilitros", volume, 0.01, "S63"},
    {"dL", "dl|decilitre|decilitres|deciliter|deciliters|decilitro|decilitros", volume, 0.1, "S63"},
    {"hL", "hl|hectolitre|hectolitres|hectoliter|hectoliters|hectolitro|hectolitros", volume, 100.0, "S63"},
    {"m3",
     "cubic metre|cubic metres|cubic meter|cubic meters|cu m|cbm|kL|kilolitre|kilolitres|kiloliter|kiloliters|"
     "metro cúbico|metros cúbicos|metro cubico|metros cubicos",
     volume, litres_per_m3, "S63"},
    {"US gal", "US gals|US gallon|US gallons|gal US|gals US|gallon US|gallons US|USgal|USG", volume, us_gallon_l,
     "S63"},
    {"US qt", "US qts|US quart|US quarts|qt US|quart US|quarts US", volume, us_gallon_l / 4.0, "S63"},
    {"US pint", "US pt|US pts|US pints|pt US|pint US|pints US", volume, us_gallon_l / 8.0, "S63"},
    {"cup", "cups|US cup|US cups|cup US|cups US", volume, cup_l, "S63"},
    {"fl oz",
     "fl ozs|floz|fluid ounce|fluid ounces|US fl oz|US fluid ounce|US fluid ounces|fl oz US|fluid oz|"
     "oz fl|onza líquida|onzas líquidas|onza liquida|onzas liquidas",
     volume, fluid_ounce_l, "S63"},
    {"tbsp",
     "tbsps|tbs|tbl|tblsp|tblsps|tablespoon|tablespoons|tablespoonful|tablespoonfuls|US tbsp|US tablespoon|"
     "US tablespoons",
     volume, tablespoon_l, "S63"},
    {"tsp", "tsps|teaspoon|teaspoons|teaspoonful|teaspoonfuls|US tsp|US teaspoon|US teaspoons", volume, teaspoon_l,
     "S63"},
    {"imp gal",
     "imp gals|imp gallon|imp gallons|imperial gal|imperial gallon|imperial gallons|gal imp|gallon imp|"
     "gallons imp|gallon imperial|gallons imperial|UK gal|UK gallon|UK gallons|gal UK|gallons UK",
     volume, imperial_gallon_l, "S63"},
    {"imp qt", "imp qts|imp quart|imp quarts|imperial qt|imperial quart|imperial quarts|UK qt|UK quart|UK quarts",
     volume, imperial_gallon_l / 4.0, "S63"},
    {"imp pint", "imp pt|imp pints|imperial pt|imperial pint|imperial pints|UK pt|UK pint|UK pints", volume,
     imperial_gallon_l / 8.0, "S63"},
    {"imp fl oz",
     "imp fluid ounce|imp fluid ounces|imperial fl oz|imperial fluid ounce|imperial fluid ounces|UK fl oz|"
     "UK fluid ounce|UK fluid ounces",
     volume, imperial_fluid_ounce_l, "S63"},
    {"metric cup", "metric cups|taza|tazas", volume, 0.25, "S63"},
    {"metric tbsp", "metric tablespoon|metric tablespoons|cucharada|cucharadas|cda|cdas", volume, 0.015, "S63"},
    {"metric tsp", "metric teaspoon|metric teaspoons|cucharadita|cucharaditas|cdta|cdtas|cdita|cditas", volume, 0.005,
     "S63"},
    {"Australian tbsp", "Australian tablespoon|Australian tablespoons|Aus tbsp|AU tbsp", volume, 0.02, "S63"},
    {"ft3", "cubic foot|cubic feet|cu ft|cf|cuft|pie cúbico|pies cúbicos", volume, foot3_l, "S63"},
    {"in3", "cubic inch|cubic inches|cu in", volume, inch3_l, "S63"},
    {"yd3", "cubic yard|cubic yards|cu yd|cu yds|yarda cúbica|yardas cúbicas", volume, yard3_l, "S63"},
    {"US bushel", "US bushels|US bu|bushel|bushels|bu", volume, 35.23907016688, "S63"},

    {"g", "gm|gms|gr|grs|gram|grams|gramme|grammes|gramo|gramos", mass, 1.0, "S63"},
    {"kg", "kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes|kilogramo|kilogramos", mass, 1000.0, "S63"},
    {"mg", "milligram|milligrams|milligramme|milligrammes|miligramo|miligramos", mass, 0.001, "S63"},
    {"µg", "ug|mcg|microgram|micrograms|microgramo|microgramos", mass, 1e-6, "S63"},
    {"lb", "lbs|pound|pounds|libra|libras", mass, pound_g, "S63"},
    {"oz", "ozs|ounce|ounces|oz wt|onza|onzas", mass, ounce_g, "S63"},
    {"short ton", "short tons|US ton|US tons", mass, 2000.0 * pound_g, "S63"},
    {"long ton", "long tons|imperial ton|imperial tons|UK ton|UK tons", mass, 2240.0 * pound_g, "S63"},
    {"tonne", "tonnes|metric ton|metric tons|tonelada|toneladas", mass, 1e6, "S63"},

    {"°C",
     "degC|deg C|degs C|degree C|degrees C|C|celsius|deg celsius|degree celsius|degrees celsius|centigrade|"
     "degrees centigrade|grados C|grados celsius",
     temperature, 1.0, "S63"},
    {"°F",
     "degF|deg F|degs F|degree F|degrees F|F|fahrenheit|deg fahrenheit|degree fahrenheit|degrees fahrenheit|"
     "grados F|grados fahrenheit",
     temperature, 5.0 / 9.0, "S63", 32.0},
    {"K", "kelvin|kelvins", temperature, 1.0, "S63", 273.15},

    {"h", "hr|hrs|hour|hours|hora|horas", duration, 1.0, "S63"},
    {"min", "mins|minute|minutes|minuto|minutos", duration, 1.0 / 60.0, "S63"},
    {"s", "sec|secs|second|seconds|segundo|segundos|seg", duration, 1.0 / 3600.0, "S63"},
    {"d", "day|days|día|días|dia|dias", duration, 24.0, "S63"},
    {"week", "weeks|wk|wks|semana|semanas", duration, 168.0, "S63"},

    {"L/h", "lph|LPH", flow, 1.0, "S63"},
    {"L/min", "lpm|LPM", flow, 60.0, "S63"},
    {"L/s", "lps", flow, 3600.0, "S63"},
    {"mL/min", "", flow, 0.06, "S63"},
    {"m3/h", "cmh", flow, litres_per_m3, "S63"},
    {"m3/min", "cmm", flow, 60.0 * litres_per_m3, "S63"},
    {"US gal/h", "US gph|gph US|USgph", flow, us_gallon_l, "S63"},
    {"US gal/min", "US gpm|gpm US|USgpm", flow, 60.0 * us_gallon_l, "S63"},
    {"imp gal/h", "imp gph|imperial gph|UK gph|gph imp", flow, imperial_gallon_l, "S63"},
    {"imp gal/min", "imp gpm|imperial gpm|UK gpm|gpm imp", flow, 60.0 * imperial_gallon_l, "S63"},
    {"cfm", "ft3/min|scfm", flow, 60.0 * foot3_l, "S63"},
    {"cfh", "ft3/h|scfh", flow, foot3_l, "S63"},

    {"kPa", "kilopascal|kilopascals", pressure, 1.0, "S63"},
    {"Pa", "pascal|pascals", pressure, 0.001, "S63"},
    {"hPa", "hectopascal|hectopascals", pressure, 0.1, "S63"},
    {"MPa", "megapascal|megapascals", pressure, 1000.0, "S63"},
    {"bar", "bars", pressure, 100.0, "S63"},
    {"mbar", "mb|millibar|millibars", pressure, 0.1, "S63"},
    {"atm", "atmosphere|atmospheres|standard atmosphere|standard atmospheres", pressure, 101.325, "S63"},
    {"psi", "lb/in2|lbf/in2|pounds/square inch|pound/square inch|lbs/square inch|lb/sq in", pressure, psi_kpa, "S63"},
    {"inH2O",
     "in H2O|inches H2O|inch H2O|in of water|inch of water|inches of water|inch water|inches water|in WC|inWC|"
     "in WG|in water|inches of water column",
     pressure, inch_water_kpa, "S63"},
    {"ftH2O", "ft H2O|feet H2O|ft of water|foot of water|feet of water|ft of head|feet of head", pressure,
     12.0 * inch_water_kpa, "S63"},
    {"mmH2O", "mm H2O|mm of water|millimetres of water|millimeters of water", pressure, gravity_m_per_s2 * 1e-3, "S63"},
    {"cmH2O", "cm H2O|cm of water", pressure, gravity_m_per_s2 * 1e-2, "S63"},
    {"mH2O", "m H2O|m of water|metres of water|meters of water|m of head|metres of head|meters of head", pressure,
     gravity_m_per_s2, "S63"},
    {"mmHg", "mm Hg|mm of mercury|millimetres of mercury|millimeters of mercury", pressure, mm_mercury_kpa, "S63"},
    {"torr", "Torr", pressure, 101.325 / 760.0, "S63"},
    {"inHg", "in Hg|inches Hg|inch of mercury|inches of mercury", pressure, inch_mercury_kpa, "S63"},

    {"m", "metre|metres|meter|meters|metro|metros|mtr|mts", length, 1.0, "S63"},
    {"cm", "centimetre|centimetres|centimeter|centimeters|centímetro|centímetros|centimetro|centimetros", length, 0.01,
     "S63"},
    {"mm", "millimetre|millimetres|millimeter|millimeters|milímetro|milímetros|milimetro|milimetros", length, 0.001,
     "S63"},
    {"µm", "um|micron|microns|micrometre|micrometres|micrometer|micrometers|micra|micras", length, 1e-6, "S63"},
    {"km", "kilometre|kilometres|kilometer|kilometers|kilómetro|kilómetros|kilometro|kilometros", length, 1000.0,
     "S63"},
    {"in", "inch|inches|ins|\"|pulgada|pulgadas", length, inch_m, "S63"},
    {"ft", "foot|feet|'|pie|pies", length, foot_m, "S63"},
    {"yd", "yds|yard|yards|yarda|yardas", length, yard_m, "S63"},
    {"mile", "miles|mi|milla|millas", length, mile_m, "S63"},

    {"m2", "square metre|square metres|square meter|square meters|sq m|sqm|metro cuadrado|metros cuadrados", area, 1.0,
     "S63"},
    {"cm2", "square centimetre|square centimetres|square centimeter|square centimeters|sq cm", area, 1e-4, "S63"},
    {"mm2",
     "square millimetre|square millimetres|square millimeter|square millimeters|sq mm|milímetro cuadrado|milímetros "
     "cuadrados",
     area, 1e-6, "S63"},
    {"in2", "square inch|square inches|sq in", area, inch_m* inch_m, "S63"},
    {"ft2", "square foot|square feet|sq ft|sqft|sf|pie cuadrado|pies cuadrados", area, foot2_m2, "S63"},
    {"yd2", "square yard|square yards|sq yd|sq yds", area, yard_m* yard_m, "S63"},
    {"acre", "acres|ac", area, acre_m2, "S63"},
    {"ha", "hectare|hectares|hectárea|hectáreas|hectarea|hectareas", area, hectare_m2, "S63"},

    {"mg/L", "mg/dm3", concentration, 1.0, "S63"},
    {"ppm", "parts/million|partes/millón|partes/millon", concentration, 1.0, "practice"},  // water taken as 1 kg/L
    {"ppb", "parts/billion", concentration, 0.001, "practice"},                            // water taken as 1 kg/L
    {"g/L", "kg/m3", concentration, 1000.0, "S63"},
    {"g/m3", "", concentration, 1.0, "S63"},
    {"µg/L", "ug/L", concentration, 0.001, "S63"},
    {"µg/mL", "ug/mL", concentration, 1.0, "S63"},
    {"mg/mL", "", concentration, 1000.0, "S63"},
    {"g/US gal", "", concentration, 1000.0 / us_gallon_l, "S63"},
    {"oz/US gal", "", concentration, 1000.0 * ounce_g / us_gallon_l, "S63"},
    {"oz/imp gal", "", concentration, 1000.0 * ounce_g / imperial_gallon_l, "S63"},
    {"lb/US gal", "", concentration, 1000.0 * pound_g / us_gallon_l, "S63"},
    {"lb/1000 US gal", "", concentration, pound_g / us_gallon_l, "S63"},
    {"lb/1000 imp gal", "", concentration, pound_g / imperial_gallon_l, "S63"},

    {"g/kg", "", salinity, 1.0, "S63"},
    {"ppt", "parts/thousand|permille|/mille", salinity, 1.0, "practice"},

    {"mS/cm", "mmho/cm", conductivity, 1.0, "S63"},
    {"µS/cm", "uS/cm|umho/cm", conductivity, 0.001, "S63"},
    {"dS/m", "", conductivity, 1.0, "S63"},
    {"S/m", "", conductivity, 10.0, "S63"},

    {"1/h", "/h", rate, 1.0, "S63"},
    {"1/min", "/min", rate, 60.0, "S63"},
    {"1/s", "/s", rate, 3600.0, "S63"},
    {"1/d", "/d", rate, 1.0 / 24.0, "S63"},

    {"W", "watt|watts|vatio|vatios", power, 1.0, "S63"},
    {"kW", "kilowatt|kilowatts|kilovatio|kilovatios", power, 1000.0, "S63"},
    {"hp", "horsepower|horse power", power, horsepower_w, "S63"},

    {"m/s", "mps", speed, 1.0, "S63"},
    {"cm/s", "", speed, 0.01, "S63"},
    {"km/h", "kmh|kph", speed, 1000.0 / 3600.0, "S63"},
    {"mph", "mile/h", speed, mile_m / 3600.0, "S63"},
    {"ft/s", "fps", speed, foot_m, "S63"},
    {"ft/min", "fpm", speed, foot_m / 60.0, "S63"},

    {"kg/m3", "", density, 1.0, "S63"},
    {"g/L", "", density, 1.0, "S63"},
    {"kg/L", "", density, 1000.0, "S63"},
    {"g/mL", "g/cm3|g/cc", density, 1000.0, "S63"},
    {"lb/yd3", "", density, pound_g / yard3_l, "S63"},
    {"lb/ft3", "pcf", density, pound_g / foot3_l, "S63"},
    {"lb/US gal", "", density, pound_g / us_gallon_l, "S63"},

    {"L/ha", "", coverage, 1.0, "S63"},
    {"L/m2", "", coverage, hectare_m2, "S63"},
    {"mL/m2", "", coverage, hectare_m2 * 0.001, "S63"},
    {"L/100 m2", "", coverage, hectare_m2 / 100.0, "S63"},
    {"US gal/acre", "US gpa", coverage, us_gallon_l* hectare_m2 / acre_m2, "S63"},
    {"imp gal/acre", "imp gpa", coverage, imperial_gallon_l* hectare_m2 / acre_m2, "S63"},
    {"US gal/1000 ft2", "", coverage, us_gallon_l* hectare_m2 / (1000.0 * foot2_m2), "S63"},
    {"fl oz/1000 ft2", "", coverage, fluid_ounce_l* hectare_m2 / (1000.0 * foot2_m2), "S63"},

    {"1/mL", "/mL|cells/mL|cell/mL|cfu/mL|células/mL|celulas/mL", cell_density, 1.0, "S63"},
    {"1/L", "/L|cells/L|cfu/L", cell_density, 0.001, "S63"},
    {"1/µL", "1/uL|/uL|cells/uL|1/mm3|/mm3|cells/mm3", cell_density, 1000.0, "S63"},

    {"°", "deg|degs|degree|degrees|grado|grados", angle, 1.0, "S63"},
});

}  // namespace

std::span<const Unit> units() {
  return table;
}

const Unit& unit_spelled(std::string_view spelling, Dimension dimension) {
  for (const Unit& unit : table)
    if (unit.dimension == dimension && unit.spelling == spelling) return unit;
  throw BrokenPromise("a unit named in the program stands in the table");
}

std::string_view accepted_spellings(Dimension dimension) {
  switch (dimension) {
    case number:
      return "";
    case share:
      return "%";
    case volume:
      return "L, mL, US gal, cup, tbsp, tsp";
    case mass:
      return "g, kg, lb, oz";
    case temperature:
      return "°C, °F";
    case duration:
      return "h, min, s, d";
    case flow:
      return "L/h, L/min, gph, cfm";
    case pressure:
      return "kPa, psi, inH2O, mbar";
    case length:
      return "m, cm, mm, µm, ft, in";
    case area:
      return "m2, cm2, mm2, ft2, ha, acre";
    case concentration:
      return "mg/L, ppm, g/L, oz/US gal";
    case salinity:
      return "g/kg, ppt";
    case conductivity:
      return "mS/cm, µS/cm, dS/m";
    case rate:
      return "1/h, 1/min, 1/d";
    case power:
      return "W, kW, hp";
    case speed:
      return "m/s, km/h, mph";
    case density:
      return "kg/m3, g/mL, lb/yd3";
    case coverage:
      return "L/ha, L/100 m2, US gal/acre, US gal/1000 ft2";
    case cell_density:
      return "1/mL, cells/mL";
    case angle:
      return "°, deg";
  }
  return "";
}

}  // namespace barm
