// How rules and what they say are told: the same in every question about them.
#pragma once

#include <string>
#include <vector>

#include "operations/operation.h"
#include "rule/judge.h"
#include "rule/tea_class.h"

namespace barm::operations {

/// One rule as it is told; the rule is held here, so that the answer outlives the sets it came from.
struct RuleTold {
  rule::Rule rule{};
  rule::Judged judged{};
};

/// Every rule of the sets held to the facts; those that do not speak of this are left out.
std::vector<RuleTold> judge_all(const std::vector<rule::RuleSet>& sets, const rule::Facts& facts, rule::Day today);
/// Doubts rules past their review date and rules not confirmed, each once.
void doubt_rules(const std::vector<RuleTold>& rules, Findings& findings);

const Choices<rule::Verdict>& verdict_words();
const Choices<rule::Status>& status_words();
const Choices<rule::Known>& known_words();
const Choices<rule::TeaStatus>& class_words();
const Choices<rule::Wait>& wait_words();

/// "21 CFR 112.51(b)(5) (law in force)": with what it is worth, and that it is not confirmed when it is not.
std::string rule_name(const rule::Rule& rule, const Voice& voice);
std::string rule_text(const rule::Rule& rule, const Voice& voice);
std::string rule_next(const rule::Rule& rule, const Voice& voice);
/// Names of facts in a sentence, "the source of the water, whether food was added".
std::string facts_text(const std::vector<std::string>& names, const Voice& voice);

Outputs<RuleTold> rule_outputs();

/// What defers to the text, local codes and advice; stands under every answer about rules.
Remarks rule_cautions();

}  // namespace barm::operations
