// The heat of a pile: its published rate, its own balance, and what every hand that built one knows.
#include "compost/heap.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "data/embedded.h"

namespace barm::compost {
namespace {

const HeapFigures& figures() {
  static const HeapFigures all = HeapFigures::read(data::file("heap.toml"));
  return all;
}
Answer<HeapTold> told(const HeapAsk& ask) {
  return foretell_heap(ask, figures());
}
bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}
const HeapAsk pile{.volume_m3 = 2.0, .air_c = 15.0};

// S92, from memory: about 1 at 20 degC, doubled by 31 degC, highest a little above 70 degC, nothing from 80 degC.
TEST(heap, decay_follows_the_published_curve) {
  EXPECT_NEAR(decay_over_20(20.0), 1.0, 1e-3);
  EXPECT_NEAR(decay_over_20(31.0), 2.0, 0.02);
  double best_c = 0.0;
  for (double c = 0.0; c < 90.0; c += 0.1)
    if (decay_over_20(c) > decay_over_20(best_c)) best_c = c;
  EXPECT_NEAR(best_c, 71.6, 0.2);
  EXPECT_GT(decay_over_20(79.0), 0.0);
  EXPECT_EQ(decay_over_20(80.5), 0.0);
}

// common practice: a moist, rich pile of a cubic metre or more heats past 55 degC within a week in mild weather; a
// bucketful never does.
TEST(heap, a_real_pile_heats_and_a_bucketful_does_not) {
  const auto answer = told(pile);
  ASSERT_TRUE(answer.ok());
  EXPECT_GT(answer->peak_c, 55.0);
  EXPECT_LT(answer->peak_c, 80.0);
  const auto hot = std::find_if(answer->middle_c.begin(), answer->middle_c.end(), [](double c) { return c > 55.0; });
  ASSERT_NE(hot, answer->middle_c.end());
  EXPECT_LT(answer->time_d[static_cast<std::size_t>(hot - answer->middle_c.begin())], 7.0);
  EXPECT_LT(told({.volume_m3 = 0.05, .air_c = 10.0})->peak_c, 45.0);
  EXPECT_FALSE(answer->turns_d.empty());
}

TEST(heap, its_own_heat_is_all_accounted_for) {
  for (const double volume_m3 : {0.1, 2.0, 100.0})
    EXPECT_LT(std::abs(told({.volume_m3 = volume_m3, .air_c = 15.0})->imbalance_share), 1e-9);
}

TEST(heap, turns_keep_their_distance_and_stop_when_the_food_is_gone) {
  HeapAsk long_ask = pile;
  long_ask.length_d = 180.0;
  const auto answer = told(long_ask);
  for (std::size_t i = 1; i < answer->turns_d.size(); ++i)
    EXPECT_GE(answer->turns_d[i] - answer->turns_d[i - 1], long_ask.turn_rest_d - 1e-9);
  EXPECT_LT(answer->turns_d.back(), 150.0);
  EXPECT_LT(answer->middle_c.back(), 35.0);  // back towards the air
  EXPECT_GT(answer->degraded_share, 0.6);
}

TEST(heap, says_that_it_is_indicative_and_doubts_dry_wet_and_small_piles) {
  EXPECT_TRUE(has(told(pile).doubts(), "compost.heap.indicative", ""));
  HeapAsk ask = pile;
  ask.moisture_share = 0.44;
  EXPECT_TRUE(has(told(ask).doubts(), "compost.heap.dry", "moisture"));
  ask.moisture_share = 0.45;
  EXPECT_EQ(told(ask).doubts().size(), 1u);
  ask.moisture_share = 0.66;
  EXPECT_TRUE(has(told(ask).doubts(), "compost.heap.wet", "moisture"));
  EXPECT_TRUE(has(told({.volume_m3 = 0.199, .air_c = 15.0}).doubts(), "compost.heap.small", "volume"));
  EXPECT_EQ(told({.volume_m3 = 0.2, .air_c = 15.0}).doubts().size(), 1u);
}

TEST(heap, refuses_what_is_no_pile) {
  const auto refused = [](auto change, const char* field) {
    HeapAsk ask = pile;
    change(ask);
    return has(told(ask).refusals(), "compost.heap.outside", field);
  };
  EXPECT_TRUE(refused([](HeapAsk& a) { a.volume_m3 = 0.049; }, "volume"));
  EXPECT_FALSE(refused([](HeapAsk& a) { a.volume_m3 = 0.05; }, "volume"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.volume_m3 = unset; }, "volume"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.moisture_share = 0.81; }, "moisture"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.air_c = 60.0; }, "air_temperature"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.start_c = 80.0; }, "start_temperature"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.length_d = 0.5; }, "length"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.turn_below_c = 70.0; }, "turn_below"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.turn_rest_d = 0.1; }, "turn_rest"));
  EXPECT_TRUE(refused([](HeapAsk& a) { a.bulk_density_kg_per_m3 = 2000.0; }, "bulk_density"));
}

// A law: warmer air never makes a cooler peak, and the band has its ends in order around the usual peak.
TEST(heap_law, warmer_air_makes_no_cooler_peak) {
  double before_c = -100.0;
  for (const double air_c : {-10.0, 0.0, 10.0, 20.0, 30.0, 40.0}) {
    const auto answer = told({.volume_m3 = 1.0, .air_c = air_c, .length_d = 20.0, .turn_at_c = 90.0});
    EXPECT_GE(answer->peak_c, before_c - 0.5);
    before_c = answer->peak_c;
    EXPECT_LE(answer->peak_low_c, answer->peak_c);
    EXPECT_LE(answer->peak_c, answer->peak_high_c);
    for (std::size_t i = 0; i < answer->middle_c.size(); ++i) {
      EXPECT_LE(answer->low_c[i], answer->high_c[i]);
    }
  }
}

}  // namespace
}  // namespace barm::compost
