#include <chrono>

#include "benchmarks/brew/fma_peak.h"

namespace barm::bench {
namespace {
#include "brew/lanes.inc"
#include "benchmarks/brew/fma_peak.inc"
}  // namespace

double peak_avx512() {
  return peak<8>();
}

}  // namespace barm::bench
