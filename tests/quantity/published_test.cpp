// Unit factors and conversions printed elsewhere. Source: S63, from memory (see docs/sources.md); rows in
// tests/published.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "quantity/refusal.h"
#include "quantity/text.h"
#include "support/published.h"

namespace barm {
namespace {

/// Our spelling of the names in the rows.
const std::map<std::string, std::string> spelling = {
    {"us_gallon", "US gal"},
    {"imperial_gallon", "imp gal"},
    {"us_quart", "US qt"},
    {"us_pint", "US pint"},
    {"us_cup", "cup"},
    {"us_fluid_ounce", "fl oz"},
    {"imperial_fluid_ounce", "imp fl oz"},
    {"us_tablespoon", "tbsp"},
    {"us_teaspoon", "tsp"},
    {"metric_cup", "metric cup"},
    {"metric_tablespoon", "metric tbsp"},
    {"australian_tablespoon", "Australian tbsp"},
    {"metric_teaspoon", "metric tsp"},
    {"pound_avoirdupois", "lb"},
    {"ounce_avoirdupois", "oz"},
    {"short_ton", "short ton"},
    {"acre_international", "acre"},
    {"square_foot", "ft2"},
    {"square_yard", "yd2"},
    {"cubic_foot", "ft3"},
    {"cubic_yard", "yd3"},
    {"inch", "in"},
    {"foot", "ft"},
    {"mile", "mile"},
    {"mile_per_hour", "mph"},
    {"psi", "psi"},
    {"inch_water_conventional", "inH2O"},
    {"millimetre_water_conventional", "mmH2O"},
    {"millimetre_mercury_conventional", "mmHg"},
    {"torr", "torr"},
    {"inch_mercury_conventional", "inHg"},
    {"standard_atmosphere", "atm"},
    {"bar", "bar"},
    {"cubic_foot_per_minute", "cfm"},
    {"us_gallon_per_hour", "gph"},
    {"us_gallon_per_minute", "gpm"},
    {"us_gallon_per_acre", "US gal/acre"},
    {"us_gallon_per_1000_ft2", "US gal/1000 ft2"},
    {"pound_per_cubic_yard", "lb/yd3"},
    {"pound_per_1000_us_gallon", "lb/1000 US gal"},
    {"ounce_per_us_gallon", "oz/US gal"},
    {"horsepower_mechanical", "hp"},
    {"hectare", "ha"},
    {"us_bushel", "US bushel"},
    {"fahrenheit", "°F"},
    {"celsius", "°C"},
    {"l", "L"},
    {"ml", "mL"},
    {"g", "g"},
    {"kg", "kg"},
    {"m", "m"},
    {"mm", "mm"},
    {"m2", "m2"},
    {"m3", "m3"},
    {"pa", "Pa"},
    {"w", "W"},
    {"l_per_min", "L/min"},
    {"l_per_h", "L/h"},
    {"l_per_ha", "L/ha"},
    {"l_per_100_m2", "L/100 m2"},
    {"kg_per_m3", "kg/m3"},
    {"mg_per_l", "mg/L"},
    {"g_per_l", "g/L"},
    {"m_per_s", "m/s"},
};

/// Half of the last printed digit of a factor that is rounded in print.
double half_last_digit(const std::string& printed) {
  const std::size_t point = printed.find('.');
  const double decimals = point == std::string::npos ? 0.0 : static_cast<double>(printed.size() - point - 1);
  return 0.5 * std::pow(10.0, -decimals);
}

TEST(PublishedUnits, every_factor_agrees_to_its_printed_digits) {
  for (const auto& row : test::published("unit_factors.csv")) {
    const std::string text = "1 " + spelling.at(row.text("from_unit"));
    const auto got = convert(text, spelling.at(row.text("to_unit")));
    ASSERT_TRUE(got) << text << ": " << test::code_of(got);
    const double factor = row.number("factor");
    // Exact factors differ by rounding of doubles only; the others by what the print left off.
    const double tolerance = row.text("exact") == "yes" ? 4e-16 * factor : 1.01 * half_last_digit(row.text("factor"));
    EXPECT_NEAR(got->value, factor, tolerance) << text;
  }
}

TEST(PublishedUnits, every_case_agrees) {
  for (const auto& row : test::published("unit_cases.csv")) {
    const std::string text = row.text("value") + " " + spelling.at(row.text("from_unit"));
    const auto got = convert(text, spelling.at(row.text("to_unit")));
    ASSERT_TRUE(got) << text << ": " << test::code_of(got);
    const double expected = row.number("expected");
    EXPECT_NEAR(got->value, expected, row.number("relative_tolerance") * std::abs(expected)) << row.text("id");
    // The rows bear a sharper test than the tolerance they name: half of the last digit they print. Two of
    // them (591.47059125, 170.09713875) lie on that half exactly, hence the millionth of it for doubles.
    const double printed = (1.0 + 1e-6) * half_last_digit(row.text("expected"));
    EXPECT_NEAR(got->value, expected, std::min(printed, 1e-6 * std::abs(expected))) << row.text("id");
  }
}

}  // namespace
}  // namespace barm
