// Runs a brew many times over, each time with parameters drawn from what is known of them, and tells the outcome as
// bands. Same setup, priors and options: the same answer to the last bit, whatever the number of threads.
#pragma once

#include <cstdint>

#include "brew/forecast.h"
#include "brew/instruments.h"
#include "brew/priors.h"
#include "brew/run.h"
#include "brew/setup.h"
#include "quantity/answer.h"

namespace barm::brew {

struct EnsembleOptions {
  int members_count = 256;  // 16 to 65,536; powers of two fill best
  std::uint64_t seed = 1;
  double output_step_h = 0.25;
  double window_bytes = 256.0 * 1024.0 * 1024.0;  // most that is kept of all members before it is made into bands
  Parallel parallel = one_after_the_other;
  const Instruments* instruments = nullptr;  // given: drivers and the next reading are told as well
  double heard_until_h = 0.0;                // the next reading comes after this
};

/// Forecast of a brew. Refuses a setup that is not a brew (no water, no size, not finite, member count out of range);
/// doubts one outside what the model knows (water outside 8 to 30 degC, 4 to 2,000 L).
Answer<Forecast> forecast(const Setup& setup, const Priors& priors, const EnsembleOptions& options = {});

/// The same for members already drawn or learned, standing at hour 0.
Forecast forecast_of(const Setup& setup, Members members, const EnsembleOptions& options = {});

/// Refuses and doubts a setup as `forecast` does.
void check(const Setup& setup, const EnsembleOptions& options, Findings& findings);

/// How far a forecast of this setup looks [h].
double horizon_of_h(const Setup& setup);

}  // namespace barm::brew
