#include "brew/kernels.h"

namespace barm::brew {

BatchReport solve_baseline(const Batch& batch);
void sort_columns_baseline(double* columns, int row_count);
#ifdef __x86_64__
BatchReport solve_avx2(const Batch& batch);
void sort_columns_avx2(double* columns, int row_count);
BatchReport solve_avx512(const Batch& batch);
void sort_columns_avx512(double* columns, int row_count);
#endif

const std::vector<Kernel>& kernels() {
  static const std::vector<Kernel> all = {
#ifdef __x86_64__
      {"avx512", 8, solve_avx512, sort_columns_avx512,
       [] { return __builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512dq") != 0; }},
      {"avx2", 4, solve_avx2, sort_columns_avx2,
       [] { return __builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0; }},
#endif
      {"baseline", 2, solve_baseline, sort_columns_baseline, [] { return true; }}};
  return all;
}

const Kernel& fastest_kernel() {
  for (const Kernel& kernel : kernels())
    if (kernel.runs_here()) return kernel;
  return kernels().back();
}

}  // namespace barm::brew
