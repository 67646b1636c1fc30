// The solver on numbers that count what is done to them.
#pragma once

#include <cstdint>

#include "benchmarks/brew/members.h"

namespace barm::bench {

struct Work {
  std::int64_t flops = 0;  // additions, multiplications, divisions and square roots
  std::int64_t steps = 0, rejected = 0;
};
/// Work of taking all members through the output hours.
Work work_of(const brew::Members& members);

}  // namespace barm::bench
