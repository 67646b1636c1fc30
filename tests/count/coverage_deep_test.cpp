// How often the limits of tubes hold the truth, by exact enumeration of all outcomes, against docs/count/tubes.md; and
// how long they take.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "count/tubes.h"

namespace barm::count {
namespace {

template <class Look>
void each_outcome(std::int64_t n, Look look) {
  for (std::int64_t a = 0; a <= n; ++a)
    for (std::int64_t b = 0; b <= n; ++b)
      for (std::int64_t c = 0; c <= n; ++c)
        look(Tubes{.inoculum = {0.1, 0.01, 0.001}, .tubes = {n, n, n}, .positive = {a, b, c}});
}

double chance(const Tubes& in, double density) {
  double ln = 0.0;
  for (std::size_t i = 0; i < in.tubes.size(); ++i) {
    const double n = static_cast<double>(in.tubes[i]), p = static_cast<double>(in.positive[i]);
    ln += std::lgamma(n + 1) - std::lgamma(p + 1) - std::lgamma(n - p + 1) - (n - p) * density * in.inoculum[i];
    if (p > 0) ln += p * std::log(-std::expm1(-density * in.inoculum[i]));
  }
  return std::exp(ln);
}

std::string coverage_table() {
  std::string page = "| tubes a level | per g | likelihood ratio | normal on ln |\n|---|---|---|---|\n";
  for (const std::int64_t n : {3, 5, 10}) {
    for (const double density : {3.0, 10.0, 30.0, 100.0, 300.0, 1000.0}) {
      double held[2] = {};
      each_outcome(n, [&](const Tubes& in) {
        const double p = chance(in, density);
        for (const auto by : {TubesInterval::likelihood_ratio, TubesInterval::ln_normal}) {
          const auto most = *most_probable_number(in, by);
          const bool high = std::isnan(most.high_95) || density <= most.high_95;
          if (most.low_95 <= density && high) held[by == TubesInterval::ln_normal] += p;
        }
      });
      char row[120];
      std::snprintf(row, sizeof row, "| %lld | %g | %.1f %% | %.1f %% |\n", static_cast<long long>(n), density,
                    100.0 * held[0], 100.0 * held[1]);
      page += row;
    }
  }
  return page;
}

TEST(tubes_deep, the_page_tells_the_coverage_there_is) {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/count/tubes.md");
  std::stringstream page;
  page << in.rdbuf();
  const auto table = coverage_table();
  EXPECT_NE(page.str().find(table), std::string::npos) << "stale; the table is now:\n" << table;
}

TEST(tubes_deep, a_whole_table_of_ten_tubes_takes_under_a_tenth_of_a_second) {
  using clock = std::chrono::steady_clock;
  double best_s = 1e9, sum = 0.0;
  for (int run = 0; run < 5; ++run) {
    const auto begin = clock::now();
    each_outcome(10, [&](const Tubes& in) { sum += most_probable_number(in)->rarity_index; });
    best_s = std::min(best_s, std::chrono::duration<double>(clock::now() - begin).count());
  }
  std::printf("1331 outcomes with limits: %.2f ms, %.4f ms each\n", best_s * 1e3, best_s * 1e3 / 1331.0);
  EXPECT_GT(sum, 0.0);
  EXPECT_LT(best_s, 0.1);
}

}  // namespace
}  // namespace barm::count
