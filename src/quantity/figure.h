// A figure with its bounds, as data files hold it: { value = 0.8, low = 0.65, high = 0.9, unit = "g/g", source = "M18"
// }.
#pragma once

#include "quantity/answer.h"

namespace barm {

struct Figure {
  double value = unset;
  double low = unset;  // 5 % bound
  double high = unset;
};

}  // namespace barm
