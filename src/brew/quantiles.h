// Quantiles over the members of an ensemble.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "brew/forecast.h"
#include "brew/kernels.h"

namespace barm::brew {

/// 5, 25, 50, 75 and 95 % of the values, by straight lines between the sorted values (type 7 of Hyndman and Fan 1996,
/// from memory). Not-a-numbers are left out; when there is nothing else, nothing is set. Reorders `values`.
Spread spread_of(std::span<double> values);

/// The same for many columns, sorted several at a time in the lanes of the kernel. `fill` writes column `column`, one
/// value a row. A column with a not-a-number is done by `spread_of`.
std::vector<Spread> spreads_of_columns(int row_count, int column_count,
                                       const std::function<void(int column, std::span<double> into)>& fill,
                                       const Kernel& kernel = fastest_kernel());

}  // namespace barm::brew
