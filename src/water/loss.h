// How fast chlorine leaves water by itself, by standing and by bubbling. Rates and sources: docs/water/chlorine.md
#pragma once

namespace barm::water {

/// First-order rates at which the two kinds of chlorine go [1/d].
struct LossRates {
  double free_chlorine_per_d = 0.0;
  double chloramine_per_d = 0.0;
};

// Published measurements. S28: share of free chlorine gone from standing tap water in a day, two ways of standing.
inline constexpr double free_chlorine_gone_in_a_day_most = 0.62;
inline constexpr double free_chlorine_gone_in_a_day_least = 0.51;
// S26: monochloramine in a full, closed vessel (hydrolysis alone), in an open one, and bubbled with 10 mL/s of air; the
// volume bubbled is not given.
inline constexpr double chloramine_sealed_per_d = 0.04;
inline constexpr double chloramine_open_per_d = 0.08;
inline constexpr double chloramine_bubbled_per_d = 0.35;
// Concentration in air over that in water at rest, no unit. S26, at 20 degC (0.008 to 0.04 over 11 to 32 degC).
inline constexpr double chloramine_air_over_water = 0.017;
// S27, at 25 degC, from memory; the ion of higher pH does not leave at all.
inline constexpr double hypochlorous_air_over_water = 6.2e-5;

/// Rate [1/d] at which `share` (0 to 1, less than 1) is gone in a day.
double rate_from_share_gone_in_a_day(double share);

/// The quickest and slowest published for standing, and for bubbling. No published rate for bubbling free
/// chlorine was found: it is given that of standing (judged; bubbles strip little, see `most_stripped_share`). The slow
/// end of bubbling chloramine is that of open standing (judged, since the volume of the one test is unknown).
LossRates standing_quickest();
LossRates standing_slowest();
LossRates bubbling_quickest();
LossRates bubbling_slowest();

/// What is left [mg/L] of a single kind after a time [h].
double left_mg_per_l(double start_mg_per_l, double rate_per_d, double hours);

/// Time until a single kind has halved [h].
double half_life_h(double rate_per_d);

/// Time until both kinds together are down to the target [h]; 0 when they are already. The target and the rate of every
/// kind present are more than nothing (a promise of the caller).
double hours_until(double free_chlorine_mg_per_l, double chloramine_mg_per_l, const LossRates& rates,
                   double target_mg_per_l);

/// The most that bubbles can carry off, as a share: every bubble leaving in full balance with the water.
double most_stripped_share(double air_over_water, double air_volumes_per_h, double hours);

}  // namespace barm::water
