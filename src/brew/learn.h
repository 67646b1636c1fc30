// A forecast narrowed by readings of the brew itself. Method, checks and limits: docs/brew/learning.md
#pragma once

#include <vector>

#include "brew/ensemble.h"
#include "brew/instruments.h"
#include "brew/log.h"

namespace barm::brew {

struct Learned {
  Members members;               // at hour 0, all of equal weight
  std::vector<double> scores;    // [member][unknown of the brew, then of the meters read (hearing.h)]
  std::vector<Heard> heard;      // every reading of the log, in order of time, with what became of it
  int used_count = 0;            // readings learned from
  double effective_count = 0.0;  // members in effect
  double surprise = 0.0;  // mean square of what used readings are off by, in their noise; near 1 when all is well
};

/// The setup with the acts of the log, in order.
Setup with_acts(Setup setup, const BrewLog& log);

/// Refuses what `forecast` refuses, and acts out of order of reason (before the start, not finite). Doubts readings it
/// could not use, and a forecast that the readings hardly agree with: brew.log.disagrees, brew.log.meter_doubtful,
/// brew.log.few_members, brew.log.meter_falls or _rises. Readings after the last act of a log that stops the air are
/// heard as they are: without air.
Answer<Learned> learn(const Setup& setup, const Priors& priors, const Instruments& instruments, const BrewLog& log,
                      const EnsembleOptions& options = {});

}  // namespace barm::brew
