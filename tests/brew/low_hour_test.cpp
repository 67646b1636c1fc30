#include "brew/low_hour.h"

#include <gtest/gtest.h>

#include <cmath>

namespace barm::brew {
namespace {

Forecast forecast() {
  Forecast f;
  f.time_h = {0.0, 6.0, 12.0, 18.0, 24.0};
  f.oxygen_mg_per_l.p05 = {8.0, 7.0, 3.0, 4.0, 1.0};
  f.oxygen_minimum_at_h.p50 = 11.0;
  return f;
}

TEST(LowHour, is_the_middle_brews_where_it_dips) {
  EXPECT_EQ(low_hour_h(forecast(), 18.0), 11.0);
}

TEST(LowHour, is_that_of_the_hungriest_where_the_middle_brew_starts_at_its_lowest) {
  Forecast f = forecast();
  f.oxygen_minimum_at_h.p50 = 0.1;
  EXPECT_EQ(low_hour_h(f, 18.0), 12.0);
  EXPECT_EQ(low_hour_h(f, 24.0), 24.0);  // what lies beyond the length does not count, what lies within does
}

TEST(LowHour, is_unset_without_figures) {
  EXPECT_TRUE(std::isnan(low_hour_h(Forecast{}, 18.0)));
}

}  // namespace
}  // namespace barm::brew
