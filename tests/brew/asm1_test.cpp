// The process matrix and the solver on the published activated sludge model no. 1 and its benchmark plant (S53, S54):
// what integrates a brew integrates a treatment works.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "brew/batch.h"
#include "brew/process_matrix.h"
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"
#include "support/published.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"

enum State : int { s_i, s_s, x_i, x_s, x_bh, x_ba, x_p, s_o, s_no, s_nh, s_nd, x_nd, s_alk, states };
const std::array<std::string, states> names = {"s_i", "s_s",  "x_i",  "x_s",  "x_bh", "x_ba", "x_p",
                                               "s_o", "s_no", "s_nh", "s_nd", "x_nd", "s_alk"};
enum Parameter : int {
  mu_h,
  k_s,
  k_oh,
  k_no,
  b_h,
  mu_a,
  k_nh,
  k_oa,
  b_a,
  eta_g,
  k_a,
  k_h,
  k_x,
  eta_h,  // kinetics, per day
  kla,
  full,
  dilution,
  inflow,
  parameters = inflow + states  // tank
};

/// Eight processes of the model, then aeration, then the flow through the tank as one process a component.
struct Asm1 {
  static constexpr int state_count = states, process_count = 9 + states, parameter_count = parameters;
  static constexpr int observed_count = states, watched = s_o;
  static constexpr bool forced = false;
  static constexpr auto coefficients = [] {
    constexpr std::array of_model = {
        Cell{0, s_s},   Cell{0, x_bh}, Cell{0, s_o},   Cell{0, s_nh}, Cell{0, s_alk}, Cell{1, s_s},  Cell{1, x_bh},
        Cell{1, s_no},  Cell{1, s_nh}, Cell{1, s_alk}, Cell{2, x_ba}, Cell{2, s_o},   Cell{2, s_no}, Cell{2, s_nh},
        Cell{2, s_alk}, Cell{3, x_s},  Cell{3, x_bh},  Cell{3, x_p},  Cell{3, x_nd},  Cell{4, x_s},  Cell{4, x_ba},
        Cell{4, x_p},   Cell{4, x_nd}, Cell{5, s_nh},  Cell{5, s_nd}, Cell{5, s_alk}, Cell{6, s_s},  Cell{6, x_s},
        Cell{7, s_nd},  Cell{7, x_nd}, Cell{8, s_o}};
    std::array<Cell, of_model.size() + states> all{};
    for (std::size_t i = 0; i < of_model.size(); ++i) all[i] = of_model[i];
    for (int s = 0; s < states; ++s) all[of_model.size() + static_cast<std::size_t>(s)] = {9 + s, s};
    return all;
  }();
  static constexpr auto slopes = [] {
    constexpr std::array of_model = {Cell{0, s_s},  Cell{0, s_o},  Cell{0, x_bh}, Cell{1, s_s},  Cell{1, s_o},
                                     Cell{1, s_no}, Cell{1, x_bh}, Cell{2, s_nh}, Cell{2, s_o},  Cell{2, x_ba},
                                     Cell{3, x_bh}, Cell{4, x_ba}, Cell{5, s_nd}, Cell{5, x_bh}, Cell{6, x_s},
                                     Cell{6, x_bh}, Cell{6, s_o},  Cell{6, s_no}, Cell{7, x_s},  Cell{7, x_bh},
                                     Cell{7, s_o},  Cell{7, s_no}, Cell{7, x_nd}, Cell{8, s_o}};
    std::array<Cell, of_model.size() + states> all{};
    for (std::size_t i = 0; i < of_model.size(); ++i) all[i] = of_model[i];
    for (int s = 0; s < states; ++s) all[of_model.size() + static_cast<std::size_t>(s)] = {9 + s, s};
    return all;
  }();
  static constexpr std::array<double, states> absolute = [] {
    std::array<double, states> a{};
    a.fill(1e-3);
    return a;
  }();
  static constexpr std::array<double, states> floor = [] {
    std::array<double, states> f{};
    f.fill(-1e-2);
    return f;
  }();

