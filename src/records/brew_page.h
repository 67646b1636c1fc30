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
  std::optional<double> temperature_mean_c{}, ph_mean{}, conductivity_mean_ms_per_cm{}, air_flow_mean_l_per_h{};
};

/// At most `most` stretches of equal length from the first reading to the last; a stretch without readings is left out,
/// so that a gap shows. Lowest and highest are kept, so that nothing hides between two points.
Answer<std::vector<Stretch>> chart_of(Store& store, const std::string& brew_id, int most = 200,
                                      std::int64_t known_at = known_now);

inline constexpr std::int64_t history_most = 200;  // entries of a page's history. judged: more is no page

struct BrewPage {
  Entry brew{};  // as it counts, with the plan as made and the forecast as promised
  std::vector<Stretch> chart{};
  std::vector<Entry> mixes{}, observations{}, counts{}, verdicts{}, applications{}, photos{};
  /// Of the vessel, the line and its diffuser: the last before the air went on and the first after.
  std::vector<Entry> cleanings{};
  /// Whatever of the brew and of the entries about it, readings too, was corrected or withdrawn: each first entry with
  /// all that took its place, in the order they were kept; the latest `history_most`.
  std::vector<Entry> history{};
};
/// All of it as it stood at one moment. Refuses an id of nothing or of no brew, and a brew that was withdrawn.
Answer<BrewPage> page_of(Store& store, const std::string& brew_id, int chart_most = 200,
                         std::int64_t known_at = known_now);

/// A brew in the making, and the latest reading of it.
struct Live {
  Entry brew{};
  std::optional<Entry> reading{};
};
/// Brews whose air went on and has not gone off at `now` [ms UTC], the one begun last first; of one garden, or of all
/// when `garden_id` is empty. A brew whose end nobody entered stays among them.
Answer<std::vector<Live>> live_brews(Store& store, std::int64_t now, const std::string& garden_id = {},
                                     std::int64_t most = 100);

}  // namespace barm::records
