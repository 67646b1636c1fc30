#include "rule/judge.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "compost/heat_rules.h"

namespace barm::rule {
namespace {

Truth truth(bool value) {
  return value ? Truth::yes : Truth::no;
}

/// So that a bound converted from degF or days is met by itself.
double slack(double bound) {
  constexpr double rounding = 1e-9;
  return rounding * std::max(1.0, std::fabs(bound));
}

/// The time the sludge rule asks at a temperature, and never less than its shortest: 20 minutes of solids heated
/// through, 30 of thin sludge (S39).
double curve_h(Condition::Curve curve, double heat_c) {
  const bool is_thick = curve == Condition::Curve::sludge_seven_percent_or_more;
  const auto solids = is_thick ? compost::Solids::seven_percent_or_more : compost::Solids::less_than_seven_percent;
  return std::max(compost::sludge_time_h(heat_c, solids), (is_thick ? 20.0 : 30.0) / 60.0);
}

Truth number_holds(const Condition& condition, double value, const Facts& facts) {
  if (condition.least == condition.least && value < condition.least - slack(condition.least)) return Truth::no;
  if (condition.most == condition.most && value > condition.most + slack(condition.most)) return Truth::no;
  if (condition.above == condition.above && value <= condition.above + slack(condition.above)) return Truth::no;
  if (condition.below == condition.below && value >= condition.below - slack(condition.below)) return Truth::no;
  if (condition.curve == Condition::Curve::none) return Truth::yes;
  const auto heat = facts.number("heat");
  if (!heat) return Truth::not_known;
  const double asked = curve_h(condition.curve, *heat);
  return truth(value >= asked - slack(asked));
}

void name_those(const Conditions& conditions, const Facts& facts, Truth which, std::set<std::string>& into) {
  for (const auto& condition : conditions) {
    if (holds(condition, facts) != which) continue;
    const bool misses_heat = which == Truth::not_known && facts.knows(condition.fact);
    into.insert(misses_heat ? "heat" : condition.fact);
  }
}

Truth any_holds(const std::vector<Conditions>& any, const Facts& facts) {
  Truth best = Truth::no;
  for (const auto& all : any) best = std::max(best, all_hold(all, facts));
  return best;
}

}  // namespace

Truth holds(const Condition& condition, const Facts& facts) {
  if (!condition.is.empty()) {
    const auto word = facts.word(condition.fact);
    if (!word) return Truth::not_known;
    return truth(std::find(condition.is.begin(), condition.is.end(), *word) != condition.is.end());
  }
  const auto value = facts.number(condition.fact);
  return value ? number_holds(condition, *value, facts) : Truth::not_known;
}

Truth all_hold(const Conditions& conditions, const Facts& facts) {
  Truth worst = Truth::yes;
  for (const auto& condition : conditions) worst = std::min(worst, holds(condition, facts));
  return worst;
}

Judged judge(const Rule& rule, const Facts& facts, Day today) {
  Judged judged{.rule = &rule};
  judged.is_past_review = today > rule.reviewed_on + std::chrono::days(review_every_days);
  const Truth speaks = all_hold(rule.applies, facts);
  if (speaks == Truth::no) {
    judged.verdict = Verdict::outside;
    return judged;
  }
  const Truth asked = rule.definition ? Truth::yes : any_holds(rule.asks, facts);
  std::set<std::string> missing, failing;
  if (speaks == Truth::not_known) name_those(rule.applies, facts, Truth::not_known, missing);
  for (const auto& all : rule.asks) {
    if (asked == Truth::not_known && all_hold(all, facts) == Truth::not_known)
      name_those(all, facts, Truth::not_known, missing);
    if (asked == Truth::no) name_those(all, facts, Truth::no, failing);
  }
  if (speaks == Truth::not_known || asked == Truth::not_known) {
    judged.verdict = Verdict::cannot_tell;
    judged.missing.assign(missing.begin(), missing.end());
    return judged;
  }
  judged.verdict = rule.definition ? Verdict::holds : asked == Truth::yes ? Verdict::met : Verdict::not_met;
  judged.failing.assign(failing.begin(), failing.end());
  return judged;
}

}  // namespace barm::rule
