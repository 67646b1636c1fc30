// What a brew will do: an ensemble of possible brews, told as bands and odds. Model: docs/brew/model.md
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "brew/log.h"
#include "quantity/answer.h"

namespace barm::brew {

/// A quantity over time as the ensemble sees it: 5, 25, 50, 75 and 95 % of the members lie below.
struct Band {
  std::vector<double> p05, p25, p50, p75, p95;
};
/// The same for one number.
struct Spread {
  double p05 = unset, p25 = unset, p50 = unset, p75 = unset, p95 = unset;
};

/// From when until when the brew is worth using [h since start]. Rules: docs/brew/ready.md
struct ReadyWindow {
  bool exists = false;
  double from_h = unset;
  double to_h = unset;
  std::string why_from, why_to;  // codes of the rule that set each end ("brew.ready.life_enough", ...)
};

struct Driver {
  std::string symbol;   // as in Unknowns: "kla", "compost1.cells", "food2.cod", "mu_B"
  double share = 0.0;   // of the spread of the lowest oxygen's ranks that goes with it alone, 0 to 1
  bool raises = false;  // more of it, more oxygen
};

struct NextReading {
  Measured what = Measured::oxygen;
  double at_h = unset;         // since air on
  double narrows_share = 0.0;  // of the spread of the lowest oxygen still to come, 0 to 1
};

struct Forecast {
  std::vector<double> time_h;
  Band oxygen_mg_per_l;
  std::vector<double> saturation_mg_per_l;  // middle
  Band temperature_c;
  Band bacteria_per_ml;
  Band fungi_ug_per_ml;  // dry mass; indicative
  Band protozoa_per_ml;  // flagellates and amoebae
  Band uptake_mg_per_l_per_h;
  double probability_oxygen_stays_above_6 = unset;  // over the planned length
  double probability_oxygen_below_2 = unset;
  Spread oxygen_minimum_mg_per_l;
  Spread oxygen_minimum_at_h;
  double low_hour_h = unset;          // the hour worth watching (low_hour.h)
  Spread minutes_to_2_after_air_off;  // air stopped and bag out at the end of the brew
  ReadyWindow ready;
  std::vector<Driver> drivers;              // of the lowest oxygen, strongest first; empty unless asked for
  std::optional<NextReading> next_reading;  // likewise
  int members_count = 0;
  int failed_members_count = 0;  // members the solver gave up on; any is a defect
};

}  // namespace barm::brew
