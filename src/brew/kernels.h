// The tea model's solver, built once for each instruction set and chosen when the program runs.
#pragma once

#include <string_view>
#include <vector>

#include "brew/batch.h"

namespace barm::brew {

struct Kernel {
  std::string_view name;  // "avx512", "avx2", "baseline"
  int lane_count = 0;
  BatchReport (*solve)(const Batch& batch) = nullptr;
  /// Sorts `lane_count` columns side by side, [row][lane], each ascending; rows a power of two, memory aligned to 64
  /// bytes.
  void (*sort_columns)(double* columns, int row_count) = nullptr;
  bool (*runs_here)() = nullptr;
};

/// Every kernel this build carries, fastest first. The last one runs on any machine the program was built for.
const std::vector<Kernel>& kernels();

/// The fastest kernel this machine can run.
const Kernel& fastest_kernel();

}  // namespace barm::brew
