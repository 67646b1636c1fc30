#include "quantity/text.h"

#include <gtest/gtest.h>

#include <cmath>

#include "quantity/refusal.h"

namespace barm {
namespace {

using enum Dimension;
using test::code_of;
using test::fact_of;

void expect_reads(std::string_view text, Dimension dimension, double inside, const Customs& customs = {}) {
  const auto got = read_quantity(text, dimension, customs);
  ASSERT_TRUE(got) << text << ": " << code_of(got) << ", " << fact_of(got, "unit");
  EXPECT_NEAR(*got, inside, 1e-12 * std::max(1.0, std::abs(inside))) << text;
}

TEST(ReadQuantity, takes_what_people_write) {
  constexpr double gallon = 3.785411784, tsp = gallon / 768.0, lb = 453.59237, oz = lb / 16.0;
  expect_reads("5 US gal", volume, 5 * gallon);
  expect_reads("5 U.S. gallons", volume, 5 * gallon);
  expect_reads("5 gal (US)", volume, 5 * gallon);
  expect_reads("2 imp. gal.", volume, 2 * 4.54609);
  expect_reads("¼ tsp", volume, tsp / 4);
  expect_reads("3 Tbsp.", volume, 9 * tsp);
  expect_reads("2 TSP", volume, 2 * tsp);
  expect_reads("4 tablespoons", volume, 12 * tsp);
  expect_reads("8 fl. oz.", volume, gallon / 16);
  expect_reads("8 fl-oz", volume, gallon / 16);
  expect_reads("250ml", volume, 0.25);
  expect_reads("0.5 m³", volume, 500);
  expect_reads("2 cu. ft.", volume, 2 * 28.316846592);
  expect_reads("1 1/2 lb", mass, 1.5 * lb);
  expect_reads("1.5 lbs", mass, 1.5 * lb);
  expect_reads("6 oz", mass, 6 * oz);
  expect_reads("200 µg", mass, 2e-4);
  expect_reads("200 μg", mass, 2e-4);
  expect_reads("68 °F", temperature, 20);
  expect_reads("68F", temperature, 20);
  expect_reads("68 ºF", temperature, 20);
  expect_reads("68 deg F", temperature, 20);
  expect_reads("20 degC", temperature, 20);
  expect_reads("20 degrees Celsius", temperature, 20);
  expect_reads("20℃", temperature, 20);
  expect_reads("−40 °F", temperature, -40);
  expect_reads("293.15 K", temperature, 20);
  expect_reads("90 min", duration, 1.5);
  expect_reads("2 days", duration, 48);
  expect_reads("570 gph", flow, 570 * gallon);
  expect_reads("570 US gal/h", flow, 570 * gallon);
  expect_reads("570 US gallons per hour", flow, 570 * gallon);
  expect_reads("10 litros por hora", flow, 10);
  expect_reads("1 cfm", flow, 60 * 28.316846592);
  expect_reads("38 L/min", flow, 2280);
  expect_reads("4 m3/h", flow, 4000);
  expect_reads("20 kPa", pressure, 20);
  expect_reads("60 in. H2O", pressure, 60 * 0.24908891);
  expect_reads("60 inches of water", pressure, 60 * 0.24908891);
  expect_reads("760 mm Hg", pressure, 760 * 0.133322387415);
  expect_reads("30 in", length, 0.762);
  expect_reads("5'", length, 1.524);
  expect_reads("400 µm", length, 4e-4);
  expect_reads("1000 sq. ft.", area, 92.90304);
  expect_reads("2 ppm", concentration, 2);
  expect_reads("3 mg·L⁻¹", concentration, 3);
  expect_reads("3 mg L-1", concentration, 3);
  expect_reads("1 lb per 1,000 US gallons", concentration, lb / gallon);
  expect_reads("2 g/L", concentration, 2000);
  expect_reads("2 g/L", density, 2);
  expect_reads("35 g/kg", salinity, 35);
  expect_reads("35 ppt", salinity, 35);
  expect_reads("800 µS/cm", conductivity, 0.8);
  expect_reads("0.3 1/h", rate, 0.3);
  expect_reads("0.3 per hour", rate, 0.3);
  expect_reads("0.3 h⁻¹", rate, 0.3);
  expect_reads("45 W", power, 45);
  expect_reads("800 lb/yd³", density, 800 * 453.59237 / 764.554857984, {});
  expect_reads("2 × 10⁸ /mL", cell_density, 2e8);
  expect_reads("2e8 cells/mL", cell_density, 2e8);
  expect_reads("12 %", share, 0.12);
  expect_reads("0.12", share, 0.12);
  expect_reads("12 per cent", share, 0.12);
  expect_reads("7", number, 7);
  expect_reads("-33.5", angle, -33.5);
  expect_reads("45.2°", angle, 45.2);
  expect_reads("\t5\u00A0L\n", volume, 5);
}

TEST(ReadQuantity, adds_a_sum_of_one_dimension) {
  constexpr double lb = 453.59237;
  expect_reads("1 lb 8 oz", mass, 1.5 * lb);
  expect_reads("1 lb, 8 oz", mass, 1.5 * lb);
  expect_reads("1 h 30 min", duration, 1.5);
  expect_reads("1h30min", duration, 1.5);
  expect_reads("1 d 2 h 30 min 36 s", duration, 26.51);
  expect_reads("5 ft 6 in", length, 1.6764);
  expect_reads("5' 6\"", length, 1.6764);
  expect_reads("1 cup + 2 cups", volume, 3 * 3.785411784 / 16);
  expect_reads("1 cup and 2 tbsp", volume, 1.125 * 3.785411784 / 16);
  EXPECT_EQ(code_of(read_quantity("8 oz 1 lb", mass)), "quantity.sum.unclear");
  EXPECT_EQ(code_of(read_quantity("5 L 3 L", volume)), "quantity.sum.unclear");
  EXPECT_EQ(code_of(read_quantity("-1 lb 8 oz", mass)), "quantity.sum.unclear");
  EXPECT_EQ(code_of(read_quantity("20 °C 5 °C", temperature)), "quantity.sum.unclear");
  EXPECT_EQ(code_of(read_quantity("1 lb 3 cups", mass)), "quantity.measures.volume");
  EXPECT_EQ(code_of(read_quantity("1 h 30", duration)), "quantity.unit.missing");
}

TEST(ReadQuantity, bare_gallon_needs_the_gardens_word) {
  for (const char* text : {"5 gal", "5 gallons", "5 GAL", "5 gal."}) {
    const auto got = read_quantity(text, volume);
    EXPECT_EQ(code_of(got), "quantity.unit.unclear") << text;
    EXPECT_EQ(fact_of(got, "allowed"), "5 US gal, 5 imp gal") << text;
  }
  for (const char* text : {"2 qt", "2 quarts", "2 pt", "2 pints"})
    EXPECT_EQ(code_of(read_quantity(text, volume)), "quantity.unit.unclear") << text;
  EXPECT_EQ(fact_of(read_quantity("5 gal/h", flow), "allowed"), "5 US gal/h, 5 imp gal/h");
  expect_reads("5 gal", volume, 18.92705892, {.gallon = Gallon::us});
  expect_reads("5 gal", volume, 22.73045, {.gallon = Gallon::imperial});
  expect_reads("2 qt", volume, 2.273045, {.gallon = Gallon::imperial});
  expect_reads("5 gal/h", flow, 22.73045, {.gallon = Gallon::imperial});
  expect_reads("10 gph", flow, 45.4609, {.gallon = Gallon::imperial});
  expect_reads("10 US gph", flow, 37.85411784, {.gallon = Gallon::imperial});
  expect_reads("10 imp gph", flow, 45.4609);
  expect_reads("1 gpm", flow, 60 * 3.785411784);
}

TEST(ReadQuantity, capitals_never_change_a_size_in_silence) {
  EXPECT_EQ(fact_of(read_quantity("5 ML", volume), "allowed"), "5 mL");
  EXPECT_EQ(fact_of(read_quantity("5 Mg", mass), "allowed"), "5 mg");
  EXPECT_EQ(fact_of(read_quantity("5 MM", length), "allowed"), "5 mm");
  EXPECT_EQ(fact_of(read_quantity("5 mPa", pressure), "allowed"), "5 MPa");
  EXPECT_EQ(fact_of(read_quantity("2 T", volume), "allowed"), "2 tsp, 2 tbsp");
  EXPECT_EQ(fact_of(read_quantity("2 t", volume), "allowed"), "2 tsp, 2 tbsp");
  EXPECT_EQ(fact_of(read_amount("2 t"), "allowed"), "2 tsp, 2 tbsp, 2 tonne");
  EXPECT_EQ(fact_of(read_quantity("2 c", volume), "allowed"), "2 cup");
  EXPECT_EQ(fact_of(read_quantity("20 c", temperature), "allowed"), "20 °C");
  EXPECT_EQ(code_of(read_quantity("2 C", volume)), "quantity.measures.temperature");
  EXPECT_TRUE(fact_of(read_quantity("2 C", volume), "allowed").starts_with("cup, "));
  EXPECT_EQ(fact_of(read_quantity("70 deg", temperature), "allowed"), "70 °C, 70 °F");
  EXPECT_EQ(fact_of(read_quantity("70°", temperature), "allowed"), "70 °C, 70 °F");
  EXPECT_EQ(fact_of(read_quantity("2 tons", mass), "allowed"), "2 short ton, 2 tonne, 2 long ton");
  expect_reads("2 KG", mass, 2000);
  expect_reads("2 KPA", pressure, 2);
  expect_reads("5 Minutes", duration, 5.0 / 60.0);
  expect_reads("5 Millilitres", volume, 0.005);
}

TEST(ReadQuantity, every_refusal_says_what_would_be_read) {
  EXPECT_EQ(code_of(read_quantity("", volume)), "quantity.text.empty");
  EXPECT_EQ(code_of(read_quantity("  \t ", volume)), "quantity.text.empty");
  EXPECT_EQ(code_of(read_quantity(std::string(161, '1'), volume)), "quantity.text.too_long");
  EXPECT_EQ(code_of(read_quantity(std::string(160, '1'), number)), "(answered)");
  EXPECT_EQ(code_of(read_quantity("5 \xff L", volume)), "quantity.text.unreadable");
  EXPECT_EQ(code_of(read_quantity(std::string_view("5\0L", 3), volume)), "quantity.text.unreadable");
  EXPECT_EQ(code_of(read_quantity("some", number)), "quantity.number.missing");
  EXPECT_EQ(code_of(read_quantity("L", volume)), "quantity.number.missing_before_unit");
  EXPECT_EQ(code_of(read_quantity("1.2.3 L", volume)), "quantity.number.unreadable");
  EXPECT_EQ(code_of(read_quantity("nan L", volume)), "quantity.number.not_finite");
  EXPECT_EQ(code_of(read_quantity("1e308 tonne", mass)), "quantity.number.not_finite");
  EXPECT_EQ(code_of(read_quantity("5 L", number)), "quantity.unit.not_wanted");
  const auto unclear = read_quantity("1,500 L", volume);
  EXPECT_EQ(code_of(unclear), "quantity.number.unclear");
  EXPECT_EQ(fact_of(unclear, "first"), "1.500 L");
  EXPECT_EQ(fact_of(unclear, "second"), "1500 L");
  const auto bare = read_quantity("5", volume);
  EXPECT_EQ(code_of(bare), "quantity.unit.missing");
  EXPECT_EQ(fact_of(bare, "allowed"), "L, mL, US gal, cup, tbsp, tsp");
  const auto slip = read_quantity("5 tbps", volume);
  EXPECT_EQ(code_of(slip), "quantity.unit.misspelt");
  EXPECT_EQ(fact_of(slip, "suggestion"), "tbsp");
  EXPECT_EQ(code_of(read_quantity("5 zorkmids", volume)), "quantity.unit.unknown");
  const auto other = read_quantity("6 oz", volume);
  EXPECT_EQ(code_of(other), "quantity.measures.mass");
  EXPECT_TRUE(fact_of(other, "allowed").starts_with("fl oz, "));
  EXPECT_EQ(code_of(read_quantity("65-75 °F", temperature)), "quantity.range.not_wanted");
  EXPECT_EQ(fact_of(read_quantity("5 \xff L", volume), "given"), "5 ? L");
}

TEST(ReadQuantity, nothing_needs_no_unit_except_of_temperature) {
  expect_reads("0", salinity, 0);
  expect_reads("0.0", volume, 0);
  EXPECT_EQ(code_of(read_quantity("0", temperature)), "quantity.unit.missing");
}

void expect_range(std::string_view text, Dimension dimension, double low, double high) {
  const auto got = read_range(text, dimension);
  ASSERT_TRUE(got) << text << ": " << code_of(got);
  EXPECT_NEAR(got->low, low, 1e-12 * std::max(1.0, std::abs(low))) << text;
  EXPECT_NEAR(got->high, high, 1e-12 * std::max(1.0, std::abs(high))) << text;
}

TEST(ReadRange, takes_dashes_and_words) {
  expect_range("68–77 °F", temperature, 20, 25);
  expect_range("68 - 77 °F", temperature, 20, 25);
  expect_range("68—77 °F", temperature, 20, 25);
  expect_range("18 to 22 degC", temperature, 18, 22);
  expect_range("18 a 22 °C", temperature, 18, 22);
  expect_range("18..22 °C", temperature, 18, 22);
  expect_range("18 °C to 77 °F", temperature, 18, 25);
  expect_range("-5 - -2 °C", temperature, -5, -2);
  expect_range("-5–2 °C", temperature, -5, 2);
  expect_range("12-18 h", duration, 12, 18);
  expect_range("45 min - 1 h 30 min", duration, 0.75, 1.5);
  expect_range("1/2-3/4 L", volume, 0.5, 0.75);
  expect_range("1½–2 L", volume, 1.5, 2);
  expect_range("1-1/2 L", volume, 1.5, 1.5);  // a mixed number, as kitchens write it
  expect_range("1-3/2 L", volume, 1, 1.5);
  expect_range("1e-3 - 2e-3 L", volume, 1e-3, 2e-3);
  expect_range("20 °C", temperature, 20, 20);
  expect_range("5-10", number, 5, 10);
  expect_range("10-20 %", share, 0.1, 0.2);
}

TEST(ReadRange, refuses_what_is_no_range) {
  EXPECT_EQ(code_of(read_range("75–65 °F", temperature)), "quantity.range.reversed");
  EXPECT_EQ(code_of(read_range("5–10", volume)), "quantity.unit.missing");
  EXPECT_EQ(code_of(read_range("5–10 gal", volume)), "quantity.unit.unclear");
  EXPECT_EQ(code_of(read_range("1 - 1 lb 8 oz", mass)), "quantity.sum.unclear");
  EXPECT_EQ(code_of(read_range("5 kg – 10 L", volume)), "quantity.measures.mass");
  EXPECT_EQ(code_of(read_range("", volume)), "quantity.text.empty");
}

TEST(ReadAmount, takes_mass_or_volume) {
  EXPECT_EQ(read_amount("3 tbsp")->measured.dimension, volume);
  EXPECT_EQ(read_amount("1 lb 8 oz")->measured.dimension, mass);
  EXPECT_NEAR(read_amount("6 oz")->measured.value, 170.09713875, 1e-9);
  EXPECT_EQ(code_of(read_amount("6")), "quantity.unit.missing");
  EXPECT_EQ(code_of(read_amount("6 h")), "quantity.measures.duration");
  EXPECT_EQ(fact_of(read_amount("6 tblspon"), "suggestion"), "tbsp");
  EXPECT_EQ(fact_of(read_amount("6 kilgram"), "suggestion"), "kg");
  EXPECT_EQ(code_of(read_amount("5 gal")), "quantity.unit.unclear");
}

TEST(Convert, finds_the_dimension_both_share) {
  EXPECT_NEAR(convert("4 tbsp", "mL")->value, 59.147059125, 1e-9);
  EXPECT_EQ(convert("4 tbsp", "millilitres")->unit, "mL");
  EXPECT_NEAR(convert("20 degC", "F")->value, 68.0, 1e-12);
  EXPECT_EQ(convert("500 kg/m3", "g/L")->value, 500.0);
  EXPECT_EQ(convert("500 mg/L", "g/L")->value, 0.5);
  EXPECT_EQ(convert("0.12", "%")->value, 12.0);
  EXPECT_NEAR(convert("1 gal", "L", {.gallon = Gallon::imperial})->value, 4.54609, 1e-12);
  EXPECT_EQ(code_of(convert("4 tbsp", "g")), "quantity.measures.volume");
  EXPECT_EQ(code_of(convert("4 tbsp", "parsec")), "quantity.unit.not_known");
  EXPECT_EQ(code_of(convert("4 tbsp", "gal")), "quantity.unit.target_unclear");
  EXPECT_EQ(fact_of(convert("4 tbsp", "gal"), "allowed"), "US gal, imp gal");
  EXPECT_EQ(code_of(convert("4 tbsp", "")), "quantity.text.empty");
}

}  // namespace
}  // namespace barm
