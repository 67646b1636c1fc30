// What a rule says of the facts: met, not met, or which fact is missing. Never a guess.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "rule/facts.h"
#include "rule/rule.h"

namespace barm::rule {

/// Three-valued: what is not known stays so until it no longer matters (Kleene's strong logic).
enum class Truth : std::uint8_t { no, not_known, yes };

enum class Verdict : std::uint8_t {
  met,
  not_met,
  cannot_tell,  // a fact that matters is missing; counts against, as not met does
  holds,        // a definition that fits
  outside,      // does not speak of this
};
inline bool counts_against(Verdict verdict) {
  return verdict == Verdict::not_met || verdict == Verdict::cannot_tell;
}

struct Judged {
  const Rule* rule = nullptr;
  Verdict verdict = Verdict::cannot_tell;
  std::vector<std::string> missing{};  // facts that would tell, when it cannot be told
  std::vector<std::string> failing{};  // facts that do not meet it
  bool is_past_review = false;         // its text was last looked at longer ago than a year
};

Truth holds(const Condition& condition, const Facts& facts);
Truth all_hold(const Conditions& conditions, const Facts& facts);

/// Law: adding a fact that was missing never changes `met`, `not_met`, `holds` or `outside`.
Judged judge(const Rule& rule, const Facts& facts, Day today);

}  // namespace barm::rule
