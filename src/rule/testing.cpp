#include "rule/testing.h"

#include <algorithm>
#include <cmath>

#include "count/series.h"

namespace barm::rule {
namespace {

double highest(const Results& results) {
  double most = results.non_detects > 0 ? results.detection_limit : unset;
  for (const double value : results.found) most = std::isnan(most) ? value : std::max(most, value);
  return most;
}

/// Non-detects of a method too coarse for the rule say nothing of it.
bool is_too_coarse(const Test& test, const Results& results) {
  if (results.non_detects == 0) return false;
  const double asked = test.statistic == Statistic::not_found ? test.detects : test.limit;
  return !(results.detection_limit <= asked);
}

Verdict verdict_of(const Test& test, const TestTold& told, const Results& counted) {
  const bool is_enough = !told.owed_count || *told.owed_count == 0;
  if (test.statistic == Statistic::not_found) {
    if (!counted.found.empty()) return Verdict::not_met;
    return counted.non_detects > 0 && is_enough ? Verdict::met : Verdict::cannot_tell;
  }
  if (counted.count() == 0) return Verdict::cannot_tell;
  const bool holds = test.statistic == Statistic::below ? told.figure < test.limit : told.figure <= test.limit;
  // Every sample must pass: one that does not decides at once. A mean can still move.
  const bool is_final = is_enough || test.statistic == Statistic::each_at_most;
  if (!holds) return is_final ? Verdict::not_met : Verdict::cannot_tell;
  return is_enough ? Verdict::met : Verdict::cannot_tell;
}

}  // namespace

double geometric_mean(const Results& results) {
  const auto none = static_cast<std::size_t>(std::max(0, results.non_detects));
  return count::geometric_mean(
      {.found = results.found, .not_found = std::vector<double>(none, results.detection_limit)});
}

Remarks check_results(const Results& results) {
  Remarks wrong;
  for (std::size_t i = 0; i < results.found.size(); ++i) {
    if (results.found[i] > 0.0 && std::isfinite(results.found[i])) continue;
    wrong.push_back({"rule.tests.not_a_count",
                     "results[" + std::to_string(i + 1) + "]",
                     {{"given", Quantity{results.found[i], Dimension::number}}}});
  }
  const bool has_limit = results.detection_limit > 0.0 && std::isfinite(results.detection_limit);
  if (results.non_detects > 0 && !has_limit) wrong.push_back({"rule.tests.no_limit", "detection_limit", {}});
  return wrong;
}

namespace {

/// Of two tests of which one suffices, the other is not asked for once one is met.
void leave_out_replaced(std::vector<TestTold>& plan) {
  const auto leave_out = [](TestTold& told) {
    told.verdict = Verdict::outside;
    if (told.owed_count) told.owed_count = 0;
  };
  for (auto& other : plan) {
    if (other.rule->test->instead_of.empty()) continue;
    for (auto& first : plan) {
      if (first.rule->id != other.rule->test->instead_of) continue;
      if (first.verdict == Verdict::met) {
        leave_out(other);
      } else if (other.verdict == Verdict::met) {
        leave_out(first);
      }
    }
  }
}

}  // namespace

std::vector<TestTold> testing_plan(const std::vector<RuleSet>& sets, const Facts& facts,
                                   const std::map<std::string, Results>& results) {
  std::vector<TestTold> plan;
  for (const auto& set : sets) {
    for (const auto& rule : set.rules) {
      if (!rule.test) continue;
      TestTold told{.rule = &rule, .applies = all_hold(rule.applies, facts)};
      if (told.applies == Truth::no) continue;
      for (const auto& condition : rule.applies) {
        if (holds(condition, facts) == Truth::not_known) told.missing.push_back(condition.fact);
      }
      const auto at = results.find(rule.test->of);
      Results counted = at == results.end() ? Results{} : at->second;
      if (is_too_coarse(*rule.test, counted)) {
        told.too_coarse_count = counted.non_detects;
        counted.non_detects = 0;
      }
      told.done_count = counted.count();
      if (rule.test->samples) told.owed_count = std::max(0, *rule.test->samples - told.done_count);
      const bool is_mean = rule.test->statistic == Statistic::mean_at_most;
      told.figure = is_mean ? geometric_mean(counted) : highest(counted);
      told.verdict = verdict_of(*rule.test, told, counted);
      plan.push_back(std::move(told));
    }
  }
  leave_out_replaced(plan);
  return plan;
}

}  // namespace barm::rule