  template <class V>
  static void rates(V, const V* y, const V* p, const V*, const V*, V* r) {
    const V m_s = y[s_s] / (p[k_s] + y[s_s]), m_o = y[s_o] / (p[k_oh] + y[s_o]), i_o = p[k_oh] / (p[k_oh] + y[s_o]);
    const V m_no = y[s_no] / (p[k_no] + y[s_no]);
    r[0] = p[mu_h] * m_s * m_o * y[x_bh];
    r[1] = p[mu_h] * m_s * i_o * m_no * p[eta_g] * y[x_bh];
    r[2] = p[mu_a] * y[s_nh] / (p[k_nh] + y[s_nh]) * y[s_o] / (p[k_oa] + y[s_o]) * y[x_ba];
    r[3] = p[b_h] * y[x_bh];
    r[4] = p[b_a] * y[x_ba];
    r[5] = p[k_a] * y[s_nd] * y[x_bh];
    const V open = m_o + p[eta_h] * i_o * m_no;
    const V enzyme = p[k_h] * y[x_bh] / (p[k_x] * y[x_bh] + y[x_s]) * open;
    r[6] = enzyme * y[x_s];
    r[7] = enzyme * y[x_nd];
    r[8] = p[kla] * (p[full] - y[s_o]);
    for (int s = 0; s < states; ++s) r[9 + s] = p[dilution] * (p[inflow + s] - y[s]);
  }
  template <class V>
  static void rate_slopes(V, const V* y, const V* p, const V*, const V*, V* d) {
    const V room_s = 1.0 / (p[k_s] + y[s_s]), room_o = 1.0 / (p[k_oh] + y[s_o]), room_no = 1.0 / (p[k_no] + y[s_no]);
    const V room_a = 1.0 / (p[k_oa] + y[s_o]), room_nh = 1.0 / (p[k_nh] + y[s_nh]);
    const V m_s = y[s_s] * room_s, m_o = y[s_o] * room_o, i_o = p[k_oh] * room_o, m_no = y[s_no] * room_no;
    const V dm_s = p[k_s] * room_s * room_s, dm_o = p[k_oh] * room_o * room_o, dm_no = p[k_no] * room_no * room_no;
    int n = 0;
    d[n++] = p[mu_h] * dm_s * m_o * y[x_bh];
    d[n++] = p[mu_h] * m_s * dm_o * y[x_bh];
    d[n++] = p[mu_h] * m_s * m_o;
    const V anoxic = p[mu_h] * p[eta_g];
    d[n++] = anoxic * dm_s * i_o * m_no * y[x_bh];
    d[n++] = -anoxic * m_s * dm_o * m_no * y[x_bh];
    d[n++] = anoxic * m_s * i_o * dm_no * y[x_bh];
    d[n++] = anoxic * m_s * i_o * m_no;
    const V m_nh = y[s_nh] * room_nh, m_oa = y[s_o] * room_a;
    d[n++] = p[mu_a] * p[k_nh] * room_nh * room_nh * m_oa * y[x_ba];
    d[n++] = p[mu_a] * m_nh * p[k_oa] * room_a * room_a * y[x_ba];
    d[n++] = p[mu_a] * m_nh * m_oa;
    d[n++] = p[b_h];
    d[n++] = p[b_a];
    d[n++] = p[k_a] * y[x_bh];
    d[n++] = p[k_a] * y[s_nd];
    const V open = m_o + p[eta_h] * i_o * m_no, room = 1.0 / (p[k_x] * y[x_bh] + y[x_s]);
    const V d_open_o = dm_o * (1.0 - p[eta_h] * m_no), d_open_no = p[eta_h] * i_o * dm_no;
    for (const V food : {y[x_s], y[x_nd]}) {
      const bool carbon = n == 14;
      const V by_solids = -p[k_h] * y[x_bh] * room * room * open * food;
      d[n++] = carbon ? by_solids + p[k_h] * y[x_bh] * room * open : by_solids;
      d[n++] = p[k_h] * y[x_s] * room * room * open * food;
      d[n++] = p[k_h] * y[x_bh] * room * d_open_o * food;
      d[n++] = p[k_h] * y[x_bh] * room * d_open_no * food;
      if (!carbon) d[n++] = p[k_h] * y[x_bh] * room * open;
    }
    d[n++] = -p[kla];
    for (int s = 0; s < states; ++s) d[n++] = -p[dilution];
  }
  template <class V>
  static void observe(V, const V* y, const V*, const V*, const V*, const V*, V* seen) {
    for (int s = 0; s < states; ++s) seen[s] = y[s];
  }
};
#include "brew/batch_solver.inc"

using Tank = std::map<std::string, double>;

struct Model {
  std::map<std::string, double> known;
  std::vector<double> parameter = std::vector<double>(parameters, 0.0);
  std::vector<double> coefficient;
};

