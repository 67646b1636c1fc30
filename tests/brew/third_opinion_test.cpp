// A third opinion beside our solver and CVODE: the implicit Runge-Kutta method RADAU5 (Hairer and Wanner) as R's
// deSolve carries it, a test-only dependency.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "brew/brews.h"
#include "brew/desolve/desolve.h"
#include "brew/run.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {

// Tolerance: the accuracy rule of the solver (docs/brew/model.md, section 8).
TEST(third_opinion, radau_takes_the_bucket_where_our_solver_takes_it) {
  const auto setup = test::bucket();
  const Unknowns unknowns(setup, test::priors());
  Members members = draw_members(setup, test::priors(), unknowns, 16, 5);
  std::vector<double> at_h;
  for (int i = 0; i <= 72; ++i) at_h.push_back(0.5 * i);
  const auto theirs = test::by_desolve(
      members,
      {.method = "radau", .relative = 1e-9, .absolute_scale = 1e-6, .at_h = at_h, .member_count = members.count});
  ASSERT_EQ(theirs.paths.size(), 16U) << "R with deSolve is a test package: packages.txt";
  const Stretch ours = run(members, 0.0, 36.0, {}, at_h);
  for (int m = 0; m < members.count; ++m) {
    const std::vector<double>& path = theirs.paths[static_cast<std::size_t>(m)];
    const auto at = [&](std::size_t i, std::size_t state) { return path[i * tea::state_count + state]; };
    for (std::size_t i = 0; i < at_h.size(); ++i) {
      EXPECT_NEAR(ours.of(m, i, tea::oxygen), at(i, tea::S_O), 0.05) << "member " << m << ", hour " << at_h[i];
      EXPECT_NEAR(ours.of(m, i, tea::temperature), at(i, tea::T), 0.01) << "member " << m << ", hour " << at_h[i];
    }
    for (const auto& [seen, state] : {std::pair<tea::Observed, std::size_t>{tea::bacteria, tea::X_B},
                                      std::pair<tea::Observed, std::size_t>{tea::fungi, tea::X_F},
                                      std::pair<tea::Observed, std::size_t>{tea::flagellates, tea::X_P},
                                      std::pair<tea::Observed, std::size_t>{tea::ciliates, tea::X_C}}) {
      double peak = 0.0;
      for (std::size_t i = 0; i < at_h.size(); ++i) peak = std::max(peak, at(i, state));
      for (std::size_t i = 0; i < at_h.size(); ++i)
        EXPECT_NEAR(ours.of(m, i, seen), at(i, state), 0.005 * std::max({at(i, state), 1.0, 0.01 * peak}))
            << "member " << m << ", hour " << at_h[i];
    }
  }
}

}  // namespace
}  // namespace barm::brew
