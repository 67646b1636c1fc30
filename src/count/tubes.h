// Most probable number: microbes from tubes that grew or did not. Model and sources: docs/count/tubes.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "count/estimate.h"

namespace barm::count {

/// One value a level: tubes that each got the same inoculum. Several samples stand one after another in the same lists.
struct Tubes {
  std::vector<double> inoculum{};        // of each tube, in mL or g of what was sampled
  std::vector<std::int64_t> tubes{};     // how many got it
  std::vector<std::int64_t> positive{};  // how many of them grew
  std::vector<std::int64_t> sample{};    // which sample the level is of, numbered as you like; empty: all of one
};

enum class TubesInterval : std::uint8_t {
  likelihood_ratio,  // S08: the densities whose deviance stays under the chi-square limit
  ln_normal,         // S07: normal on the logarithm, its variance from the observed information
};
enum class Beside : std::uint8_t { exact, below, above };  // how the true value stands to the one reported

struct MostProbable {
  double per_unit = unset;                 // 0 when no tube grew, unset when all did
  double low_95 = unset, high_95 = unset;  // one-sided where no or every tube grew; unset: no limit on that side
  double rarity_index = unset;             // likelihood over that of the likeliest outcome at this density (S07)
  double ln_standard_error = unset;        // from the observed information; unset with `per_unit` 0 or unset
  double corrected_per_unit = unset;       // less its first-order bias (S09)
  Beside beside = Beside::exact;           // below and above: of `reported_per_unit`
  double reported_per_unit = unset;        // none grew: with one positive; all grew: with one negative
  std::int64_t samples_count = 1;
  double samples_agree_probability = unset;  // that samples of one density differ at least so much; unset: one sample
  Estimate estimate() const { return {per_unit, ln_standard_error}; }
};

/// Maximum likelihood of any design (S06), 95 % interval by the method asked for. Range: 1 to 1000 levels, inoculum
/// 1e-12 to 1e9, 1 to 1e6 tubes a level. Left out: clumps, inhibition, misread tubes: each tube is taken to grow when
/// it got one microbe. Doubts: an outcome rarer than 0.05 of the likeliest (S07), samples that differ (p < 0.05), no or
/// every tube grown. Refuses: lists of unequal length, more positive than tubes, what is outside the range. Fields of
/// the remarks: "inoculum", "tubes", "positive", "sample", with the place in the list: "positive[2]".
Answer<MostProbable> most_probable_number(const Tubes& in, TubesInterval by = TubesInterval::likelihood_ratio);

}  // namespace barm::count
