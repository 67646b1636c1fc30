// How warm a pile will get, to say when to turn it. Indicative. Balance and sources: docs/compost/heap.md
#pragma once

#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "quantity/figure.h"

namespace barm::compost {

struct HeapFigures {
  Figure decay_per_d{}, degradable_share{}, volatile_share{}, heat_kj_per_kg{}, conductance_w_per_m2_k{};
  Figure oxygen_used_share{}, settling_d{}, turn_cools_share{};
  double oxygen_g_per_g = unset, solids_kj_per_kg_k = unset;
  /// Reads data/heap.toml. A broken file is our fault: throws BrokenPromise.
  static HeapFigures read(std::string_view toml);
};

/// Decay against temperature, over that at 20 degC. Source: S92 (after Andrews and Kambhu):
/// 1.066^(T - 20) - 1.21^(T - 60), never below nothing. Highest near 72 degC, nothing from 80 degC.
double decay_over_20(double temperature_c);

struct HeapAsk {
  double volume_m3 = unset;
  double bulk_density_kg_per_m3 = 550.0;  // moist
  double moisture_share = 0.55;
  double air_c = unset;    // mean around the pile
  double start_c = unset;  // of the mix; unset: that of the air
  double length_d = 30.0;
  double turn_at_c = 65.0;     // turned when its heart passes this,
  double turn_below_c = 50.0;  // or has fallen below this after it was above, while food is left
  double turn_rest_d = 3.0;    // but no sooner than this after the last
};

struct HeapTold {
  std::vector<double> time_d{};                       // every 6 h
  std::vector<double> low_c{}, middle_c{}, high_c{};  // low and high: nine runs in ten lie between, the figures drawn
                                                      // from their ranges; each is turned as asked
  std::vector<double> turns_d{};                      // of the middle
  double peak_c = unset, peak_low_c = unset, peak_high_c = unset;
  double above_55_d = 0.0, above_55_low_d = 0.0, above_55_high_d = 0.0;
  double degraded_share = unset;   // of what can rot, at the end; middle
  double imbalance_share = unset;  // heat made less kept and lost, over heat made; middle: how well it was reckoned
};

/// One lump: heat of decay, through the shell, and with the air that carries the oxygen, saturated as it leaves. The
/// surface is that of a half ball of the volume. Range: 0.05 to 500 m3, moisture 30 to 80 %, air -20 to 45 degC, 1 to
/// 180 d. Left out: warm heart and cool shell (the legal hours need probes), rain, wind, drying, lack of nitrogen.
/// Doubts: always that it is indicative; a mix too dry or too wet to work as reckoned; a pile below 0.2 m3, told too
/// hot (S94). Refuses: outside its range.
Answer<HeapTold> foretell_heap(const HeapAsk& ask, const HeapFigures& figures);

}  // namespace barm::compost
