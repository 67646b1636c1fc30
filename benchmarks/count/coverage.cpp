// How often the 95 % limits of each count hold the truth, by simulation. Prints docs/count/coverage.md; same seed, same
// page.
#include <cmath>
#include <cstdio>
#include <random>

#include "count/hyphae.h"
#include "count/plates_likely.h"
#include "count/plates.h"
#include "count/series.h"
#include "count/slide.h"
#include "count/tubes.h"

namespace {

using namespace barm::count;

constexpr int draws = 4000;
std::mt19937_64 chance(20260502);

std::int64_t poisson(double mean) {
  return std::poisson_distribution<std::int64_t>(mean)(chance);
}
/// Clumped: gamma mixture of Poisson counts, k of the negative binomial.
std::int64_t clumped(double mean, double k) {
  return poisson(std::gamma_distribution<double>(k, mean / k)(chance));
}

struct Held {
  int held = 0, too_high = 0, too_low = 0, given = 0;
  void see(double low, double high, double truth) {
    ++given;
    if (low > truth)
      ++too_high;
    else if (high < truth)
      ++too_low;
    else
      ++held;
  }
};

template <class Draw>
void row(const char* what, Draw draw) {
  Held held;
  for (int i = 0; i < draws; ++i) draw(held);
  const auto share = [&](int count) { return 100.0 * count / held.given; };
  std::printf("| %s | %.1f %% | %.1f %% | %.1f %% |\n", what, share(held.held), share(held.too_high),
              share(held.too_low));
}

void tubes(const char* what, std::int64_t tubes_each, double density, TubesInterval by) {
  row(what, [&](Held& held) {
    Tubes in{.inoculum = {0.1, 0.01, 0.001}, .tubes = {tubes_each, tubes_each, tubes_each}};
    for (const double v : in.inoculum)
      in.positive.push_back(std::binomial_distribution<std::int64_t>(tubes_each, -std::expm1(-density * v))(chance));
    const auto told = most_probable_number(in, by);
    held.see(std::isnan(told->low_95) ? 0.0 : told->low_95, std::isnan(told->high_95) ? 1e300 : told->high_95, density);
  });
}

void plates(const char* what, double density, bool clumps, PlatesLimits limits = PlatesLimits::by_test, int each = 2) {
  const PlateRule rule{.id = "25-250", .low_count = 25, .high_count = 250, .estimated_from_count = 25};
  row(what, [&](Held& held) {
    Plates in{.limits = limits};
    for (int i = 0; i < 2 * each; ++i) {
      const double dilution = i < each ? 0.01 : 0.001;
      const auto colonies = clumps ? clumped(density * dilution, 20.0) : poisson(density * dilution);
      if (colonies > 250) {
        in.too_many.push_back(dilution);
        continue;
      }
      in.dilution.push_back(dilution), in.colonies.push_back(colonies);
    }
    const auto told = count_plates(in, rule);
    held.see(std::isnan(told->low_95) ? 0.0 : told->low_95, std::isnan(told->high_95) ? 1e300 : told->high_95, density);
  });
}

void plates_likely(const char* what, double density) {
  row(what, [&](Held& held) {
    LikelyPlates in;
    for (const double amount : {0.01, 0.01, 0.001, 0.001}) {
      const auto colonies = poisson(density * amount);
      if (colonies > 250)
        in.crowded_ml.push_back(amount), in.crowded_above.push_back(250);
      else
        in.amount_ml.push_back(amount), in.colonies.push_back(colonies);
    }
    const auto told = count_plates_likely(in);
    held.see(told->low_95, std::isnan(told->high_95) ? 1e300 : told->high_95, density);
  });
}

void slide(const char* what, int fields, double mean, double k) {
  constexpr double square_ml = 1e-4;
  row(what, [&](Held& held) {
    Slide in{.square_volume_ml = square_ml};
    for (int i = 0; i < fields; ++i) in.counted.push_back(k > 0.0 ? clumped(mean, k) : poisson(mean));
    const auto told = count_slide(in);
    held.see(told->low_95, told->high_95, mean / square_ml);
  });
}

/// Threads fall on a field by chance, each with a length of its own (exponential); a thread crosses the grid once for
/// each 14/11 of the spacing, by chance.
void hyphae(const char* what, int fields, double threads, bool by_crossings) {
  constexpr double thread_m = 150e-6, grid_m = 50e-6, field_ml = 5e-6;
  row(what, [&](Held& held) {
    Hyphae in{.field = {.square_volume_ml = field_ml, .square_side_m = 0.4e-3}};
    bool any = false;
    for (int i = 0; i < fields; ++i) {
      double length_m = 0.0;
      const auto count = poisson(threads);
      for (std::int64_t k = 0; k < count; ++k)
        length_m += std::exponential_distribution<double>(1.0 / thread_m)(chance);
      any |= length_m > 0.0;
      if (by_crossings)
        in.intersections.push_back(poisson(length_m / length_from_grid_m(1.0, grid_m)));
      else
        in.length_m.push_back(length_m);
    }
    if (by_crossings) in.grid_m = grid_m;
    const auto told = count_hyphae(in);
    if (any && std::isfinite(told->high_95)) held.see(told->low_95, told->high_95, threads * thread_m / field_ml);
  });
}

void series(const char* what, int samples, double limit, NotFound treat) {
  const SeriesRule rule{.id = "x", .mean_most = 1e6};
  row(what, [&](Held& held) {
    Series in{.treat = treat};
    for (int i = 0; i < samples; ++i) {
      const double x = std::lognormal_distribution<double>(std::log(20.0), 1.2)(chance);
      if (x < limit)
        in.not_found.push_back(limit);
      else
        in.found.push_back(x);
    }
    if (in.found.size() < 2) return;
    const auto told = judge_series(in, rule);
    held.see(told->low_95, told->high_95, 20.0);
  });
}

}  // namespace

