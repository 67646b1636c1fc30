// The analytic partial derivatives of the tea model against central differences, and the rates against hand figures.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "brew/batch.h"
#include "brew/brews.h"
#include "brew/draws.h"
#include "brew/member.h"
#include "brew/process_matrix.h"
#include "brew/tea.h"
#include "support/published.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"
#include "brew/tea_rates.inc"

using V = Wide<2>::Number;

std::vector<V> spread_out(const std::vector<double>& values) {
  std::vector<V> wide;
  for (const double value : values) wide.push_back(all_lanes<V>(value));
  return wide;
}

TEST(tea_slopes, every_partial_derivative_agrees_with_differences) {
  const brew::Setup setup = test::bucket();
  const Unknowns unknowns(setup, test::priors());
  const MemberBuilder builder(setup, test::priors(), unknowns);
  const int points = 64;
  const auto width = static_cast<std::size_t>(unknowns.count());
  const auto at = scrambled_points(points, unknowns.count(), 11);
  const auto where = scrambled_points(points, tea::state_count, 12);
  const V on = all_lanes<V>(1.0);
  for (int n = 0; n < points; ++n) {
    const auto member = builder.build(unknowns.values({at.data() + static_cast<std::size_t>(n) * width, width}));
    const auto p = spread_out(member.parameters);
    // Somewhere in the middle of a brew; temperatures on both sides of where growth changes its law.
    const std::array<double, tea::state_count> size = {900, 5,   1, 10,   1,   15, 1, 5, 5,
                                                       100, 800, 9, 2500, 900, 30, 5, 38};
    std::vector<double> y;
    for (int i = 0; i < tea::state_count; ++i)
      y.push_back(size[static_cast<std::size_t>(i)] *
                  (0.02 + 0.98 * where[static_cast<std::size_t>(n * tea::state_count + i)]));
    std::vector<V> slope(tea::slopes.size());
    TeaRates::rate_slopes<V>(V{}, spread_out(y).data(), p.data(), &on, &on, slope.data());
    for (std::size_t s = 0; s < tea::slopes.size(); ++s) {
      const auto [process, state] = tea::slopes[s];
      const double step = 1e-6 * std::max(1e-3, std::abs(y[static_cast<std::size_t>(state)]));
      auto up = y, down = y;
      up[static_cast<std::size_t>(state)] += step;
      down[static_cast<std::size_t>(state)] -= step;
      std::vector<V> high(tea::process_count), low(tea::process_count);
      TeaRates::rates<V>(V{}, spread_out(up).data(), p.data(), &on, &on, high.data());
      TeaRates::rates<V>(V{}, spread_out(down).data(), p.data(), &on, &on, low.data());
      const auto row = static_cast<std::size_t>(process);
      const double difference = (high[row][0] - low[row][0]) / (2.0 * step);
      const double scale =
          std::max({std::abs(difference),
                    std::abs(high[row][0]) / std::max(1.0, std::abs(y[static_cast<std::size_t>(state)])), 1e-9});
      EXPECT_NEAR(slope[s][0], difference, 2e-5 * scale)
          << "process " << process << " by state " << state << ", point " << n;
    }
  }
}

TEST(tea_slopes, a_rate_depends_on_nothing_its_row_does_not_name) {
  const brew::Setup setup = test::bucket();
  const Unknowns unknowns(setup, test::priors());
  const auto member = MemberBuilder(setup, test::priors(), unknowns).build(unknowns.middles());
  const auto p = spread_out(member.parameters);
  const V on = all_lanes<V>(1.0);
  const std::vector<double> y = {900, 2, 0.5, 5, 0.5, 8, 0.5, 1, 1, 20, 300, 4, 1500, 500, 10, 2, 18};
  std::vector<V> base(tea::process_count), moved(tea::process_count);
  TeaRates::rates<V>(V{}, spread_out(y).data(), p.data(), &on, &on, base.data());
  for (int state = 0; state < tea::state_count; ++state) {
    auto other = y;
    other[static_cast<std::size_t>(state)] *= 1.1;
    TeaRates::rates<V>(V{}, spread_out(other).data(), p.data(), &on, &on, moved.data());
    for (int process = 0; process < tea::process_count; ++process) {
      bool named = false;
      for (const Cell& slope : tea::slopes) named = named || (slope.row == process && slope.column == state);
      if (named) continue;
      EXPECT_EQ(base[static_cast<std::size_t>(process)][0], moved[static_cast<std::size_t>(process)][0])
          << "process " << process << " moves with state " << state;
    }
  }
}

// Source: S55, cardinal temperature model with inflection; eight significant digits printed: half a unit in the last.
TEST(tea_slopes, cardinal_model_gives_the_published_growth_rates) {
  for (const test::Row& row : test::published("ctmi_cases.csv")) {
    V slope;
    const V factor = TeaRates::cardinal<V>(all_lanes<V>(row.number("temp_c")), row.number("t_min_c"),
                                           row.number("t_opt_c"), row.number("t_max_c"), slope);
    const double expected = row.number("mu_per_h");
    EXPECT_NEAR(factor[0] * row.number("mu_opt_per_h"), expected, 5e-8 * std::max(0.1, expected)) << row.text("id");
  }
}

TEST(tea_slopes, exponential_agrees_with_the_library) {
  for (double x = -40.0; x < 40.0; x += 0.0137)
    EXPECT_NEAR(exponential(all_lanes<V>(x))[1] / std::exp(x), 1.0, 2e-11) << x;
}

TEST(tea_slopes, growth_is_continuous_where_its_law_changes) {
  V slope;
  const V ln_theta = all_lanes<V>(std::log(1.07));
  const double below = TeaRates::growth_factor<V>(all_lanes<V>(30.0 - 1e-9), ln_theta, slope)[0];
  const double above = TeaRates::growth_factor<V>(all_lanes<V>(30.0 + 1e-9), ln_theta, slope)[0];
  EXPECT_NEAR(below, above, 1e-7);
  EXPECT_EQ(TeaRates::growth_factor<V>(all_lanes<V>(43.0), ln_theta, slope)[0], 0.0);
}

}  // namespace
}  // namespace barm::brew
