#include "brew/validation/brews_of_papers.h"

#include <algorithm>

#include "brew/brews.h"
#include "brew/cells.h"
#include "brew/quantiles.h"

namespace barm::test {

Predicted band_of(std::vector<double> values) {
  const brew::Spread spread = brew::spread_of(values);
  return {spread.p05, spread.p50, spread.p95};
}

PaperBrew::PaperBrew(const brew::Setup& setup, std::uint64_t seed)
    : start_(brew::draw_members(setup, priors(), brew::Unknowns(setup, priors()), member_count, seed)) {}

brew::Stretch PaperBrew::run(std::vector<double> at_h) const {
  brew::Members members = start_;
  const double end_h = at_h.back();
  return brew::run(members, 0.0, end_h, {}, std::move(at_h), brew::one_after_the_other, {}, brew::kernels().back());
}

std::vector<std::vector<double>> PaperBrew::seen(brew::tea::Observed what, std::vector<double> at_h) const {
  const brew::Stretch stretch = run(std::move(at_h));
  std::vector<std::vector<double>> values(stretch.at_h.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    for (int m = 0; m < start_.count; ++m) values[i].push_back(stretch.of(m, i, what));
  return values;
}

std::vector<std::vector<double>> PaperBrew::bacteria_per_ml(std::vector<double> at_h) const {
  auto values = seen(brew::tea::bacteria, std::move(at_h));
  for (auto& at : values)
    for (std::size_t m = 0; m < at.size(); ++m) at[m] = brew::bacteria_per_ml(at[m], start_.cell_pg_cod[m]);
  return values;
}

std::vector<double> PaperBrew::lowest_oxygen_mg_per_l(double until_h) const {
  const brew::Stretch stretch = run({until_h});
  std::vector<double> lowest;
  for (std::size_t m = 0; m < static_cast<std::size_t>(start_.count); ++m)
    lowest.push_back(std::max(0.0, stretch.lowest[2 * m]));
  return lowest;
}

std::vector<double> PaperBrew::bacteria_peak_h() const {
  std::vector<double> at_h;
  for (int h = 0; h <= 96; ++h) at_h.push_back(h);
  const auto values = bacteria_per_ml(at_h);
  std::vector<double> peaks;
  for (std::size_t m = 0; m < static_cast<std::size_t>(start_.count); ++m) {
    std::size_t highest = 0;
    for (std::size_t i = 0; i < at_h.size(); ++i)
      if (values[i][m] > values[highest][m]) highest = i;
    peaks.push_back(at_h[highest]);
  }
  return peaks;
}

double share_that_rises(const std::vector<double>& before, const std::vector<double>& after) {
  int rising = 0;
  for (std::size_t m = 0; m < before.size(); ++m) rising += after[m] > before[m] ? 1 : 0;
  return rising / static_cast<double>(before.size());
}

}  // namespace barm::test
