#include "rule/testing.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "count/series.h"

namespace barm::rule {
namespace {

std::vector<Sample> all_of(const Results& results) {
  std::vector<Sample> all = results.samples;
  for (const double count : results.found) all.push_back({.count = count});
  const auto none = static_cast<std::size_t>(std::max(0, results.non_detects));
  all.insert(all.end(), none, Sample{.found = false, .detects = results.detection_limit});
  return all;
}

/// What a sample can be at most: its count, or where nothing was found what the method would have missed.
double most_of(const Sample& sample) {
  return sample.found ? sample.count : sample.detects;
}

double highest(const std::vector<Sample>& samples) {
  double most = unset;
  for (const auto& sample : samples) most = std::fmax(most, most_of(sample));
  return most;
}

double mean(const std::vector<Sample>& samples) {
  count::Series counts;
  for (const auto& sample : samples) (sample.found ? counts.found : counts.not_found).push_back(most_of(sample));
  return count::geometric_mean(counts);
}

/// Non-detects of a method too coarse for the rule say nothing of it, nor does a find without a count of how much.
Standing standing_of(const Test& test, const Sample& sample) {
  const bool asks_for_none = test.statistic == Statistic::not_found;
  if (sample.found) return asks_for_none || std::isfinite(sample.count) ? Standing::counts : Standing::no_count;
  if (std::isnan(sample.detects)) return Standing::no_limit;
  return sample.detects <= (asks_for_none ? test.detects : test.limit) ? Standing::counts : Standing::too_coarse;
}

/// Samples of one batch once.
int batches_of(const std::vector<Sample>& samples) {
  int alone = 0;
  std::set<std::string> batches;
  for (const auto& sample : samples) {
    if (sample.batch.empty()) ++alone;
    if (!sample.batch.empty()) batches.insert(sample.batch);
  }
  return alone + static_cast<int>(batches.size());
}

Verdict verdict_of(const Test& test, const TestTold& told, const std::vector<Sample>& counted) {
  const bool is_enough = !told.owed_count || *told.owed_count == 0;
  if (test.statistic == Statistic::not_found) {
    if (std::any_of(counted.begin(), counted.end(), [](const Sample& sample) { return sample.found; }))
      return Verdict::not_met;
    return !counted.empty() && is_enough ? Verdict::met : Verdict::cannot_tell;
  }
  if (counted.empty()) return Verdict::cannot_tell;
  const bool holds = test.statistic == Statistic::below ? told.figure < test.limit : told.figure <= test.limit;
  // Every sample must pass: one that does not decides at once. A mean can still move.
  const bool is_final = is_enough || test.statistic == Statistic::each_at_most;
  if (!holds) return is_final ? Verdict::not_met : Verdict::cannot_tell;
  return is_enough ? Verdict::met : Verdict::cannot_tell;
}

}  // namespace

double geometric_mean(const Results& results) {
  return mean(all_of(results));
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
      const Results given = at == results.end() ? Results{} : at->second;
      std::vector<Sample> counted;
      for (const auto& sample : all_of(given)) {
        const Standing standing = standing_of(*rule.test, sample);
        if (told.standings.size() < given.samples.size()) told.standings.push_back(standing);
        if (standing == Standing::too_coarse) ++told.too_coarse_count;
        if (standing == Standing::counts) counted.push_back(sample);
      }
      told.done_count = batches_of(counted);
      told.repeated_count = static_cast<int>(counted.size()) - told.done_count;
      if (rule.test->samples) told.owed_count = std::max(0, *rule.test->samples - told.done_count);
      const bool is_mean = rule.test->statistic == Statistic::mean_at_most;
      told.figure = is_mean ? mean(counted) : highest(counted);
      told.verdict = verdict_of(*rule.test, told, counted);
      plan.push_back(std::move(told));
    }
  }
  leave_out_replaced(plan);
  return plan;
}

}  // namespace barm::rule
