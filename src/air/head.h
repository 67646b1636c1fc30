// Which readings of a re-aeration test follow its curve. A test often opens with something else: leftover sulfite that
// takes up the first oxygen, or a probe that has not caught up. Criteria: docs/air/reaeration.md
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "air/curve.h"

namespace barm::air {

inline constexpr int least_readings_count = 6;  // judged: three parameters and as many readings to judge them by
inline constexpr double finest_probe_mg_per_l = 0.003;  // judged: what rounding to 0.01 mg/L leaves

struct Run {
  std::size_t first;  // of the readings, the first that follows the curve
  Curve curve;
};

/// The curve through the longest run that ends with the last reading and whose own head belongs to it. Without a lag
/// any head may go; with a stated lag the run begins at the lowest reading, or three lags later or more; with a fitted
/// lag at the lowest reading. At most 60 % of the rise is left out. Nothing when no curve is found.
std::optional<Run> fit_run(std::span<const OxygenReading> readings, const CurveAsk& ask);

}  // namespace barm::air