Model model() {
  Model m;
  for (const test::Row& row : test::published("asm1_parameters_bsm1_15c.csv"))
    m.known[row.text("parameter")] = row.number("value");
  const std::array<std::string, 14> kinetics = {"mu_h", "k_s", "k_oh",  "k_no", "b_h", "mu_a", "k_nh",
                                                "k_oa", "b_a", "eta_g", "k_a",  "k_h", "k_x",  "eta_h"};
  for (std::size_t i = 0; i < kinetics.size(); ++i) m.parameter[i] = m.known.at(kinetics[i]);
  std::map<std::pair<int, std::string>, double> printed;
  for (const test::Row& row : test::published("asm1_stoichiometry.csv"))
    printed[{static_cast<int>(row.number("process_no")) - 1, row.text("component")}] =
        row.number("value_at_default_parameters");
  std::size_t used = 0;
  for (const Cell& cell : Asm1::coefficients) {
    if (cell.row >= 8) {
      m.coefficient.push_back(1.0);
      continue;
    }
    m.coefficient.push_back(printed.at({cell.row, names[static_cast<std::size_t>(cell.column)]}));
    ++used;
  }
  EXPECT_EQ(used, printed.size()) << "every printed coefficient has its place in the matrix";
  return m;
}

std::vector<double> integrate(const Model& m, const std::vector<double>& parameter, std::vector<double> state,
                              double days, double relative) {
  Batch batch{.member_count = 1,
              .parameters = parameter.data(),
              .coefficients = m.coefficient.data(),
              .states = state.data(),
              .to_h = days};
  batch.tolerance = {.relative = relative,
                     .absolute_scale = relative,
                     .first_step_h = 1e-6,
                     .largest_step_h = 10.0,
                     .most_steps = 2000000};
  EXPECT_EQ((BatchSolver<Asm1, Wide<2>::Number>(batch).run().failed_member_count), 0);
  return state;
}

std::vector<double> derivative(const Model& m, const std::vector<double>& parameter, const std::vector<double>& state) {
  using V = Wide<2>::Number;
  std::vector<V> y, p, r(Asm1::process_count);
  for (const double x : state) y.push_back(all_lanes<V>(x));
  for (const double x : parameter) p.push_back(all_lanes<V>(x));
  const V on = all_lanes<V>(1.0);
  Asm1::rates<V>(V{}, y.data(), p.data(), &on, &on, r.data());
  std::vector<double> dy(states, 0.0);
  for (std::size_t i = 0; i < Asm1::coefficients.size(); ++i)
    dy[static_cast<std::size_t>(Asm1::coefficients[i].column)] +=
        m.coefficient[i] * r[static_cast<std::size_t>(Asm1::coefficients[i].row)][0];
  return dy;
}

std::vector<double> in_order(const Tank& tank) {
  std::vector<double> state;
  for (const std::string& name : names) state.push_back(tank.at(name));
  return state;
}

std::vector<double> tank_parameters(const Model& m, double kla_per_day, double full_mg_per_l, double dilution_per_day,
                                    const std::vector<double>& from) {
  std::vector<double> p = m.parameter;
  p[kla] = kla_per_day;
  p[full] = full_mg_per_l;
  p[dilution] = dilution_per_day;
  for (std::size_t s = 0; s < states; ++s) p[inflow + s] = from.empty() ? 0.0 : from[s];
  return p;
}

// Source: S53, batch in a closed vessel; eight digits printed, and their own solver's tolerance: 2e-6.
TEST(asm1, batch_runs_agree_with_the_published_states) {
  const Model m = model();
  struct Run {
    double kla = 0.0, full = 0.0;
    std::map<double, Tank> at;
  };
  std::map<std::string, Run> runs;
  for (const test::Row& row : test::published("asm1_batch.csv")) {
    Run& one = runs[row.text("case")];
    one.kla = row.number("kla_per_day");
    one.full = row.number("s_o_sat");
    one.at[row.number("time_days")][row.text("state")] = row.number("value");
  }
  ASSERT_EQ(runs.size(), 2U);
  for (const auto& [name, one] : runs) {
    const auto p = tank_parameters(m, one.kla, one.full, 0.0, {});
    for (const auto& [days, expected] : one.at) {
      if (days == 0.0) continue;
      const auto state = integrate(m, p, in_order(one.at.at(0.0)), days, 1e-8);
      for (std::size_t s = 0; s < states; ++s)
        EXPECT_NEAR(state[s], expected.at(names[s]), 2e-6 * std::max(1.0, std::abs(expected.at(names[s]))))
            << name << ", day " << days << ", " << names[s];
    }
  }
}

