// What decides a brew, and what to read next: told from the ensemble.
#include <gtest/gtest.h>

#include <algorithm>

#include "brew/drivers.h"
#include "brew/next_reading.h"
#include "brew/synthetic.h"

namespace barm::brew {
namespace {

Members drawn(const Setup& setup, int count = 512) {
  const Unknowns unknowns(setup, test::priors());
  return draw_members(setup, test::priors(), unknowns, count, 1);
}

std::vector<double> lowest(Members members, double until_h = 24.0) {
  const Stretch stretch = run(members, 0.0, until_h, {}, {});
  std::vector<double> values;
  for (int m = 0; m < members.count; ++m) values.push_back(stretch.lowest[2 * static_cast<std::size_t>(m)]);
  return values;
}

// y = 3 x1 - x2 with even x1, x2: of the variance 0.9 goes with x1 and 0.1 with x2, by hand.
TEST(Drivers, share_out_a_sum_as_known_by_hand) {
  Members members;
  members.count = 4096;
  members.symbols = {"a", "b", "c"};
  std::vector<double> y;
  std::mt19937_64 random(1);
  std::normal_distribution<double> normal;
  for (int m = 0; m < members.count; ++m) {
    for (int i = 0; i < 3; ++i) members.values.push_back(normal(random));
    y.push_back(3.0 * members.values[members.values.size() - 3] - members.values[members.values.size() - 2]);
  }
  const auto drivers = drivers_of(members, y);
  ASSERT_EQ(drivers.size(), 2U);  // the third does nothing
  EXPECT_EQ(drivers[0].symbol, "a");
  EXPECT_TRUE(drivers[0].raises);
  EXPECT_NEAR(drivers[0].share, 0.9, 0.03);  // of ranks rather than values
  EXPECT_EQ(drivers[1].symbol, "b");
  EXPECT_FALSE(drivers[1].raises);
  EXPECT_NEAR(drivers[1].share, 0.1, 0.03);
}

// source: docs/brew/model.md, section 9 (one at a time, whole range): transfer, extractable nitrogen, yield and alpha
// move the lowest oxygen of three days most. (Within one day it hangs on how soon the bloom comes: growth and cells.)
TEST(Drivers, of_the_bucket_are_those_the_model_page_names) {
  const Members members = drawn(test::bucket(), 1024);
  const auto drivers = drivers_of(members, lowest(members, 72.0));
  ASSERT_GE(drivers.size(), 3U);
  const auto is_there = [&](const char* symbol) {
    return std::any_of(drivers.begin(), drivers.end(), [&](const Driver& d) { return d.symbol == symbol; });
  };
  EXPECT_TRUE(is_there("compost1.nitrogen"));
  EXPECT_TRUE(is_there("Y_B") || is_there("alpha") || is_there("kla"));
  for (const Driver& d : drivers) {
    if (d.symbol == "kla" || d.symbol == "alpha" || d.symbol == "Y_B") {
      EXPECT_TRUE(d.raises) << d.symbol;
    }
    if (d.symbol == "compost1.nitrogen") {
      EXPECT_FALSE(d.raises);
    }
  }
}

TEST(NextReading, narrows_the_band_about_as_far_as_it_says) {
  const auto next = next_reading(drawn(test::bucket()), test::instruments(), 0.0, 24.0);
  ASSERT_TRUE(next.has_value());
  EXPECT_EQ(next->what, Measured::oxygen);
  EXPECT_GT(next->at_h, 0.0);
  EXPECT_LT(next->at_h, 24.0);
  // Take that reading of many true brews: the spread of the lowest oxygen must fall by about the share promised.
  double before = 0.0, after = 0.0;
  const auto deviation = [](const std::vector<double>& values) {
    double mean = 0.0, square = 0.0;
    for (const double v : values) mean += v / static_cast<double>(values.size());
    for (const double v : values) square += (v - mean) * (v - mean) / static_cast<double>(values.size());
    return square;
  };
  constexpr int brews = 24;
  for (std::uint64_t seed = 1; seed <= brews; ++seed) {
    const auto truth = test::true_brew(test::bucket(), test::readings_at(next->what, {next->at_h}), seed);
    const auto learned =
        learn(truth.setup, test::priors(), test::instruments(), {.readings = truth.readings, .acts = {}});
    ASSERT_TRUE(learned.ok());
    before += deviation(lowest(drawn(truth.setup, 256))) / brews;
    after += deviation(lowest(learned->members)) / brews;
  }
  const double narrowed = 1.0 - std::sqrt(after / before);
  std::printf("read at %.1f h: promised to narrow by %.2f, narrowed by %.2f over %d brews\n", next->at_h,
              next->narrows_share, narrowed, brews);
  EXPECT_NEAR(narrowed, next->narrows_share, 0.15);  // 24 brews
}

TEST(NextReading, there_is_none_once_the_brew_is_over) {
  EXPECT_FALSE(next_reading(drawn(test::bucket(), 64), test::instruments(), 24.0, 24.0).has_value());
}

}  // namespace
}  // namespace barm::brew
