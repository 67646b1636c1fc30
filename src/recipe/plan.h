// A brew planned end to end: what the grower has and wants, and what will come of it. The one answer that the card, the
// command and the screens show.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "air/pump.h"
#include "air/transfer.h"
#include "brew/ensemble.h"
#include "brew/log.h"
#include "compost/kind.h"
#include "compost/maturity.h"
#include "food/food.h"
#include "quantity/answer.h"
#include "quantity/kitchen.h"
#include "recipe/batch_cost.h"
#include "recipe/room_day.h"
#include "season/night.h"
#include "water/chlorine.h"

namespace barm::recipe {

using brew::Aim;

struct PlannedCompost {
  std::string kind;       // id in data/composts.toml
  double mass_g = unset;  // moist, as weighed
  bool in_bag = true;
  compost::LotMeasured measured{};  // of this lot; what is unset is taken from the kind
  Price price{};
};
struct PlannedFood {
  std::string name;
  Amount amount;
  Price price{};
};

/// What the grower has and wants. Defaults are a usual bucket in a temperate room.
struct PlanAsk {
  std::string name = "brew";
  std::int64_t start_at = 0;  // milliseconds UTC
  Aim aim = Aim::balanced;
  double length_h = 20.0;  // air on to air off
  season::Place place;
  double altitude_m = 0.0;
  Customs customs;
  double volume_l = 19.0;
  double water_temperature_c = 20.0;
  water::Disinfectant disinfectant;
  bool disinfectant_is_known = false;
  double vessel_diameter_m = 0.28;
  air::Supply air;
  double measured_kla20_per_h = unset;  // from a re-aeration test; unset: estimated from the air
  double measured_kla20_error_per_h = unset;
  double room_temperature_c = 20.0;
  RoomDay room_day;  // when told, in place of the one temperature
  double usual_room_c() const { return room_day.is_told() ? room_day.mean_c() : room_temperature_c; }
  /// The mean of the place while it brews, which an afternoon alone has warmer than the day [degC].
  double room_meanwhile_c() const {
    return room_day.is_told() ? mean_c(room_day, start_at, length_h) : room_temperature_c;
  }
  void warm_room(double by_c) {
    room_temperature_c += by_c;
    room_day.warm(by_c);
  }
  double room_humidity_share = 0.5;
  std::vector<PlannedCompost> composts;
  std::vector<PlannedFood> foods;
  brew::BrewLog log;        // what was read and done since air on; empty: nothing yet
  bool wants_mends = true;  // forecasting them takes longer than the plan itself
  int members_count = 256;
  std::uint64_t seed = 1;
};

/// One line of the shopping-and-measuring list.
struct AmountLine {
  std::string id;                // "water", "compost.fungal", "food.kelp_meal"
  std::string english, spanish;  // what it is
  KitchenAmount amount;
  double per_l = unset;  // g or mL per L of water
};

/// One thing to do, at its time on the brew's clock.
struct Step {
  std::string code;        // words in data/messages/recipe.toml
  double at_h = 0.0;       // hours since air on; negative: before
  double until_h = unset;  // when it takes a while
  std::map<std::string, Remark::Fact> facts;
};

/// A smallest change that would mend a failing line, tried by forecasting it.
/// A value to write in the plan: where, and what; empty leaves the row out.
struct Change {
  std::string field;  // as a plan file names it: "brew.length", "food[2].amount"
  std::string value;  // as people write it: "16 h"
};

struct Mend {
  std::string code;  // "recipe.mend.less_food", "without_food", "more_air", "cooler", "shorter", "together"
  std::map<std::string, Remark::Fact> facts;        // from, to, which food
  double probability_oxygen_stays_above_6 = unset;  // after the change
  double probability_oxygen_below_2 = unset;
  bool mends = false;             // meets every line; otherwise it only helps
  std::vector<Change> changes{};  // what to write in the plan to have it so
};

enum class Verdict : std::uint8_t { holds, doubtful, fails };

/// What the readings taught.
struct Watched {
  std::vector<brew::Heard> heard;  // in order of time
  int used_count = 0;
  double effective_count = unset;  // members in effect
};

struct BrewPlan {
  PlanAsk ask;
  Verdict verdict = Verdict::fails;
  Remark headline;   // the one sentence to say aloud across a yard
  Remarks warnings;  // most serious first
  std::vector<Mend> mends;
  std::vector<AmountLine> amounts;
  std::vector<water::Clearing> clearing;  // recommended first
  air::Delivered air;
  air::KlaEstimate kla;
  double uptake_peak_mg_per_l_per_h = unset;  // what the brew will draw at its hungriest, middle member
  double supply_at_6_mg_per_l_per_h = unset;  // what the air can give while oxygen is at 6 mg/L
  double conductivity_rise_ms_per_cm = unset;
  double nitrogen_mg_per_l = unset;  // mineral and soluble organic on offer
  double sugar_share = unset;        // ready food, told as blackstrap molasses, of the brew's weight
  brew::Forecast forecast;
  std::optional<Watched> watched;  // when the ask holds a log
  std::vector<Step> steps;
  std::vector<season::Night> nights;
  Remarks cautions;                  // where the work can hurt someone
  Remarks notes;                     // how far the figures and the claims may be trusted
  std::vector<std::string> sources;  // keys of docs/sources.md the answer rests on
};

struct Knowledge {  // what the plan is worked out from, read from data/
  food::Library foods;
  compost::Kinds composts;
  brew::Priors priors;
  brew::Instruments instruments;
};

/// Refuses, naming every wrong field of the ask, what cannot be brewed or worked out; what is merely unwise is a
/// warning. The plan does not depend on `parallel`.
Answer<BrewPlan> plan_brew(const PlanAsk& ask, const Knowledge& knowledge,
                           const brew::Parallel& parallel = brew::one_after_the_other);

}  // namespace barm::recipe
