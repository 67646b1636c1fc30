// What a screen shows of one brew: all that was written of it, and its readings drawn small enough to look at.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "records/store.h"

namespace barm::records {

/// Readings of one stretch of time, put together by the engine.
struct Stretch {
  std::int64_t from = 0;  // ms UTC
  std::int64_t count = 0;
  std::optional<double> oxygen_mean_mg_per_l{}, oxygen_lowest_mg_per_l{}, oxygen_highest_mg_per_l{};
  std::optional<double> temperature_mean_c{}, ph_mean{}, conductivity_mean_ms_per_cm{};
};

/// At most `most` stretches of equal length from the first reading to the last; a stretch without readings is left out,
/// so that a gap shows. Lowest and highest are kept, so that nothing hides between two points.
Answer<std::vector<Stretch>> chart_of(Store& store, const std::string& brew_id, int most = 200,
                                      std::int64_t known_at = known_now);

struct BrewPage {
  Entry brew{};
  std::vector<Entry> mixes{}, observations{}, counts{}, verdicts{}, applications{};
};
Answer<BrewPage> page_of(Store& store, const std::string& brew_id, std::int64_t known_at = known_now);

}  // namespace barm::records
