// The tea model's solver, 8 members to a register (AVX-512).
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

BatchReport solve_avx512(const Batch& batch) {
  return BatchSolver<TeaRates, Wide<8>::Number>(batch).run();
}

void sort_columns_avx512(double* columns, int row_count) {
  sort_side_by_side(reinterpret_cast<Wide<8>::Number*>(columns), row_count);
}

}  // namespace barm::brew
