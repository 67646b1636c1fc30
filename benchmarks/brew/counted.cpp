#include "benchmarks/brew/counted.h"

#include <cmath>
#include <utility>
#include <vector>

#include "brew/batch.h"
#include "brew/process_matrix.h"
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {

std::int64_t counted_flops = 0;

/// A lane-wide number of one lane, in the words lanes.inc speaks.
struct Counted {
  double value = 0.0;
  double& operator[](int) { return value; }
  double operator[](int) const { return value; }
};
struct CountedMask {
  long long value = 0;
  long long& operator[](int) { return value; }
  long long operator[](int) const { return value; }
  CountedMask& operator&=(CountedMask other) {
    value &= other.value;
    return *this;
  }
};
Counted done(double value) {
  ++counted_flops;
  return {value};
}
CountedMask said(bool holds) {
  return {holds ? -1LL : 0LL};
}
Counted operator+(Counted a, Counted b) {
  return done(a.value + b.value);
}
Counted operator-(Counted a, Counted b) {
  return done(a.value - b.value);
}
Counted operator*(Counted a, Counted b) {
  return done(a.value * b.value);
}
Counted operator/(Counted a, Counted b) {
  return done(a.value / b.value);
}
Counted operator+(Counted a, double b) {
  return done(a.value + b);
}
Counted operator-(Counted a, double b) {
  return done(a.value - b);
}
Counted operator*(Counted a, double b) {
  return done(a.value * b);
}
Counted operator/(Counted a, double b) {
  return done(a.value / b);
}
Counted operator+(double a, Counted b) {
  return done(a + b.value);
}
Counted operator-(double a, Counted b) {
  return done(a - b.value);
}
Counted operator*(double a, Counted b) {
  return done(a * b.value);
}
Counted operator/(double a, Counted b) {
  return done(a / b.value);
}
Counted operator-(Counted a) {
  return {-a.value};
}
Counted& operator+=(Counted& a, Counted b) {
  return a = a + b;
}
Counted& operator-=(Counted& a, Counted b) {
  return a = a - b;
}
Counted& operator*=(Counted& a, Counted b) {
  return a = a * b;
}
CountedMask operator<(Counted a, Counted b) {
  return said(a.value < b.value);
}
CountedMask operator>(Counted a, Counted b) {
  return said(a.value > b.value);
}
CountedMask operator>=(Counted a, Counted b) {
  return said(a.value >= b.value);
}
CountedMask operator<=(Counted a, Counted b) {
  return said(a.value <= b.value);
}
CountedMask operator<(Counted a, double b) {
  return said(a.value < b);
}
CountedMask operator>(Counted a, double b) {
  return said(a.value > b);
}
CountedMask operator>=(Counted a, double b) {
  return said(a.value >= b);
}
CountedMask operator<=(Counted a, double b) {
  return said(a.value <= b);
}
CountedMask operator&(CountedMask a, CountedMask b) {
  return {a.value & b.value};
}
CountedMask operator~(CountedMask a) {
  return {~a.value};
}
CountedMask operator!=(CountedMask a, int b) {
  return said(a.value != b);
}

template <class V>
struct LaneCount {
  static constexpr int value = 1;
};
template <class V>
using MaskOf = CountedMask;
template <class V>
Counted all_lanes(double x) {
  return {x};
}
template <class V>
Counted pick(CountedMask where, Counted yes, Counted no) {
  return where.value != 0 ? yes : no;
}
Counted larger(Counted a, Counted b) {
  return a.value > b.value ? a : b;
}
Counted smaller(Counted a, Counted b) {
  return a.value < b.value ? a : b;
}
bool any(CountedMask mask) {
  return mask.value != 0;
}
Counted exponential(Counted x) {
  counted_flops += 25;  // as in lanes.inc: 7 to reduce, 18 for the polynomial
  return {std::exp(x.value)};
}
Counted square_root(Counted x) {
  return done(std::sqrt(x.value));
}

#include "brew/tea_rates.inc"
#include "brew/batch_solver.inc"

}  // namespace
}  // namespace barm::brew

namespace barm::bench {

Work work_of(const brew::Members& members) {
  using namespace brew;
  std::vector<double> states = members.states;
  std::vector<double> outputs(static_cast<std::size_t>(members.count) * output_hours().size() * tea::observed_count);
  const Event start;
  const Batch batch{.member_count = members.count,
                    .parameters = members.parameters.data(),
                    .coefficients = members.coefficients.data(),
                    .states = states.data(),
                    .to_h = horizon_h,
                    .events = {&start, 1},
                    .output_at_h = output_hours(),
                    .outputs = outputs.data()};
  counted_flops = 0;
  const BatchReport report = BatchSolver<TeaRates, Counted>(batch).run();
  return {.flops = counted_flops, .steps = report.step_count, .rejected = report.rejected_count};
}

}  // namespace barm::bench
