#include "brew/drivers.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace barm::brew {
namespace {

constexpr double share_least = 0.03;  // three standard errors of chance among 256 members
constexpr std::size_t told_most = 6;

/// Ranks from -1 to 1, equals sharing theirs.
std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> ranks(values.size());
  for (std::size_t from = 0; from < order.size();) {
    std::size_t to = from;
    while (to + 1 < order.size() && values[order[to + 1]] == values[order[from]]) ++to;
    const double rank = static_cast<double>(from + to + 1) / static_cast<double>(order.size()) - 1.0;
    for (std::size_t i = from; i <= to; ++i) ranks[order[i]] = rank;
    from = to + 1;
  }
  return ranks;
}

struct Fit {
  double share = 0.0, slope = 0.0;
};

/// y on x and on the part of x squared that x does not tell.
Fit regress(const std::vector<double>& x, const std::vector<double>& y) {
  const auto count = static_cast<double>(x.size());
  const double mean_square = std::inner_product(x.begin(), x.end(), x.begin(), 0.0) / count;
  double yy = 0.0, xy = 0.0, bend = 0.0, bend_y = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double q = x[i] * x[i] - mean_square;  // ranks are even about 0, so this is orthogonal to x
    yy += y[i] * y[i];
    xy += x[i] * y[i];
    bend += q * q;
    bend_y += q * y[i];
  }
  if (!(yy > 0.0 && mean_square > 0.0 && bend > 0.0)) return {};
  const double plain = xy * xy / (mean_square * count * yy) + bend_y * bend_y / (bend * yy);
  constexpr double terms = 2.0;
  return {.share = 1.0 - (1.0 - plain) * (count - 1.0) / (count - 1.0 - terms), .slope = xy};
}

}  // namespace

std::vector<Driver> drivers_of(const Members& members, const std::vector<double>& lowest_mg_per_l) {
  const std::size_t width = members.symbols.size();
  const std::vector<double> y = ranks(lowest_mg_per_l);
  std::vector<Driver> drivers;
  std::vector<double> column(lowest_mg_per_l.size());
  for (std::size_t i = 0; i < width; ++i) {
    for (std::size_t m = 0; m < column.size(); ++m) column[m] = members.values[m * width + i];
    const Fit fit = regress(ranks(column), y);
    if (fit.share >= share_least)
      drivers.push_back({.symbol = members.symbols[i], .share = fit.share, .raises = fit.slope > 0.0});
  }
  std::sort(drivers.begin(), drivers.end(), [](const Driver& a, const Driver& b) { return a.share > b.share; });
  if (drivers.size() > told_most) drivers.resize(told_most);
  return drivers;
}

}  // namespace barm::brew
