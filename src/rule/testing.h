// Which laboratory tests the rules ask for, what the results so far come to, and what is still owed.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "rule/judge.h"

namespace barm::rule {

/// Results of one kind of test, in the unit the rule's test has.
struct Results {
  std::vector<double> found{};     // counts
  int non_detects = 0;             // nothing found,
  double detection_limit = unset;  // by a method that finds this much
  int count() const { return static_cast<int>(found.size()) + non_detects; }
};

/// Geometric mean, non-detects counted as if they stood at the detection limit: the highest they can be. NaN when there
/// is no result, or a non-detect without a limit. A found 0 is no count: refused by `check_results`.
double geometric_mean(const Results& results);
/// Refuses counts that are negative, zero or no numbers, and non-detects without a positive limit. Fields: "results",
/// "non_detects", "detection_limit".
Remarks check_results(const Results& results);

struct TestTold {
  const Rule* rule = nullptr;
  Truth applies = Truth::yes;          // not known: asked for all the same
  std::vector<std::string> missing{};  // facts that would tell whether it applies
  int done_count = 0;                  // results that count
  int too_coarse_count = 0;            // non-detects by a method that cannot find what the rule asks; they do not count
  std::optional<int> owed_count{};     // samples still to take; nothing: the rule sets no number
  double figure = unset;               // the statistic so far: mean, or highest
  Verdict verdict = Verdict::cannot_tell;
};

/// `results` by the fact they are of ("tea_e_coli").
std::vector<TestTold> testing_plan(const std::vector<RuleSet>& sets, const Facts& facts,
                                   const std::map<std::string, Results>& results);

}  // namespace barm::rule