int main() {
  std::printf("# How often the limits hold the truth\n\n");
  std::printf("**Question.** A 95 %% interval should hold the truth 19 times in 20. Does it?\n\n");
  std::printf(
      "%d counts were drawn from a known truth for each line (one standard error: 0.3 %%), by "
      "`benchmarks/count/coverage.cpp`, which ",
      draws);
  std::printf("prints this page.\n\n");
  std::printf("| count | hold the truth | too high | too low |\n|---|---|---|---|\n");
  tubes("3 x 3 tubes, 30 per g, likelihood ratio", 3, 30.0, TubesInterval::likelihood_ratio);
  tubes("3 x 3 tubes, 30 per g, normal on ln", 3, 30.0, TubesInterval::ln_normal);
  tubes("3 x 10 tubes, 300 per g, likelihood ratio", 10, 300.0, TubesInterval::likelihood_ratio);
  tubes("3 x 10 tubes, 300 per g, normal on ln", 10, 300.0, TubesInterval::ln_normal);
  plates("plates, 2 x 0.01 and 2 x 0.001, 8,000 per mL", 8000.0, false);
  plates("the same at 24,000 per mL, some too crowded", 24000.0, false);
  plates("the same at 8,000 per mL, clumped (k = 20)", 8000.0, true);
  plates("clumped, limits by spread", 8000.0, true, PlatesLimits::by_spread);
  plates("clumped, 3 x 0.01 and 3 x 0.001", 8000.0, true, PlatesLimits::by_test, 3);
  plates("clumped, 3 x 0.01 and 3 x 0.001, limits by spread", 8000.0, true, PlatesLimits::by_spread, 3);
  plates("clumped, 5 x 0.01 and 5 x 0.001, limits by spread", 8000.0, true, PlatesLimits::by_spread, 5);
  plates("not clumped, 2 x 0.01 and 2 x 0.001, limits by spread", 8000.0, false, PlatesLimits::by_spread);
  plates_likely("all plates, maximum likelihood, 8,000 per mL", 8000.0);
  plates_likely("all plates, maximum likelihood, 24,000 per mL", 24000.0);
  slide("slide, 10 fields of 5 cells", 10, 5.0, 0.0);
  slide("slide, 10 fields of 0.5 cells", 10, 0.5, 0.0);
  slide("slide, 10 fields of 5 cells, clumped (k = 2)", 10, 5.0, 2.0);
  slide("slide, 10 fields of 5 cells, slightly clumped (k = 10)", 10, 5.0, 10.0);
  slide("slide, 40 fields of 5 cells, clumped (k = 2)", 40, 5.0, 2.0);
  hyphae("hyphae, 10 fields, 2 threads each, crossings", 10, 2.0, true);
  hyphae("hyphae, 20 fields, 2 threads each, crossings", 20, 2.0, true);
  hyphae("hyphae, 20 fields, 0.3 threads each, crossings", 20, 0.3, true);
  hyphae("hyphae, 20 fields, 2 threads each, lengths", 20, 2.0, false);
  series("series of 10, all found", 10, 1e-3, NotFound::at_limit);
  series("series of 20, a third not found, at limit", 20, 12.0, NotFound::at_limit);
  series("series of 20, a third not found, half limit", 20, 12.0, NotFound::half_limit);
  series("series of 20, a third not found, maximum likelihood", 20, 12.0, NotFound::maximum_likelihood);
  std::printf("\n**What it says.** Where cells or colonies lie as chance has it, the limits hold what they promise. ");
  std::printf("Clumps make them too narrow where a test cannot see them: four plates seldom show it, ");
  std::printf(
      "ten fields of a slide more often. Asked for limits by their spread, two plates of a dilution tell next to ");
  std::printf(
      "nothing (limits that nearly always hold, and are as good as endless); three give a little more than is ");
  std::printf("promised, five what is promised. Threads met seldom (less than one in three fields) leave ");
  std::printf(
      "too little to judge their spread. A series whose gaps are filled with the limit errs upwards, on purpose.\n\n");
  std::printf("For tubes every outcome is weighed exactly on [their own page](tubes.md).\n\n## Try it\n\n");
  std::printf("```\nbuild/bench/benchmarks/count/count_coverage > docs/count/coverage.md\n```\n");
  return 0;
}
