// How far an indicator E. coli could grow in a brew, were some in it. Indicative: it may raise caution and never lowers
// any. Model, range and what is left out: docs/rule/contaminant.md
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::rule {

/// Growth of a strain against temperature (S55): nothing at or below `t_min_c` and at or above `t_max_c`.
struct Strain {
  std::string id{}, source{};
  double t_min_c = unset, t_opt_c = unset, t_max_c = unset;
  double mu_opt_per_h = unset;  // natural logarithm, at t_opt_c
};
/// Reads data/indicator.toml. A broken file is our fault: throws BrokenPromise naming the entry.
std::vector<Strain> read_strains(std::string_view toml);

/// Rosso, Lobry & Flandrois 1993 (S55): cardinal temperatures with inflection [1/h].
double growth_rate_per_h(const Strain& strain, double temperature_c);

/// Between which temperatures 9 of 10 brews lie, over time.
struct Warmth {
  std::vector<double> time_h{}, low_c{}, high_c{};
};
struct GrowthAsk {
  Warmth warmth{};
  double length_h = unset;
  double food_cod_g_per_l = 0.0;     // biodegradable, of the foods
  double compost_cod_g_per_l = 0.0;  // of what the compost gives to the water
  /// Food at which growth among rivals is half of what it is in broth. M01 by way of the brew model's "K_SE".
  double half_saturation_g_per_l = 3.0;
};
struct Growth {
  double decades = unset;     // tenfold steps from air on to air off, upper end
  double doubling_h = unset;  // at its fastest
  double without_food_decades = unset, cooler_decades = unset, shorter_decades = unset;
};
inline constexpr double cooler_by_c = 5.0;             // judged: what shade and a cool night give
inline constexpr double shorter_by_share = 1.0 / 3.0;  // judged

/// The fastest strain, at the temperature between `low_c` and `high_c` that suits it best, on all the food as it was at
/// the start. Left out, so that the figure errs upwards: lag, die-off, grazing, lack of oxygen, food being eaten. Never
/// less with more food, more time or, up to 39 degC, more warmth. Range: 0 to 47 degC.
Growth growth(const GrowthAsk& ask, const std::vector<Strain>& strains);

/// Growth from here on is told as a warning. judged: a tenfold rise is beyond the scatter of a count.
inline constexpr double decades_told = 1.0;

}  // namespace barm::rule
