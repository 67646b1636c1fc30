// What the night picture shows, before anybody draws it: the oxygen band over the local clock. The terminal, the PDF
// and the hand-out draw the same picture. Meaning of its parts: docs/cards/night_picture.md
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brew/forecast.h"
#include "cards/voice.h"
#include "recipe/plan.h"

namespace barm::cards {

/// A stretch of the brew's clock [h since air on].
struct Stretch {
  double from_h = unset;
  double to_h = unset;
};

struct ClockMark {  // a round hour of the local clock
  double at_h = unset;
  std::string hour;  // "03:00"
  std::string day;   // "Sat"
  bool is_midnight = false;
};

struct Act {  // what is done to the brew, on its clock
  double at_h = unset;
  std::string word;  // "bag out"; acts of one moment share one tick: "air off, bag out"
};

struct Dot {  // a reading of oxygen
  double at_h = unset;
  double mg_per_l = unset;
  double error_mg_per_l = 0.0;  // one standard deviation of its meter, either way
  bool doubted = false;         // not learned from, or out of line
};

struct Ready {
  Stretch when;
  std::string from, to;  // "Sat 12:30"
};

/// The band at one moment [mg/L].
struct Oxygen {
  double p05 = unset, p25 = unset, p50 = unset, p75 = unset, p95 = unset;
};

struct NightPicture {
  Stretch shown;  // empty (unset) when the forecast holds nothing to show
  std::vector<double> time_h;
  brew::Band oxygen_mg_per_l;
  std::vector<double> saturation_mg_per_l;
  double top_mg_per_l = 10.0;  // of the scale: a whole even number at or above everything shown
  std::vector<Stretch> nights;
  std::vector<ClockMark> clock;  // every third hour
  std::vector<Act> acts;         // in order of time, those inside the stretch
  std::vector<Dot> readings;     // in order of time, those inside the stretch
  std::optional<double> next_h;  // when a reading of oxygen would tell most
  std::optional<Ready> ready;
  // Words on the picture.
  std::string stay_above, flat_below, water_full, night, ready_word, unit, band_key;

  bool empty() const { return !(shown.to_h > shown.from_h); }
  /// The band at a moment, straight between the samples; nothing in a gap (a sample that is not a number) or outside.
  std::optional<Oxygen> oxygen_at(double at_h) const;
  /// Oxygen the water can hold at a moment; nothing in a gap.
  std::optional<double> saturation_at(double at_h) const;
};

/// The oxygen below which a brew is no longer well aerated, and below which it goes flat [mg/L]. Source: practice.
inline constexpr double stay_above_mg_per_l = 6.0;
inline constexpr double flat_below_mg_per_l = 2.0;

NightPicture night_picture(const recipe::BrewPlan& plan, const Voice& voice);

}  // namespace barm::cards
