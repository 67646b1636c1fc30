// Whether a log of pile temperatures meets a rule's time and heat, and what is still owed. Method: docs/compost/heat.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "compost/heat_rules.h"
#include "quantity/answer.h"

namespace barm::compost {

/// The one place of a log that names none.
inline constexpr const char* whole_pile = "pile";
inline constexpr const char* whole_pile_es = "pila";
/// Puts the place among what the remark tells.
inline void name_position(const std::string& name, Remark& remark) {
  remark.facts["position"] = name;
  if (name == whole_pile) remark.facts["position_es"] = whole_pile_es;
}

/// Readings at one place of the pile, in the order of the log. NaN is a reading that is not there.
struct HeatPosition {
  std::string name;
  std::vector<double> time_h;        // since the start of the log
  std::vector<float> temperature_c;  // as many
};

struct HeatLog {
  std::vector<HeatPosition> positions;
  std::vector<double> turned_at_h;  // any order; turns within an hour are one turn
  bool is_fahrenheit = false;       // written so: the rule's own degF then bound the band
};

struct HeatAsk {
  Method method = Method::windrow;
  Rule rule = Rule::organic;
  double longest_gap_h = unset;  // unset: three times the usual spacing of a position's readings, at most 26 h
  double initial_cn = unset;
};

/// Readings of one position that earn nothing, by what is wrong with them.
struct HeatFaults {
  std::size_t missing_count = 0;     // no number
  std::size_t impossible_count = 0;  // below -40 or above 100 degC: no moist pile is there
  std::size_t stuck_count = 0;       // the same to the last digit for too long
  std::size_t spike_count = 0;       // off by 15 degC from both neighbours within the hour
  std::size_t clock_count = 0;       // not later than a reading before it
  std::size_t repeated_count = 0;    // a row that stands there twice: left out, and nothing is lost
  std::size_t gaps_count = 0;        // stretches between readings too long to count
  double gaps_h = 0.0;               // their length
  double first_at_h = unset;         // the first reading that earns nothing
  std::size_t readings_count() const {
    return missing_count + impossible_count + stuck_count + spike_count + clock_count;
  }
};

struct HeatPositionTold {
  std::string name;
  std::size_t readings_count = 0;
  double low_c = unset, high_c = unset;  // of readings that count
  double held_h = 0.0;                   // all hours in the band of the asked rule
  double longest_h = 0.0;                // longest stretch without a break
  double owed_h = 0.0;                   // by the asked rule
  double sludge_share = 0.0;             // of the time the sludge equation asks (7 % solids or more), added up; judged
  double longest_gap_h = unset;          // used
  HeatFaults faults{};
};

struct HeatClauseTold {
  std::string id, clause, source;
  Rule rule = Rule::organic;
  bool meets = false;
  double hours_owed = 0.0;  // at the position that owes most
  int turns_counted = 0;    // while the pile was hot
  int turns_owed = 0;
  bool cn_fails = false;    // the mix at the start was outside what the rule takes
  double met_at_h = unset;  // when the last thing asked was done
};

struct HeatTold {
  HeatClauseTold asked;                 // the clause of the rule and method asked
  std::vector<HeatClauseTold> clauses;  // of every rule for the method
  std::vector<HeatPositionTold> positions;
  std::size_t coldest = 0;  // index of the position that owes most by the asked clause
  double log_h = 0.0;       // from first to last reading
};

/// Holds the log to every clause for the method. A stretch between two readings earns its length when both ends count,
/// both lie in the band, and it is no longer than the longest gap; every position must earn enough by itself. Turns
/// count from the first hour earned to the last. Doubts: faults (compost.heat.*), a C:N not told where it is asked.
/// Refuses: a log without positions; readings in degC that read like degF.
Answer<HeatTold> judge_heat(const HeatLog& log, const HeatAsk& ask, const std::vector<HeatRule>& rules);

}  // namespace barm::compost
