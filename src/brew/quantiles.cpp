#include "brew/quantiles.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>
#include <numeric>

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

constexpr int most_sorted_rows = 1024;  // above it a sorting network does more work than seeking does (measured)

/// A number that sorts as the value does; not for not-a-numbers.
std::uint64_t key_of(double value) {
  const auto bits = std::bit_cast<std::uint64_t>(value);
  constexpr std::uint64_t sign = std::uint64_t{1} << 63;
  return (bits & sign) != 0 ? ~bits : bits | sign;
}

/// Shares the values out into buckets by their size and sorts only the buckets that a quantile falls in.
Spread spread_of_many(std::span<const double> values) {
  constexpr int bucket_bits = 10;
  constexpr std::size_t bucket_count = std::size_t{1} << bucket_bits;
  const auto [lowest, highest] = std::ranges::minmax_element(values);
  const std::uint64_t low = key_of(*lowest), high = key_of(*highest);
  const int shift = std::max(0, static_cast<int>(std::bit_width(high - low)) - bucket_bits);
  // Minus zero sorts below zero but equals it, so that either may be called the lowest or the highest.
  const auto bucket_of = [&](double value) {
    return static_cast<std::size_t>((std::clamp(key_of(value), low, high) - low) >> shift);
  };
  std::vector<std::size_t> ranks(bucket_count + 1, 0);  // of the first value in each bucket
  for (const double value : values) ++ranks[bucket_of(value) + 1];
  std::partial_sum(ranks.begin(), ranks.end(), ranks.begin());

  const auto bucket_at = [&](std::size_t place) {
    return static_cast<std::size_t>(std::ranges::upper_bound(ranks, place) - ranks.begin()) - 1;
  };
  std::vector<char> is_wanted(bucket_count, 0);  // not bool: bits are slow to read one by one
  between_sorted(values.size(), [&](std::size_t place) {
    is_wanted[bucket_at(place)] = 1;
    return 0.0;
  });
  std::vector<std::size_t> wanted_before(bucket_count);  // values in wanted buckets before this one
  std::size_t wanted_count = 0;
  for (std::size_t bucket = 0; bucket < bucket_count; ++bucket) {
    wanted_before[bucket] = wanted_count;
    if (is_wanted[bucket] != 0) wanted_count += ranks[bucket + 1] - ranks[bucket];
  }
  std::vector<double> wanted;
  wanted.reserve(wanted_count);
  std::ranges::copy_if(values, std::back_inserter(wanted),
                       [&](double value) { return is_wanted[bucket_of(value)] != 0; });
  std::ranges::sort(wanted);
  return between_sorted(values.size(), [&](std::size_t place) {
    const std::size_t bucket = bucket_at(place);
    return wanted[wanted_before[bucket] + place - ranks[bucket]];
  });
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
                                       const std::function<void(int first, int count, const Columns& into)>& fill,
                                       const Kernel& kernel) {
  const auto rows = static_cast<std::size_t>(row_count), lanes = static_cast<std::size_t>(kernel.lane_count);
  const bool is_sorted = row_count <= most_sorted_rows;
  const std::size_t height = is_sorted ? std::bit_ceil(rows) : rows;
  std::vector<double> buffer(height * lanes + 8);
  Columns table{.values = aligned(buffer)};
  (is_sorted ? table.row_stride : table.column_stride) = is_sorted ? lanes : height;
  std::vector<Spread> spreads(static_cast<std::size_t>(column_count));
  std::vector<double> column(rows);
  for (int first = 0; first < column_count; first += kernel.lane_count) {
    const int here = std::min(kernel.lane_count, column_count - first);
    fill(first, here, table);
    std::vector<bool> is_done(lanes, false);
    for (std::size_t lane = 0; lane < static_cast<std::size_t>(here); ++lane) {
      Spread& spread = spreads[static_cast<std::size_t>(first) + lane];
      bool is_whole = true;
      for (std::size_t row = 0; row < rows; ++row) is_whole &= !std::isnan(table.at(row, lane));
      if (is_whole && is_sorted) continue;
      is_done[lane] = true;
      if (is_whole) {
        spread = spread_of_many({&table.at(0, lane), rows});
        continue;
      }
      for (std::size_t row = 0; row < rows; ++row) column[row] = table.at(row, lane);
      spread = spread_of(column);
    }
    if (!is_sorted) continue;
    std::fill(table.values + rows * lanes, table.values + height * lanes, std::numeric_limits<double>::infinity());
    kernel.sort_columns(table.values, static_cast<int>(height));
    for (std::size_t lane = 0; lane < static_cast<std::size_t>(here); ++lane)
      if (!is_done[lane])
        spreads[static_cast<std::size_t>(first) + lane] =
            between_sorted(rows, [&](std::size_t row) { return table.at(row, lane); });
  }
  return spreads;
}

}  // namespace barm::brew
