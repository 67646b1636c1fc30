// How a design is put together: each part has its own file, named in the comment. For design.cpp and its tests.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "recipe/design.h"
#include "recipe/planning.h"

namespace barm::recipe {

/// One thing on the shelf, of which an amount is to be chosen.
struct Choosable {
  const compost::Kind* kind = nullptr;  // or
  const food::Food* food = nullptr;
  Dimension measure = Dimension::mass;  // in which its amounts are told: mass [g] or volume [L]
  double g_per_measure = 1.0;           // grams in one of them
  double stock = unset;                 // in that measure
  double least = 0.0, most = unset;     // what may be chosen, beside nothing
  double cost_per_g = 0.0;
  Price price{};  // as a plan tells it: with the amount it was paid for
  bool in_bag = true;
};

/// A brew that fits the clock.
struct Slot {
  double length_h = unset;
  std::int64_t start_at = 0;
};
/// Slots, shortest first: all of one start, or of a room that hardly changes.
struct Timetable {
  std::vector<Slot> slots{};
};

/// A design ask that has been checked and looked up.
struct Draft {
  DesignAsk ask{};
  const Knowledge* knowledge = nullptr;
  Brewing brewing{};  // water, vessel and site; no compost or food yet
  std::string vessel{};
  Aeration aeration{};
  std::vector<Choosable> shelf{};
  std::vector<Timetable> timetables{};
  bool food_is_kept_out = false;         // by the purpose or the crop's rules
  bool animal_food_is_kept_out = false;  // by the crop's rules
};

/// Amounts of everything on the shelf, each in its own measure as people can measure it out, and the timetable.
struct Mix {
  std::vector<double> amounts{};
  std::size_t timetable = 0;
  auto operator<=>(const Mix&) const = default;  // NOLINT(modernize-use-nullptr): the zero is of its own making
};

/// How much of each line a mix uses up; more than 1 is past it.
struct Uses {
  double sugar = 0.0, salt = 0.0, food = 0.0, thick = 0.0, thin = 0.0, nitrogen = 0.0;
  double excess() const;  // how far past the lines, all together; 0 when within all
};

/// What one length of a mix comes to.
struct Outcome {
  Slot slot;
  double stays_above_6 = unset, below_2 = unset;  // shares of the brews
  double lowest_mg_per_l = unset;                 // oxygen, 5 of 100 fall lower
  double edge_mg_per_l = unset;  // lowest oxygen of the worst brew that must still stay above 6, by the tolerance
  double yield = unset;
  double off_window = 0.0;  // days outside the ready window; at least 1 when there is none
};
/// A mix tried out.
struct Tried {
  Mix mix{};
  Uses uses{};
  bool has_food = false;
  bool is_measurable = true;        // each amount as people can measure it out
  double stuff_cost = 0.0;          // foods and compost
  double stuff_g = 0.0;             // their mass
  std::vector<Outcome> outcomes{};  // empty when the mix is far past a line, so that nothing was forecast
};

// draft.cpp
std::optional<Draft> draft(const DesignAsk& ask, const Knowledge& knowledge, Findings& findings);
/// The water asked for, or what the beds take, rounded up to what can be measured.
double volume_of_l(const DesignAsk& ask);
/// Of the beds, or what so much water treats.
double area_of_m2(const DesignAsk& ask, double volume_l);
brew::Aim aim_of(Purpose purpose);

// timetable.cpp
inline constexpr double shortest_h = 6.0, shortest_extract_h = 3.0;  // judged: below, nothing has grown; or come out
/// Every length in half hours that fits the clock, with the start that suits it best.
std::vector<Timetable> timetables(const DesignAsk& ask);
/// The longest that any start lets a brew run [h].
double longest_h(const Draft& draft);
/// Refusals that say why no slot fits, and what would.
Remarks no_time(const DesignAsk& ask);

// mixing.cpp
/// An amount as it can be measured out, which stays the same when rounded again; 0 below the least there is.
double measurable(const Choosable& what, double amount, const Customs& customs);
/// The next measurable amount up (or down), looked for in steps of a twelfth unless told finer.
double neighbour(const Choosable& what, double amount, bool up, const Customs& customs, double step = 13.0 / 12.0);
Brewing brewing_of(const Draft& draft, const Mix& mix);
/// What `brew plan` would be asked for this brew.
PlanAsk plan_ask(const Draft& draft, const Mix& mix, const Slot& slot);
Uses uses_of(const Draft& draft, const Mix& mix);

// outlook.cpp
/// Forecast at every length of its timetable, in one run of all members.
Tried try_out(const Draft& draft, const Mix& mix, const brew::Parallel& parallel);
/// How many of so many brews may fall below 6 mg/L.
int below_allowed_count(int members_count, double tolerance);
/// How much of what the purpose wants there is (docs/recipe/design.md, 1 to 4).
struct Life {
  double bacteria_per_ml = unset, fungi_ug_per_ml = unset, protozoa_per_ml = unset, nitrogen_mg_per_l = unset;
};
double yield_of(Purpose purpose, const Life& life);
/// The same of the middle brew of a plan when the air stops.
double yield_of_plan(Purpose purpose, const BrewPlan& plan);

// explain.cpp
Remarks reasons(const Draft& draft, const Tried& tried, const Design& design);
Remarks notes_of(const Draft& draft, const DesignAnswer& answer);

// impossible.cpp
class Tryouts;
/// Searches for what gets ready whatever its oxygen. What it finds does not depend on the tolerance asked for.
void search_ready(Tryouts& tryouts);
/// Why nothing on hand works, and the nearest asks that would; after `search_ready`.
Remarks impossible(Tryouts& tryouts);

}  // namespace barm::recipe
