// Which laboratory tests the rules ask for, what the results so far come to, and what is still owed.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "rule/judge.h"

namespace barm::rule {

/// One result with what is known of its sample.
struct Sample {
  bool found = true;
  double count = unset;    // what was found; unset: found, and not counted how much
  double detects = unset;  // where nothing was found: what the method finds; unset: not known
  std::string batch{};     // samples of one batch pay off one that is owed; empty: by itself
};
/// Results of one kind of test, in the unit the rule's test has.
struct Results {
  std::vector<double> found{};     // counts
  int non_detects = 0;             // nothing found,
  double detection_limit = unset;  // by a method that finds this much
  std::vector<Sample> samples{};   // and further ones
  int count() const { return static_cast<int>(found.size() + samples.size()) + non_detects; }
};

/// Geometric mean, non-detects counted as if they stood at the detection limit: the highest they can be. NaN when there
/// is no result, a non-detect without a limit, or a find without a count. A found 0 is no count: refused by
/// `check_results`.
double geometric_mean(const Results& results);
/// Refuses counts that are negative, zero or no numbers, and non-detects without a positive limit. Fields: "results",
/// "non_detects", "detection_limit".
Remarks check_results(const Results& results);

/// Whether a sample counts for a test, and why not: its method finds less well than the rule asks, or nobody said how
/// well it finds, or how much was found.
enum class Standing : std::uint8_t { counts, too_coarse, no_limit, no_count };

struct TestTold {
  const Rule* rule = nullptr;
  Truth applies = Truth::yes;          // not known: asked for all the same
  std::vector<std::string> missing{};  // facts that would tell whether it applies
  int done_count = 0;                  // results that count, those of one batch once
  int repeated_count = 0;              // results that count beside another of their batch
  int too_coarse_count = 0;            // non-detects by a method that cannot find what the rule asks; they do not count
  std::optional<int> owed_count{};     // samples still to take; nothing: the rule sets no number
  double figure = unset;               // the statistic so far: mean, or highest
  std::vector<Standing> standings{};   // of `Results::samples`, in their order
  Verdict verdict = Verdict::cannot_tell;
};

/// `results` by the fact they are of ("tea_e_coli").
std::vector<TestTold> testing_plan(const std::vector<RuleSet>& sets, const Facts& facts,
                                   const std::map<std::string, Results>& results);

}  // namespace barm::rule
