// The order of the solver and of its dense output, on a problem whose answer is known and whose forcing changes with
// time.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "brew/batch.h"
#include "brew/process_matrix.h"
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"

// u' = u cos t;  v' = -k (v - sin^2 t) + 2 sin t cos t + (u - e^(sin t)):  u = e^(sin t), v = sin^2 t for any k.
struct Forced {
  static constexpr int state_count = 2, process_count = 2, parameter_count = 1, observed_count = 2, watched = 0;
  static constexpr bool forced = true;
  static constexpr std::array coefficients = {Cell{0, 0}, Cell{1, 1}};
  static constexpr std::array slopes = {Cell{0, 0}, Cell{1, 0}, Cell{1, 1}};
  static constexpr std::array<double, 2> absolute = {1.0, 1.0}, floor = {-1e9, -1e9};

  template <class V>
  static void each(V t, double (*f)(double), V& out) {
    for (int i = 0; i < LaneCount<V>::value; ++i) out[i] = f(t[i]);
  }
  template <class V>
  static void rates(V t, const V* y, const V* p, const V*, const V*, V* r) {
    V cosine, square, forcing;
    each<V>(
        t, [](double x) { return std::cos(x); }, cosine);
    each<V>(
        t, [](double x) { return std::sin(x) * std::sin(x); }, square);
    each<V>(
        t, [](double x) { return 2.0 * std::sin(x) * std::cos(x) - std::exp(std::sin(x)); }, forcing);
    r[0] = y[0] * cosine;
    r[1] = p[0] * (square - y[1]) + forcing + y[0];
  }
  template <class V>
  static void rate_slopes(V t, const V*, const V* p, const V*, const V*, V* d) {
    each<V>(
        t, [](double x) { return std::cos(x); }, d[0]);
    d[1] = all_lanes<V>(1.0);
    d[2] = -p[0];
  }
  template <class V>
  static void rate_time_slopes(V t, const V* y, const V* p, const V*, const V*, V* r) {
    V sine, double_sine, forcing;
    each<V>(
        t, [](double x) { return -std::sin(x); }, sine);
    each<V>(
        t, [](double x) { return std::sin(2.0 * x); }, double_sine);
    each<V>(
        t, [](double x) { return 2.0 * std::cos(2.0 * x) - std::cos(x) * std::exp(std::sin(x)); }, forcing);
    r[0] = y[0] * sine;
    r[1] = p[0] * double_sine + forcing;
  }
  template <class V>
  static void observe(V, const V* y, const V*, const V*, const V*, const V*, V* seen) {
    seen[0] = y[0];
    seen[1] = y[1];
  }
};
#include "brew/batch_solver.inc"

constexpr double end = 3.2;

struct Errors {
  double at_end = 0.0, between = 0.0;
};

/// Largest error with steps of equal length: at the end, and half way through each step (dense output).
Errors errors(int steps, double stiffness) {
  const double parameter[1] = {stiffness}, coefficient[2] = {1.0, 1.0};
  double state[2] = {1.0, 0.0};
  const double h = end / steps;
  std::vector<double> at;
  for (int i = 0; i < steps; ++i) at.push_back((i + 0.5) * h);
  std::vector<double> seen(at.size() * 2);
  Batch batch{.member_count = 1,
              .parameters = parameter,
              .coefficients = coefficient,
              .states = state,
              .from_h = 0.0,
              .to_h = end,
              .output_at_h = at,
              .outputs = seen.data()};
  batch.tolerance = {.relative = 1e9, .absolute_scale = 1e9, .first_step_h = h, .largest_step_h = h};
  const BatchReport report = BatchSolver<Forced, Wide<2>::Number>(batch).run();
  EXPECT_EQ(report.step_count, steps);
  Errors e;
  e.at_end = std::max(std::abs(state[0] - std::exp(std::sin(end))), std::abs(state[1] - std::pow(std::sin(end), 2)));
  for (std::size_t i = 0; i < at.size(); ++i)
    e.between = std::max({e.between, std::abs(seen[2 * i] - std::exp(std::sin(at[i]))),
                          std::abs(seen[2 * i + 1] - std::pow(std::sin(at[i]), 2))});
  return e;
}

double order(double coarse, double fine) {
  return std::log2(coarse / fine);
}

TEST(rodas4, halving_the_step_divides_the_error_by_sixteen_with_time_varying_forcing) {
  EXPECT_GT(order(errors(160, 1.0).at_end, errors(320, 1.0).at_end), 3.85);
  EXPECT_GT(order(errors(320, 1.0).at_end, errors(640, 1.0).at_end), 3.9);
}

TEST(rodas4, a_stiff_problem_keeps_the_order_at_the_end) {
  EXPECT_GT(order(errors(640, 50.0).at_end, errors(1280, 50.0).at_end), 3.75);
}

TEST(rodas4, dense_output_is_of_third_order_or_better) {
  EXPECT_GT(order(errors(40, 1.0).between, errors(80, 1.0).between), 3.4);  // local error of order 4
  EXPECT_GT(order(errors(80, 1.0).between, errors(160, 1.0).between), 3.4);
}

TEST(rodas4, a_tighter_tolerance_gives_a_smaller_error) {
  double last = 1.0;
  for (const double relative : {1e-3, 1e-5, 1e-7}) {
    const double parameter[1] = {5.0}, coefficient[2] = {1.0, 1.0};
    double state[2] = {1.0, 0.0};
    Batch batch{.member_count = 1, .parameters = parameter, .coefficients = coefficient, .states = state, .to_h = end};
    batch.tolerance = {.relative = relative, .absolute_scale = relative};
    BatchSolver<Forced, Wide<2>::Number>(batch).run();
    const double error = std::abs(state[1] - std::pow(std::sin(end), 2));
    EXPECT_LT(error, 0.2 * last);
    EXPECT_LT(error, 10.0 * relative);
    last = error;
  }
}

}  // namespace
}  // namespace barm::brew
