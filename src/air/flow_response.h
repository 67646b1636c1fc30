// Several re-aeration tests of one vessel at several flows: does KLa answer to the air? When it does not, something
// other than the air was measured, however well each curve fits. Method: docs/air/reaeration.md
#pragma once

#include <span>

#include "quantity/answer.h"

namespace barm::air {

struct FlowTest {
  double flow_l_per_h = unset;  // of free air, as set or read
  double kla_per_h = unset;     // fitted, all at one temperature
};

struct FlowResponse {
  double exponent = unset;  // KLa grows as flow to this power; 0.5 to 0.85 is usual
  double exponent_standard_error = unset;
  double middle_flow_l_per_h = unset;  // geometric mean, where the law is surest
  double middle_kla_per_h = unset;
  double scatter_ln = unset;  // standard deviation of ln KLa about the law
  double kla_per_h(double flow_l_per_h) const;
};

/// Straight line through ln KLa against ln flow. Refuses fewer than four tests, flows less than a factor of two apart,
/// numbers that are not positive, and a failed series: one whose exponent is surely (95 %) under 0.3, since no bubbled
/// vessel answers so little. Doubts a series that can not tell its exponent from none.
Answer<FlowResponse> flow_response(std::span<const FlowTest> tests);

}  // namespace barm::air
