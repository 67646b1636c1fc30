// What must hold for any brew: organic matter (as COD, with the oxygen it used) and nitrogen are neither made nor lost.
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
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"
#include "brew/tea_rates.inc"

/// The tea model with one more state: the oxygen that the liquid's own matter has used.
struct Ledger : TeaRates {
  static constexpr int used = tea::state_count;
  static constexpr int state_count = tea::state_count + 1;
  static constexpr auto coefficients = [] {
    constexpr std::size_t known = tea::coefficients.size();
    constexpr std::size_t breathing = [] {
      std::size_t n = 0;
      for (const Cell& c : tea::coefficients)
        n += c.column == tea::S_O && c.row != tea::aeration && c.row != tea::bag_respiration;
      return n;
    }();
    std::array<Cell, known + breathing> all{};
    std::size_t n = 0;
    for (const Cell& c : tea::coefficients) all[n++] = c;
    for (const Cell& c : tea::coefficients)
      if (c.column == tea::S_O && c.row != tea::aeration && c.row != tea::bag_respiration) all[n++] = {c.row, used};
    return all;
  }();
  static constexpr std::array<double, state_count> absolute = [] {
    std::array<double, state_count> a{};
    for (std::size_t i = 0; i < tea::state_count; ++i) a[i] = tea::System::absolute[i];
    a[used] = 1.0;
    return a;
  }();
  static constexpr std::array<double, state_count> floor = [] {
    std::array<double, state_count> f{};
    for (std::size_t i = 0; i < tea::state_count; ++i) f[i] = tea::System::floor[i];
    f[used] = -1.0;
    return f;
  }();
};
#include "brew/batch_solver.inc"

double coefficient(const MemberBuilder::Member& member, int process, int state) {
  for (std::size_t i = 0; i < tea::coefficients.size(); ++i)
    if (tea::coefficients[i].row == process && tea::coefficients[i].column == state) return member.coefficients[i];
  return 0.0;
}

/// Nitrogen in one unit of each state [mg N/mg COD or mg N/mg N].
std::array<double, tea::state_count> nitrogen_in(double n_bacteria) {
  std::array<double, tea::state_count> n{};
  n[tea::S_N] = n[tea::S_ND] = n[tea::X_ND] = 1.0;
  n[tea::X_B] = n_bacteria;
  n[tea::X_F] = test::priors().of("i_NF").middle;
  n[tea::X_P] = n[tea::X_C] = test::priors().of("i_NP").middle;
  return n;
}
std::array<double, tea::state_count> cod_in() {
  std::array<double, tea::state_count> cod{};
  for (const int s : {tea::S_S, tea::S_A, tea::X_S, tea::S_I, tea::X_B, tea::X_F, tea::X_P, tea::X_C})
    cod[static_cast<std::size_t>(s)] = 1.0;
  return cod;
}

struct Drawn {
  MemberBuilder::Member member;
  double n_bacteria;
};
std::vector<Drawn> draw(const Setup& setup, int count, std::uint64_t seed) {
  const Unknowns unknowns(setup, test::priors());
  const MemberBuilder builder(setup, test::priors(), unknowns);
  const auto width = static_cast<std::size_t>(unknowns.count());
  const auto points = scrambled_points(count, unknowns.count(), seed);
  std::vector<Drawn> drawn;
  for (int i = 0; i < count; ++i) {
    const auto values = unknowns.values({points.data() + static_cast<std::size_t>(i) * width, width});
    drawn.push_back({builder.build(values), values[static_cast<std::size_t>(unknowns.place_of("i_NB"))]});
  }
  return drawn;
}

TEST(balance, every_row_of_the_matrix_keeps_cod_and_nitrogen) {
  for (const Drawn& d : draw(test::bucket(), 64, 5)) {
    const auto cod = cod_in(), nitrogen = nitrogen_in(d.n_bacteria);
    for (int process = 0; process < tea::process_count; ++process) {
      if (process == tea::extraction || process == tea::aeration || process == tea::bag_respiration) continue;
      double cod_sum = -coefficient(d.member, process, tea::S_O), nitrogen_sum = 0.0;
      for (int state = 0; state < tea::state_count; ++state) {
        cod_sum += cod[static_cast<std::size_t>(state)] * coefficient(d.member, process, state);
        nitrogen_sum += nitrogen[static_cast<std::size_t>(state)] * coefficient(d.member, process, state);
      }
      EXPECT_NEAR(cod_sum, 0.0, 1e-12) << "COD, process " << process;
      EXPECT_NEAR(nitrogen_sum, 0.0, 1e-12) << "nitrogen, process " << process;
    }
  }
}

/// Held in the compost and still to come out, per unit of h, plus what is in the liquid.
double total(const std::array<double, tea::state_count>& weight, const MemberBuilder::Member& member,
             const double* state) {
  double held = 0.0, sum = 0.0;
  for (int s = 0; s < tea::state_count; ++s) {
    sum += weight[static_cast<std::size_t>(s)] * state[s];
    if (s != tea::h) held += weight[static_cast<std::size_t>(s)] * coefficient(member, tea::extraction, s);
  }
  return sum + held * state[tea::h];
}

TEST(balance, cod_and_nitrogen_close_over_72_hours_for_random_brews) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    brew::Setup setup = test::random_brew(seed);
    for (FoodDose& dose : setup.foods) dose.at_h = 0.0;
    for (const Drawn& d : draw(setup, 8, seed)) {
      std::vector<double> state = d.member.start, coefficients = d.member.coefficients;
      state.push_back(0.0);
      for (const Cell& c : tea::coefficients)
        if (c.column == tea::S_O && c.row != tea::aeration && c.row != tea::bag_respiration)
          coefficients.push_back(-coefficient(d.member, c.row, c.column));
      const auto nitrogen = nitrogen_in(d.n_bacteria);
      const double cod_before = total(cod_in(), d.member, d.member.start.data());
      const double nitrogen_before = total(nitrogen, d.member, d.member.start.data());
      const Event events[] = {
          {.at_h = 20.0, .air_on = 0.0}, {.at_h = 30.0, .air_on = 1.0}, {.at_h = 40.0, .bag_in = 0.0}};
      const Batch batch{.member_count = 1,
                        .parameters = d.member.parameters.data(),
                        .coefficients = coefficients.data(),
                        .states = state.data(),
                        .to_h = 72.0,
                        .events = events};
      const BatchReport report = BatchSolver<Ledger, Wide<2>::Number>(batch).run();
      ASSERT_EQ(report.failed_member_count, 0) << "seed " << seed;
      const double cod_after = total(cod_in(), d.member, state.data()) + state[Ledger::used];
      EXPECT_NEAR(cod_after / cod_before, 1.0, 1e-6) << "seed " << seed;
      EXPECT_NEAR(total(nitrogen, d.member, state.data()) / nitrogen_before, 1.0, 1e-6) << "seed " << seed;
      EXPECT_GT(state[Ledger::used], 1e-3 * cod_before) << "the brew breathed, so that the balance means something";
      for (int s = 0; s < tea::state_count; ++s)
        EXPECT_GE(state[static_cast<std::size_t>(s)], tea::System::floor[static_cast<std::size_t>(s)])
            << "state " << s << ", seed " << seed;
    }
  }
}

}  // namespace
}  // namespace barm::brew
