// A count as others use it: how many, and how far off it may be.
#pragma once

#include "quantity/answer.h"

namespace barm::count {

struct Estimate {
  double per_ml = unset;             // or per gram, as the count was
  double ln_standard_error = unset;  // of its natural logarithm
};

}  // namespace barm::count
