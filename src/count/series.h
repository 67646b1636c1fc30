// A series of counts held to a rule: geometric mean, single samples, what was not found. Method: docs/count/series.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "quantity/answer.h"

namespace barm::count {

/// What a rule asks of a series. Read from data/counts.toml, or told.
struct SeriesRule {
  std::string id{};
  double mean_most = unset;        // of the geometric mean; unset: not asked
  bool is_arithmetic = false;      // of the plain mean instead, which is never lower
  double single_most = unset;      // of a single sample; unset: not asked
  double single_over_share = 0.0;  // samples that may lie above it
  std::int64_t samples_least = 1;
  std::string unit{}, clause{}, source{};
};

enum class NotFound : std::uint8_t {
  at_limit,            // taken to be there at the limit of finding: never tells too little
  half_limit,          // at half of it
  maximum_likelihood,  // censored log-normal: the chance of lying below the limit counts, no value is made up
};

struct Series {
  std::vector<double> found{};      // counts, above zero
  std::vector<double> not_found{};  // limit of finding of each sample in which nothing was found
  NotFound treat = NotFound::at_limit;
};

struct SeriesTold {
  double geometric_mean = unset, low_95 = unset, high_95 = unset;  // limits: t on the logarithm
  double arithmetic_mean = unset;        // what was not found at its limit, or at half of it where so treated
  double ln_standard_deviation = unset;  // unset: a single sample, or nothing found
  double percentile_90 = unset;          // of the log-normal through the series
  double highest = unset;                // found
  std::int64_t samples_count = 0, not_found_count = 0, over_single_count = 0, undecided_count = 0;
  std::int64_t samples_owed_count = 0;             // still asked by the rule
  std::int64_t samples_for_confidence_count = -1;  // in all, for the upper limit to fall under the mean allowed if all
                                                   // stays as it is; -1: not asked, or no number would
  bool mean_is_kept = false, single_is_kept = false;  // true also where not asked
  bool is_sure = false;                               // the upper 95 % limit of the mean is under it too
  bool meets() const { return mean_is_kept && single_is_kept && samples_owed_count == 0; }
};

/// exp(mean of ln x), what was not found as `treat` has it; nothing of its error. NaN without a sample.
double geometric_mean(const Series& in);

/// Geometric mean exp(mean of ln x), its standard deviation with n - 1, 90th percentile at 1.2816 deviations. By
/// maximum likelihood (S90) the limits come from the observed information of the mean, and the deviation is widened by
/// sqrt(n/(n - 1)) so that a series without non-detects tells the same either way. A sample not found below a limit
/// above the single value allowed is undecided, and counts against it. Range: 1 to 1000 samples, 1e-6 to 1e15. Left
/// out: samples that depend on each other, and whether they were drawn where it matters. Doubts: samples still owed,
/// nothing found at all, more than half not found, few samples. Refuses: no sample, a zero or negative count (give its
/// limit of finding instead), maximum likelihood with fewer than two different counts found, a rule that asks nothing.
/// Fields of the remarks: "found[i]", "not_found[i]", "treat", "mean_most".
Answer<SeriesTold> judge_series(const Series& in, const SeriesRule& rule);

}  // namespace barm::count
