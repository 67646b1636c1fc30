// Where a brew of the record stands: put together from its entries, its plan, and the forecast its readings narrow.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "operations/brew_plan_inputs.h"
#include "operations/record_store.h"
#include "recipe/fitness.h"

namespace barm::operations {

/// One step of the plan on the clock.
struct DayStep {
  recipe::Step step{};
  Moment at{};
  std::optional<Moment> until{};
  bool is_past = false;
};

/// The last reading, beside what the brew was forecast to show then before anything was read.
struct DayReading {
  std::string id{};
  Moment at{};
  double oxygen_mg_per_l = unset, temperature_c = unset, ph = unset, conductivity_ms_per_cm = unset;
  double p05_mg_per_l = unset, p50_mg_per_l = unset, p95_mg_per_l = unset;
};
enum class BandPlace : std::uint8_t { unknown, under, within, over };
BandPlace place_of(const DayReading& reading);

/// What is said of the last observation.
struct DayObservation {
  std::string id{}, smell{}, foam{}, look{};
  Moment at{};
};

struct BrewDay {
  std::string id{}, name{}, zone{};
  Moment now{}, air_on{};
  std::optional<Moment> air_off{};
  double elapsed_h = 0.0;  // since air on; negative before
  std::vector<DayStep> steps{};
  std::vector<DayReading> last_reading{};          // none or one
  std::vector<DayObservation> last_observation{};  // none or one
  std::vector<PlanAnswer> forecast{};              // none without a plan, else one, readings counted in
  recipe::Judged judged{};
  int readings_count = 0;
  std::int64_t counts_count = 0;  // counts the forecast learned from
  double bacteria_per_g = unset;  // of the lot, that set the start in place of the kind's
};

/// The day of a brew at an instant [ms UTC]. Refuses what is no brew; without a usable plan it doubts, and tells the
/// rest.
Answer<BrewDay> day_of(records::Store& store, const std::string& brew_id, std::int64_t now, const World& world);

}  // namespace barm::operations
