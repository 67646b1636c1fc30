#include "benchmarks/brew/fma_peak.h"

#include <chrono>

namespace barm::bench {
namespace {
#include "brew/lanes.inc"
#include "benchmarks/brew/fma_peak.inc"
}  // namespace

double peak_baseline() {
  return peak<2>();
}

double peak_flops_per_s(std::string_view kernel) {
  if (kernel == "avx512") return peak_avx512();
  if (kernel == "avx2") return peak_avx2();
  return peak_baseline();
}

}  // namespace barm::bench
