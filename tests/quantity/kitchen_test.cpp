#include "quantity/kitchen.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "quantity/refusal.h"

namespace barm {
namespace {

using enum Dimension;
constexpr double tsp_l = 3.785411784 / 768.0;
const Customs us{.gallon = {}, .measures = Measures::us};
const Customs metric{};

KitchenAmount rounded(double value, Dimension dimension, const Customs& customs, double bulk_density = 0.0) {
  return *round_for_kitchen({.value = value, .dimension = dimension}, customs, bulk_density);
}

TEST(Kitchen, spoons_below_a_quarter_cup) {
  EXPECT_EQ(rounded(0.125 * tsp_l, volume, us).text, "⅛ tsp");
  EXPECT_EQ(rounded(0.26 * tsp_l, volume, us).text, "¼ tsp");
  EXPECT_EQ(rounded(1.2 * tsp_l, volume, us).text, "1¼ tsp");
  EXPECT_EQ(rounded(2.9 * tsp_l, volume, us).text, "1 tbsp");
  EXPECT_EQ(rounded(3.75 * tsp_l, volume, us).text, "1 tbsp ¾ tsp");
  EXPECT_EQ(rounded(4.5 * tsp_l, volume, us).text, "1½ tbsp");
  EXPECT_EQ(rounded(9 * tsp_l, volume, us).text, "3 tbsp");
  EXPECT_EQ(rounded(9 * tsp_l, volume, metric).text, "3 tbsp");
  EXPECT_EQ(rounded(9 * tsp_l, volume, us).beside, "44.4 mL");
}

TEST(Kitchen, cups_quarts_and_gallons) {
  constexpr double cup_l = 48 * tsp_l;
  EXPECT_EQ(rounded(0.25 * cup_l, volume, us).text, "¼ cup");
  EXPECT_EQ(rounded(0.34 * cup_l, volume, us).text, "⅓ cup");
  EXPECT_EQ(rounded(1.5 * cup_l, volume, us).text, "1½ cups");
  EXPECT_EQ(rounded(9.0 / 16 * cup_l, volume, us).text, "½ cup 1 tbsp");
  EXPECT_EQ(rounded(4 * cup_l, volume, us).text, "1 US qt");
  EXPECT_EQ(rounded(4.5 * cup_l, volume, us).text, "1 US qt ½ cup");
  EXPECT_EQ(rounded(18.93, volume, us).text, "5 US gal");
  EXPECT_EQ(rounded(22.73, volume, {.gallon = Gallon::imperial, .measures = Measures::us}).text, "5 imp gal");
}

TEST(Kitchen, metric_jug_and_scales) {
  EXPECT_EQ(rounded(0.0712, volume, metric).text, "70 mL");
  EXPECT_EQ(rounded(0.512, volume, metric).text, "500 mL");
  EXPECT_EQ(rounded(0.996, volume, metric).text, "1 L");
  EXPECT_EQ(rounded(1.26, volume, metric).text, "1.25 L");
  EXPECT_EQ(rounded(18.93, volume, metric).text, "19 L");
  EXPECT_EQ(rounded(680.4, mass, metric).text, "680 g");
  EXPECT_EQ(rounded(999.6, mass, metric).text, "1 kg");
  EXPECT_EQ(rounded(1253, mass, metric).text, "1.255 kg");
  EXPECT_EQ(rounded(680.4, mass, us).text, "1½ lb");
  EXPECT_EQ(rounded(680.4, mass, us).beside, "680 g");
  EXPECT_EQ(rounded(226.8, mass, us).text, "8 oz");
  EXPECT_EQ(rounded(510.3, mass, us).text, "1 lb 2 oz");
  EXPECT_EQ(rounded(12, mass, us).text, "12 g");
}

TEST(Kitchen, dry_food_of_known_bulk_density_goes_by_the_spoon) {
  const auto kelp = rounded(33.0, mass, us, 0.75);  // 44 mL, so 3 tbsp
  EXPECT_EQ(kelp.text, "3 tbsp");
  EXPECT_EQ(kelp.beside, "33.3 g");
  EXPECT_NEAR(kelp.rounded.value, 9 * tsp_l * 750.0, 1e-9);
  EXPECT_NEAR(kelp.error_share, kelp.rounded.value / 33.0 - 1.0, 1e-12);
  EXPECT_EQ(rounded(5000.0, mass, us, 0.5).text, "11 lb");  // too much for cups
}

TEST(Kitchen, refuses_too_little_too_much_and_nothing_known) {
  using test::code_of;
  EXPECT_EQ(code_of(round_for_kitchen({0.124 * tsp_l, volume}, us)), "quantity.kitchen.too_small");
  EXPECT_EQ(code_of(round_for_kitchen({0.125 * tsp_l, volume}, us)), "(answered)");
  EXPECT_EQ(code_of(round_for_kitchen({0.49, mass}, us)), "quantity.kitchen.too_small");
  EXPECT_EQ(rounded(0.5, mass, us).text, "1 g");
  EXPECT_EQ(code_of(round_for_kitchen({-5.0, mass}, us)), "quantity.kitchen.too_small");
  EXPECT_EQ(code_of(round_for_kitchen({1.1e9, mass}, us)), "quantity.kitchen.too_large");
  EXPECT_EQ(code_of(round_for_kitchen({unset, mass}, us)), "quantity.kitchen.not_finite");
  EXPECT_THROW(round_for_kitchen({1.0, duration}, us), BrokenPromise);
}

/// Largest error over a stretch, in 1/1000 steps of its ratio.
double worst_error(double low, double high, Dimension dimension, const Customs& customs) {
  double worst = 0.0;
  for (int i = 0; i <= 4000; ++i) {
    const double value = low * std::pow(high / low, i / 4000.0);
    worst = std::max(worst, std::abs(rounded(value, dimension, customs).error_share));
  }
  return worst;
}

TEST(Kitchen, error_stays_near_a_twentieth_above_a_tablespoon) {
  EXPECT_LT(worst_error(3 * tsp_l, 400.0, volume, us), 0.06);
  EXPECT_LT(worst_error(3 * tsp_l, 400.0, volume, metric), 0.051);
  EXPECT_LT(worst_error(10.0, 100000.0, mass, us), 0.051);
  EXPECT_LT(worst_error(10.0, 100000.0, mass, metric), 0.051);
  EXPECT_LT(worst_error(0.5 * tsp_l, 3 * tsp_l, volume, us), 0.21);  // quarter teaspoons are what people own
}

}  // namespace
}  // namespace barm
