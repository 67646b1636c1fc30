// The tea model's solver, 4 members to a register (AVX2 with fused multiply-add).
#include <utility>

#include "brew/batch.h"
#include "brew/process_matrix.h"
#include "brew/rodas4.h"
#include "brew/sparse_lu.h"
#include "brew/tea.h"

namespace barm::brew {
namespace {
#include "brew/lanes.inc"
#include "brew/tea_rates.inc"
#include "brew/batch_solver.inc"
#include "brew/sorter.inc"
}  // namespace

BatchReport solve_avx2(const Batch& batch) {
  return BatchSolver<TeaRates, Wide<4>::Number>(batch).run();
}

void sort_columns_avx2(double* columns, int row_count) {
  sort_side_by_side(reinterpret_cast<Wide<4>::Number*>(columns), row_count);
}

}  // namespace barm::brew
