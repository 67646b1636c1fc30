#include <chrono>

#include "benchmarks/brew/fma_peak.h"

namespace barm::bench {
namespace {
#include "brew/lanes.inc"
#include "benchmarks/brew/fma_peak.inc"
}  // namespace

double peak_avx2() {
  return peak<4>();
}

}  // namespace barm::bench
