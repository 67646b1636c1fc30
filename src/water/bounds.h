// What a number given about water may be. A number outside is refused under the code of the end it passed.
#pragma once

#include <cmath>
#include <string>

#include "quantity/answer.h"

namespace barm::water {

struct Bounds {
  const char* field;
  Dimension dimension;
  double least;
  double most;
  bool least_allowed;  // false: the number must be more than `least`
  const char* not_a_number;
  const char* below;
  const char* above;
};

inline Remark remark_on(const Bounds& in, const char* code, double given) {
  return {.code = code,
          .field = in.field,
          .facts = {{"given", Quantity{given, in.dimension}},
                    {"least", Quantity{in.least, in.dimension}},
                    {"most", Quantity{in.most, in.dimension}}}};
}

/// Refuses `given` when it is outside; says whether it is inside.
inline bool check(const Bounds& in, double given, Findings& findings) {
  if (!std::isfinite(given)) {
    Remark remark = remark_on(in, in.not_a_number, given);
    remark.facts.erase("given");  // there is no number to show
    findings.refuse(std::move(remark));
    return false;
  }
  if (in.least_allowed ? given < in.least : given <= in.least) {
    findings.refuse(remark_on(in, in.below, given));
    return false;
  }
  if (given > in.most) {
    findings.refuse(remark_on(in, in.above, given));
    return false;
  }
  return true;
}

}  // namespace barm::water
