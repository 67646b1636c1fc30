#include "brew/quantiles.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

namespace barm::brew {
namespace {

/// Quantiles of sorted values, read through `at(place)`.
template <class At>
Spread between_sorted(std::size_t count, At at) {
  const auto quantile = [&](double share) {
    const double place = share * static_cast<double>(count - 1);
    const auto below = static_cast<std::size_t>(place);
    const double low = at(below), high = at(std::min(below + 1, count - 1));
    if (low == high) return low;  // also where both are infinite
    return low + (place - static_cast<double>(below)) * (high - low);
  };
  return {.p05 = quantile(0.05),
          .p25 = quantile(0.25),
          .p50 = quantile(0.50),
          .p75 = quantile(0.75),
          .p95 = quantile(0.95)};
}

/// The first place in a buffer that a wide register may be loaded from.
double* aligned(std::vector<double>& buffer) {
  constexpr std::uintptr_t line = 64;
  const auto address = reinterpret_cast<std::uintptr_t>(buffer.data());
  return buffer.data() + (line - address % line) % line / sizeof(double);
}

}  // namespace

Spread spread_of(std::span<double> values) {
  const auto end = std::partition(values.begin(), values.end(), [](double x) { return !std::isnan(x); });
  const auto count = static_cast<std::size_t>(end - values.begin());
  if (count == 0) return {};
  std::sort(values.begin(), end);
  return between_sorted(count, [&](std::size_t place) { return values[place]; });
}

std::vector<Spread> spreads_of_columns(int row_count, int column_count,
                                       const std::function<void(int column, std::span<double> into)>& fill,
                                       const Kernel& kernel) {
  const auto rows = static_cast<std::size_t>(row_count), lanes = static_cast<std::size_t>(kernel.lane_count);
  const std::size_t padded = std::bit_ceil(rows);
  std::vector<double> buffer(padded * lanes + 8), column(rows);
  double* table = aligned(buffer);
  std::vector<Spread> spreads(static_cast<std::size_t>(column_count));
  for (int first = 0; first < column_count; first += kernel.lane_count) {
    const int here = std::min(kernel.lane_count, column_count - first);
    std::fill(table, table + padded * lanes, std::numeric_limits<double>::infinity());
    std::vector<bool> whole(lanes, true);
    for (int lane = 0; lane < here; ++lane) {
      fill(first + lane, column);
      for (std::size_t row = 0; row < rows; ++row) {
        if (std::isnan(column[row])) {
          whole[static_cast<std::size_t>(lane)] = false;
          break;
        }
        table[row * lanes + static_cast<std::size_t>(lane)] = column[row];
      }
    }
    kernel.sort_columns(table, static_cast<int>(padded));
    for (int lane = 0; lane < here; ++lane) {
      Spread& spread = spreads[static_cast<std::size_t>(first + lane)];
      if (whole[static_cast<std::size_t>(lane)]) {
        spread =
            between_sorted(rows, [&](std::size_t row) { return table[row * lanes + static_cast<std::size_t>(lane)]; });
      } else {
        fill(first + lane, column);
        spread = spread_of(column);
      }
    }
  }
  return spreads;
}

}  // namespace barm::brew
