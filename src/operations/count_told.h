// How counts are told: two significant digits, as laboratories report them.
#pragma once

#include <string>

#include "operations/outputs.h"

namespace barm::operations {

inline std::string two_digits(double value) {
  return write({value, Dimension::number}, {}, 2);
}

}  // namespace barm::operations
