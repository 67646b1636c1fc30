// Our solver against SUNDIALS CVODE (BDF, rtol 1e-10), a test-only dependency, on members drawn from the priors.
// Accuracy rule: oxygen within 0.05 mg/L, every biomass within 0.5 % of max(value, 1 mg/L, 1 % of the member's peak).
#include <cvode/cvode.h>
#include <gtest/gtest.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "brew/brews.h"
#include "brew/process_matrix.h"
#include "brew/run.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"
#include "brew/tea_rates.inc"

using V = Wide<2>::Number;

struct Problem {
  std::vector<V> parameters;
  const double* coefficients = nullptr;
  V air_on = all_lanes<V>(1.0), bag_in = all_lanes<V>(1.0);
};

int derivative(realtype, N_Vector y, N_Vector dy, void* data) {
  const auto& problem = *static_cast<const Problem*>(data);
  V state[tea::state_count], rate[tea::process_count];
  for (int i = 0; i < tea::state_count; ++i) state[i] = all_lanes<V>(NV_Ith_S(y, i));
  TeaRates::rates<V>(V{}, state, problem.parameters.data(), &problem.air_on, &problem.bag_in, rate);
  for (int i = 0; i < tea::state_count; ++i) NV_Ith_S(dy, i) = 0.0;
  for (std::size_t i = 0; i < tea::coefficients.size(); ++i)
    NV_Ith_S(dy, tea::coefficients[i].column) += problem.coefficients[i] * rate[tea::coefficients[i].row][0];
  return 0;
}

void fall_in(const Members& members, int member, std::size_t food, N_Vector y) {
  const auto row = static_cast<std::size_t>(member) * members.additions_at.size() + food;
  for (int i = 0; i < tea::state_count; ++i)
    NV_Ith_S(y, i) += members.additions[row * tea::state_count + static_cast<std::size_t>(i)];
}

void change_room(const Members& members, int member, std::size_t change, Problem& problem) {
  constexpr auto& shifted = tea::System::shifted;
  for (std::size_t i = 0; i < shifted.size(); ++i) {
    const auto which = static_cast<std::size_t>(shifted[i]);
    const double own = members.parameters[static_cast<std::size_t>(member * tea::parameter_count) + which];
    problem.parameters[which] = all_lanes<V>(own + members.room_shifts[change * shifted.size() + i]);
  }
}

/// CVODE's states at each hour, [at][state]; later foods fall in at their hours, and the room changes at its own.
std::vector<double> reference(const Members& members, int member, const std::vector<double>& at_h) {
  Problem problem;
  for (int i = 0; i < tea::parameter_count; ++i)
    problem.parameters.push_back(
        all_lanes<V>(members.parameters[static_cast<std::size_t>(member * tea::parameter_count + i)]));
  problem.coefficients = members.coefficients.data() + static_cast<std::size_t>(member) * tea::coefficients.size();
  sundials::Context context;
  N_Vector y = N_VNew_Serial(tea::state_count, context);
  for (int i = 0; i < tea::state_count; ++i)
    NV_Ith_S(y, i) = members.states[static_cast<std::size_t>(member * tea::state_count + i)];
  void* solver = CVodeCreate(CV_BDF, context);
  EXPECT_EQ(CVodeInit(solver, derivative, 0.0, y), CV_SUCCESS);
  EXPECT_EQ(CVodeSStolerances(solver, 1e-10, 1e-12), CV_SUCCESS);
  EXPECT_EQ(CVodeSetUserData(solver, &problem), CV_SUCCESS);
  SUNMatrix matrix = SUNDenseMatrix(tea::state_count, tea::state_count, context);
  SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
  EXPECT_EQ(CVodeSetLinearSolver(solver, linear, matrix), CV_SUCCESS);
  CVodeSetMaxNumSteps(solver, 1000000);
  std::vector<double> states;
  double t = 0.0;
  const auto go_to = [&](double at) {
    if (at <= t) return;
    CVodeSetStopTime(solver, at);
    EXPECT_GE(CVode(solver, at, y, &t, CV_NORMAL), 0);
  };
  std::size_t next_food = 0, next_room = 0;
  const auto next_at = [](const auto& all, std::size_t next, auto hour) {
    return next < all.size() ? hour(all[next]) : 1e9;
  };
  for (const double at : at_h) {
    for (;;) {
      const double food_h = next_at(members.additions_at, next_food, [](const Event& event) { return event.at_h; });
      const double room_h = next_at(members.room_from_h, next_room, [](double hour) { return hour; });
      if (std::min(food_h, room_h) > at) break;
      go_to(std::min(food_h, room_h));
      if (food_h <= room_h) {
        fall_in(members, member, next_food++, y);
      } else {
        change_room(members, member, next_room++, problem);
      }
      EXPECT_EQ(CVodeReInit(solver, t, y), CV_SUCCESS);
    }
    go_to(at);
    for (int i = 0; i < tea::state_count; ++i) states.push_back(NV_Ith_S(y, i));
  }
  CVodeFree(&solver);
  SUNLinSolFree(linear);
  SUNMatDestroy(matrix);
  N_VDestroy(y);
  return states;
}