// Source: S54 (cstr_matlab) and S53 (cstr_b): steady states of one tank with flow.
TEST(asm1, one_tank_with_flow_comes_to_the_published_steady_state) {
  const Model m = model();
  struct Case {
    double dilution = 0.0, kla = 0.0, full = 0.0;
    Tank in, out;
  };
  std::map<std::string, Case> cases;
  for (const test::Row& row : test::published("asm1_single_cstr_steady_state.csv")) {
    Case& c = cases[row.text("case")];
    c.dilution = row.number("flow_m3_per_day") / row.number("volume_m3");
    c.kla = row.number("kla_per_day");
    c.full = row.number("s_o_sat");
    c.in[row.text("state")] = row.number("influent");
    c.out[row.text("state")] = row.number("steady_state");
  }
  ASSERT_EQ(cases.size(), 2U);
  for (const auto& [name, c] : cases) {
    const auto p = tank_parameters(m, c.kla, c.full, c.dilution, in_order(c.in));
    const auto state = integrate(m, p, in_order(c.in), 400.0, 1e-7);
    const auto change = derivative(m, p, in_order(c.out));
    for (std::size_t s = 0; s < states; ++s) {
      const double printed = c.out.at(names[s]);
      EXPECT_NEAR(state[s], printed, 1e-6 * std::max(1.0, std::abs(printed))) << name << ", " << names[s];
      // Nine digits printed: a state wrong by half of the last moves the derivative by no more than the fastest rate.
      EXPECT_NEAR(change[s], 0.0, 5e-9 * std::max(1.0, printed) * 1500.0) << name << ", d " << names[s] << "/dt";
    }
  }
}

// Source: S53, S54, benchmark plant, open loop, constant influent. Tanks 1, 2 and 4 and the effluent are printed; 3 and
// 5 follow from the tank before. Particulates of the return sludge leave the settler in the proportions of tank 5.
TEST(asm1, derivative_at_the_published_steady_state_of_each_benchmark_tank_is_zero) {
  const Model m = model();
  std::map<std::string, double> plant;
  for (const test::Row& row : test::published("bsm1_layout.csv")) plant[row.text("item")] = row.number("value");
  std::map<std::string, Tank> printed;
  for (const test::Row& row : test::published("bsm1_steady_state.csv"))
    printed[row.text("unit")][row.text("state")] = row.number("value");
  const double flow = plant.at("influent_flow") + plant.at("internal_recycle") + plant.at("return_sludge");
  const auto tank = [&](int n, const std::vector<double>& from) {
    const std::string id = std::to_string(n);
    return tank_parameters(m, plant.at("kla_tank_" + id), plant.at("s_o_sat"), flow / plant.at("volume_tank_" + id),
                           from);
  };
  const auto one = in_order(printed.at("tank_1")), two = in_order(printed.at("tank_2")),
             four = in_order(printed.at("tank_4"));
  const auto three = integrate(m, tank(3, two), two, 20.0, 1e-9);
  const auto five = integrate(m, tank(5, four), four, 20.0, 1e-9);

  // Into tank 1: influent, internal recycle of tank 5, and the settler's underflow.
  const double tss_five = m.known.at("tss_per_cod") * (five[x_i] + five[x_s] + five[x_bh] + five[x_ba] + five[x_p]);
  const double thicker = printed.at("settler_layer_10").at("tss") / tss_five;
  std::vector<double> mixed(states);
  for (std::size_t s = 0; s < states; ++s) {
    const bool particulate = s == x_i || s == x_s || s == x_bh || s == x_ba || s == x_p || s == x_nd;
    mixed[s] = (plant.at("influent_flow") * plant.at("influent_" + names[s]) + plant.at("internal_recycle") * five[s] +
                plant.at("return_sludge") * five[s] * (particulate ? thicker : 1.0)) /
               flow;
  }
  const auto quiet = [&](int n, const std::vector<double>& from, const std::vector<double>& state) {
    const auto change = derivative(m, tank(n, from), state);
    for (std::size_t s = 0; s < states; ++s)  // nine digits printed; turnover of the tank is 92 to 1,500 per day
      EXPECT_NEAR(change[s], 0.0, 2e-7 * std::max(1.0, std::abs(state[s])) * flow / 1000.0)
          << "tank " << n << ", " << names[s];
  };
  quiet(1, mixed, one);
  quiet(2, one, two);
  quiet(4, three, four);
  const Tank& out = printed.at("effluent");  // its dissolved matter is that of tank 5; tolerance printed with the rows
  for (const int s : {s_i, s_s, s_o, s_no, s_nh, s_nd, s_alk})
    EXPECT_NEAR(five[static_cast<std::size_t>(s)], out.at(names[static_cast<std::size_t>(s)]),
                1e-5 * std::max(1.0, out.at(names[static_cast<std::size_t>(s)])))
        << names[static_cast<std::size_t>(s)];
  const double thinner = out.at("tss") / tss_five;
  for (const int s : {x_i, x_s, x_bh, x_ba, x_p, x_nd})
    EXPECT_NEAR(five[static_cast<std::size_t>(s)] * thinner, out.at(names[static_cast<std::size_t>(s)]),
                2e-5 * std::max(1.0, out.at(names[static_cast<std::size_t>(s)])))
        << names[static_cast<std::size_t>(s)];
}

}  // namespace
}  // namespace barm::brew
