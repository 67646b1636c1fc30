// What this machine's multiply-and-add units can do at most, measured: a loop of nothing else, in registers.
#pragma once

#include <string_view>

namespace barm::bench {

/// Floating-point operations per second of one thread with the instruction set a kernel is named after; a fused
/// multiply-add counts as two. Zero when this build carries no such instructions.
double peak_flops_per_s(std::string_view kernel);

double peak_baseline();
double peak_avx2();
double peak_avx512();

}  // namespace barm::bench
