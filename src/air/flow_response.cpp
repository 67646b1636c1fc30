#include "air/flow_response.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace barm::air {
namespace {

constexpr int least_tests_count = 4;
constexpr double least_flow_ratio = 2.0;      // judged
constexpr double least_usual_exponent = 0.3;  // judged: well under the 0.53 of the jar and the 0.7 and 0.82 of columns
constexpr double surely = 0.95;

void refuse_bad_tests(std::span<const FlowTest> tests, Findings& findings) {
  if (tests.size() < least_tests_count) {
    findings.refuse({.code = "air.flow_response.too_few_tests",
                     .field = "tests",
                     .facts = {{"given", Quantity{static_cast<double>(tests.size()), Dimension::number}},
                               {"least", Quantity{least_tests_count, Dimension::number}}}});
    return;
  }
  const auto is_positive = [](double value) { return std::isfinite(value) && value > 0.0; };
  for (const auto& test : tests) {
    if (is_positive(test.flow_l_per_h) && is_positive(test.kla_per_h)) continue;
    findings.refuse({.code = "air.flow_response.not_positive", .field = "tests", .facts = {}});
    return;
  }
  const auto [low, high] = std::minmax_element(
      tests.begin(), tests.end(), [](const FlowTest& a, const FlowTest& b) { return a.flow_l_per_h < b.flow_l_per_h; });
  if (high->flow_l_per_h < least_flow_ratio * low->flow_l_per_h) {
    findings.refuse({.code = "air.flow_response.flows_too_alike",
                     .field = "tests",
                     .facts = {{"given", Quantity{high->flow_l_per_h / low->flow_l_per_h, Dimension::number}},
                               {"least", Quantity{least_flow_ratio, Dimension::number}}}});
  }
}

}  // namespace

double FlowResponse::kla_per_h(double flow_l_per_h) const {
  return middle_kla_per_h * std::pow(flow_l_per_h / middle_flow_l_per_h, exponent);
}

Answer<FlowResponse> flow_response(std::span<const FlowTest> tests) {
  Findings findings;
  refuse_bad_tests(tests, findings);
  if (findings.refused()) return std::move(findings).refusal<FlowResponse>();

  const auto n = static_cast<double>(tests.size());
  double q_mean = 0.0, k_mean = 0.0;  // of the logarithms
  for (const auto& test : tests) {
    q_mean += std::log(test.flow_l_per_h) / n;
    k_mean += std::log(test.kla_per_h) / n;
  }
  double qq = 0.0, qk = 0.0, kk = 0.0;
  for (const auto& test : tests) {
    const double q = std::log(test.flow_l_per_h) - q_mean;
    const double k = std::log(test.kla_per_h) - k_mean;
    qq += q * q;
    qk += q * k;
    kk += k * k;
  }
  FlowResponse out{.exponent = qk / qq, .middle_flow_l_per_h = std::exp(q_mean), .middle_kla_per_h = std::exp(k_mean)};
  out.scatter_ln = std::sqrt(std::max(kk - out.exponent * qk, 0.0) / (n - 2.0));
  out.exponent_standard_error = out.scatter_ln / std::sqrt(qq);

  const double reach = boost::math::quantile(boost::math::students_t(n - 2.0), surely) * out.exponent_standard_error;
  const std::map<std::string, Remark::Fact> facts{{"given", Quantity{out.exponent, Dimension::number}},
                                                  {"least", Quantity{least_usual_exponent, Dimension::number}}};
  if (out.exponent + reach < least_usual_exponent) {
    findings.refuse({.code = "air.flow_response.none", .field = "tests", .facts = facts});
  } else if (out.exponent - reach <= 0.0) {
    findings.doubt({.code = "air.flow_response.unclear", .field = "tests", .facts = facts});
  }
  return std::move(findings).answer(out);
}

}  // namespace barm::air
