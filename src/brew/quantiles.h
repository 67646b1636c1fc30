// Quantiles over the members of an ensemble.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "brew/forecast.h"
#include "brew/kernels.h"

namespace barm::brew {

/// 5, 25, 50, 75 and 95 % of the values, by straight lines between the sorted values (type 7 of Hyndman and Fan 1996,
/// from memory). Not-a-numbers are left out; when there is nothing else, nothing is set. Reorders `values`.
Spread spread_of(std::span<double> values);

/// Where some columns stand side by side.
struct Columns {
  double* values = nullptr;
  std::size_t row_stride = 1, column_stride = 1;
  double& at(std::size_t row, std::size_t column) const { return values[row * row_stride + column * column_stride]; }
};

/// The same for many columns, a few at a time: sorted in the lanes of the kernel, or, where the rows are many, sought
/// out in a time that grows as their number does. `fill` writes `count` columns from `first` on, one value a row. A
/// column with a not-a-number is done by `spread_of`.
std::vector<Spread> spreads_of_columns(int row_count, int column_count,
                                       const std::function<void(int first, int count, const Columns& into)>& fill,
                                       const Kernel& kernel = fastest_kernel());

}  // namespace barm::brew
