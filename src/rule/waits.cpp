#include "rule/waits.h"

#include <algorithm>
#include <cmath>

namespace barm::rule {
namespace {

std::vector<std::string> unknown_of(const Conditions& conditions, const Facts& facts) {
  std::vector<std::string> names;
  for (const auto& condition : conditions) {
    if (holds(condition, facts) == Truth::not_known) names.push_back(condition.fact);
  }
  return names;
}

std::chrono::days whole(double days) {
  return std::chrono::days(static_cast<int>(std::ceil(days - 1e-9)));
}

}  // namespace

CalendarTold calendar(const std::vector<RuleSet>& sets, const Facts& facts, const CalendarAsk& ask, Day) {
  CalendarTold told;
  bool any_number = false;
  double longest = 0.0;
  for (const auto& set : sets) {
    for (const auto& rule : set.rules) {
      const auto days = rule.wait_d();
      if (!days && !rule.wait_is_reserved) continue;
      const Truth applies = all_hold(rule.applies, facts);
      if (applies == Truth::no) continue;
      WaitTold wait{.rule = &rule, .applies = applies, .is_reserved = rule.wait_is_reserved};
      if (applies == Truth::not_known) wait.missing = unknown_of(rule.applies, facts);
      if (days && !rule.wait_is_reserved) wait.days = *days;
      told.is_reserved = told.is_reserved || wait.is_reserved;
      if (!wait.is_reserved) any_number = true;
      if (!wait.is_reserved && wait.days > longest) {
        longest = wait.days;
        told.counts_unknown = applies == Truth::not_known;
      } else if (!wait.is_reserved && wait.days == longest && applies == Truth::yes) {
        told.counts_unknown = false;
      }
      told.waits.push_back(std::move(wait));
    }
  }
  std::stable_sort(told.waits.begin(), told.waits.end(), [](const WaitTold& a, const WaitTold& b) {
    return (a.is_reserved ? 1e9 : a.days) > (b.is_reserved ? 1e9 : b.days);
  });
  if (told.is_reserved && !any_number) return told;
  told.longest_days = longest;
  if (ask.applied_on) told.earliest_harvest = *ask.applied_on + whole(longest);
  if (ask.harvest_on) told.last_application = *ask.harvest_on - whole(longest);
  const bool is_short = ask.applied_on && ask.harvest_on && *ask.harvest_on < *told.earliest_harvest;
  if (ask.applied_on && ask.harvest_on && (is_short || !told.is_reserved)) told.is_kept = !is_short;
  return told;
}

}  // namespace barm::rule
