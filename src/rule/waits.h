// When a bed may be harvested after an application, and until when one may apply before a harvest.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rule/judge.h"

namespace barm::rule {

struct WaitTold {
  const Rule* rule = nullptr;
  Truth applies = Truth::yes;  // not known: counted against, and `missing` says what would tell
  std::vector<std::string> missing{};
  bool is_reserved = false;  // the law asks for days and has set no number
  double days = unset;
};

struct CalendarAsk {
  std::optional<Day> applied_on{}, harvest_on{};
};
struct CalendarTold {
  std::vector<WaitTold> waits{};          // the longest first; those of which nothing is known to apply are left out
  double longest_days = unset;            // of the waits with a number; 0 when none asks for days; unset: all reserved
  bool is_reserved = false;               // some law asks to wait and has set no number
  bool counts_unknown = false;            // the longest rests on a rule of which it is not known whether it applies
  std::optional<Day> earliest_harvest{};  // no earlier than this; nothing when not asked
  std::optional<Day> last_application{};
  std::optional<bool> is_kept{};  // both days given: the wait lies between them; nothing when a wait is reserved
};

/// Source: the rules themselves. A reserved number is never made up: `earliest_harvest` then tells only of the other
/// waits. Days are counted on the calendar: applied on day 0, harvested on day n.
CalendarTold calendar(const std::vector<RuleSet>& sets, const Facts& facts, const CalendarAsk& ask, Day today);

}  // namespace barm::rule