struct Worst {
  double oxygen_mg_per_l = 0.0, biomass_share = 0.0;
};

Worst compare(const Setup& setup, int count, std::uint64_t seed) {
  const Unknowns unknowns(setup, test::priors());
  const Members start = draw_members(setup, test::priors(), unknowns, count, seed);
  std::vector<double> at_h;
  for (int i = 0; i <= 144; ++i) at_h.push_back(0.25 * i);
  Members moved = start;
  const Stretch ours = run(moved, 0.0, 36.0, {}, at_h);
  EXPECT_EQ(ours.report.failed_member_count, 0);
  constexpr std::array<std::pair<tea::Observed, tea::State>, 4> lives = {
      {{tea::bacteria, tea::X_B}, {tea::fungi, tea::X_F}, {tea::flagellates, tea::X_P}, {tea::ciliates, tea::X_C}}};
  Worst worst;
  for (int m = 0; m < count; ++m) {
    const std::vector<double> theirs = reference(start, m, at_h);
    const auto at = [&](std::size_t i, int state) {
      return theirs[i * tea::state_count + static_cast<std::size_t>(state)];
    };
    for (std::size_t i = 0; i < at_h.size(); ++i)
      worst.oxygen_mg_per_l = std::max(worst.oxygen_mg_per_l, std::abs(ours.of(m, i, tea::oxygen) - at(i, tea::S_O)));
    for (const auto& [seen, state] : lives) {
      double peak = 0.0;
      for (std::size_t i = 0; i < at_h.size(); ++i) peak = std::max(peak, at(i, state));
      for (std::size_t i = 0; i < at_h.size(); ++i)
        worst.biomass_share = std::max(worst.biomass_share, std::abs(ours.of(m, i, seen) - at(i, state)) /
                                                                std::max({at(i, state), 1.0, 0.01 * peak}));
    }
  }
  return worst;
}

/// More members by BARM_DEEP=1 (./check --deep): 2,000 of the bucket, 2,000 random plans.
bool deep() {
  return std::getenv("BARM_DEEP") != nullptr;
}

TEST(cvode, the_bucket_agrees_at_every_output_on_every_member) {
  const Worst worst = compare(test::bucket(), deep() ? 2000 : 48, 1);
  RecordProperty("worst_oxygen_mg_per_l", std::to_string(worst.oxygen_mg_per_l));
  EXPECT_LT(worst.oxygen_mg_per_l, 0.05);
  EXPECT_LT(worst.biomass_share, 0.005);
  std::printf("worst oxygen %.4f mg/L, worst biomass %.4f %%\n", worst.oxygen_mg_per_l, 100.0 * worst.biomass_share);
}

TEST(cvode, random_plans_agree_at_every_output) {
  Worst worst;
  for (std::uint64_t seed = 1; seed <= (deep() ? 2000 : 40); ++seed) {
    const Worst one = compare(test::random_brew(seed), 2, seed);
    EXPECT_LT(one.oxygen_mg_per_l, 0.05) << "plan " << seed;
    EXPECT_LT(one.biomass_share, 0.005) << "plan " << seed;
    worst = {std::max(worst.oxygen_mg_per_l, one.oxygen_mg_per_l), std::max(worst.biomass_share, one.biomass_share)};
  }
  std::printf("worst oxygen %.4f mg/L, worst biomass %.4f %%\n", worst.oxygen_mg_per_l, 100.0 * worst.biomass_share);
}

}  // namespace
}  // namespace barm::brew
