#include <gtest/gtest.h>

#include <limits>

#include "quantity/text.h"

namespace barm {
namespace {

using enum Dimension;

std::string metric(double value, Dimension dimension, int significant = 3) {
  return write({.value = value, .dimension = dimension}, {}, significant);
}
std::string us(double value, Dimension dimension, int significant = 3) {
  return write({.value = value, .dimension = dimension}, {.gallon = {}, .measures = Measures::us}, significant);
}

TEST(Write, metric_garden) {
  EXPECT_EQ(metric(18.92705892, volume), "18.9 L");
  EXPECT_EQ(metric(18.92705892, volume, 2), "19 L");
  EXPECT_EQ(metric(0.9996, volume), "1 L");
  EXPECT_EQ(metric(0.9994, volume), "999 mL");
  EXPECT_EQ(metric(1200, volume), "1200 L");
  EXPECT_EQ(metric(0, volume), "0 L");
  EXPECT_EQ(metric(680.388, mass), "680 g");
  EXPECT_EQ(metric(1500, mass), "1.5 kg");
  EXPECT_EQ(metric(0.25, mass), "250 mg");
  EXPECT_EQ(metric(21.5, temperature), "21.5 °C");
  EXPECT_EQ(metric(-40, temperature), "-40 °C");
  EXPECT_EQ(metric(0, temperature), "0 °C");
  EXPECT_EQ(metric(2160, flow), "2160 L/h");
  EXPECT_EQ(metric(101.325, pressure), "101 kPa");
  EXPECT_EQ(metric(0.3, length), "30 cm");
  EXPECT_EQ(metric(4e-4, length), "400 µm");
  EXPECT_EQ(metric(8.263, concentration), "8.26 mg/L");
  EXPECT_EQ(metric(0.12, share), "12 %");
  EXPECT_EQ(metric(0.35, rate), "0.35 /h");
  EXPECT_EQ(metric(2e8, cell_density), "2 × 10⁸ /mL");
  EXPECT_EQ(metric(45.25, angle, 4), "45.25°");
  EXPECT_EQ(metric(1234567, number, 7), "1234567");
  EXPECT_EQ(metric(0.0001, number), "0.0001");
}

TEST(Write, us_garden) {
  EXPECT_EQ(us(18.92705892, volume), "5 US gal");
  EXPECT_EQ(us(1.892705892, volume), "2 US qt");
  EXPECT_EQ(us(0.2365882365, volume), "1 cup");
  EXPECT_EQ(us(0.473176473, volume), "2 cups");
  EXPECT_EQ(us(0.04436029434, volume), "3 tbsp");
  EXPECT_EQ(us(0.00246446, volume), "0.5 tsp");
  EXPECT_EQ(us(680.388555, mass), "1.5 lb");
  EXPECT_EQ(us(226.796185, mass), "8 oz");
  EXPECT_EQ(us(20, temperature), "68 °F");
  EXPECT_EQ(us(2157.68471688, flow), "570 gph");
  EXPECT_EQ(us(29.64745636, pressure), "4.3 psi");
  EXPECT_EQ(us(0.762, length), "2.5 ft");
  EXPECT_EQ(us(0.2286, length), "9 in");
  EXPECT_EQ(us(1.430528, speed), "3.2 mph");
  const Customs imperial{.gallon = Gallon::imperial, .measures = Measures::us};
  EXPECT_EQ(write({.value = 22.73045, .dimension = volume}, imperial), "5 imp gal");
  EXPECT_EQ(write({.value = 45.4609, .dimension = flow}, imperial), "10 imp gph");
}

TEST(Write, durations_as_people_say_them) {
  EXPECT_EQ(metric(20, duration), "20 h");
  EXPECT_EQ(metric(0.75, duration), "45 min");
  EXPECT_EQ(metric(1.5, duration), "1 h 30 min");
  EXPECT_EQ(metric(0.99999, duration), "1 h");
  EXPECT_EQ(metric(1.0 / 120, duration), "30 s");
  EXPECT_EQ(metric(0.9999 / 60, duration), "1 min");
  EXPECT_EQ(metric(12.345, duration), "12 h 20 min");
  EXPECT_EQ(metric(12.345, duration, 2), "12 h");
  EXPECT_EQ(metric(12.345, duration, 4), "12 h 21 min");
  EXPECT_EQ(metric(2880, duration), "120 d");
  EXPECT_EQ(metric(-1.5, duration), "-1 h 30 min");
  EXPECT_EQ(metric(0, duration), "0 min");
}

TEST(Write, what_is_not_finite_is_unknown) {
  for (const double value : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
    for (std::size_t i = 0; i < dimension_count; ++i) EXPECT_EQ(metric(value, static_cast<Dimension>(i)), "unknown");
}

}  // namespace
}  // namespace barm
