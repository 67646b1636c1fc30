// What a number given about the air may be. A number outside is refused, under one code when it is missing or not a
// number and another when it is too small or too large.
#pragma once

#include <cmath>

#include "quantity/answer.h"

namespace barm::air {

struct Bounds {
  const char* missing;
  const char* out_of_range;
  const char* field;
  Dimension dimension;
  double least;
  double most;
};

inline Remark outside(const Bounds& in, double given) {
  return {.code = in.out_of_range,
          .field = in.field,
          .facts = {{"given", Quantity{given, in.dimension}},
                    {"least", Quantity{in.least, in.dimension}},
                    {"most", Quantity{in.most, in.dimension}}}};
}

/// Refuses `given` when it is outside; says whether it is inside.
inline bool inside(const Bounds& in, double given, Findings& findings) {
  if (!std::isfinite(given)) {
    findings.refuse(
        {.code = in.missing,
         .field = in.field,
         .facts = {{"least", Quantity{in.least, in.dimension}}, {"most", Quantity{in.most, in.dimension}}}});
    return false;
  }
  if (given < in.least || given > in.most) {
    findings.refuse(outside(in, given));
    return false;
  }
  return true;
}

}  // namespace barm::air
