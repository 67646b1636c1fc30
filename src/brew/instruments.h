// How far readings may be from what is in the tank. Figures and their sources: data/instruments.toml
#pragma once

#include <string_view>

#include "quantity/answer.h"

namespace barm::brew {

struct Instrument {
  double noise = unset;  // standard deviation from reading to reading
  double offset = 0.0;   // the same from meter to meter, in the unit read; of counts, of the logarithm
  double slope = 0.0;    // relative
  double drift_per_h = 0.0;
  double lag_h = 0.0;  // first-order, of the probe
};

struct Instruments {
  Instrument oxygen, oxygen_share, temperature, bacteria, protozoa;
  double gross_share = unset;  // of readings that mean nothing

  /// Reads data/instruments.toml. A broken file is our fault: throws BrokenPromise.
  static Instruments read(std::string_view toml);
};

}  // namespace barm::brew
