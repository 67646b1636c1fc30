// What every question about rules takes: the sets of rules to hold to, and the facts.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "operations/inputs.h"
#include "operations/world.h"
#include "rule/facts.h"
#include "rule/rule.h"

namespace barm::operations {

/// Facts as given: a number that was not given is unset, a word that was not is empty.
struct RuleFacts {
  struct Number {
    double value = unset;
  };
  std::map<std::string, Number> numbers{};
  std::map<std::string, std::string> words{};
  rule::Facts facts() const;
  /// The same, after refusing what cannot hold together.
  rule::Facts facts(Findings& findings) const;
};

struct RuleChoice {
  std::string rules = "us_produce,us_organic";  // names of sets, parted by commas; "none" is no set
  std::string own{};                            // file of a garden's own rules
};

/// Describes facts as inputs, under a table's name ("rule.") or none. `of` gives the RuleFacts of an input.
template <class In, class Of>
void fact_inputs(Inputs<In>& inputs, const std::string& table, const std::vector<std::string>& names, Of of) {
  for (const auto& name : names) {
    const rule::FactKind& kind = *rule::fact_kind(name);
    if (kind.is_number()) {
      const auto get = [of, name](In& in) -> double& { return of(in).numbers[name].value; };
      inputs.quantity(table + name, get, kind.dimension, kind.sample).least(kind.least).most(kind.most);
      continue;
    }
    Choices<std::string> choices;
    for (const auto& word : kind.words) choices.emplace_back(word, word);
    choices.emplace_back("not_known", "");
    inputs.choice(
        table + name, [of, name](In& in) -> std::string& { return of(in).words[name]; }, choices);
  }
}

/// Every fact that can be asked for.
std::vector<std::string> fact_names();

/// The sets chosen and the garden's own. Refuses a name there is no file of (field "rules") and a wrong file ("own").
Answer<std::vector<rule::RuleSet>> chosen_rules(const RuleChoice& choice, const World& world);
/// The day it is, UTC.
rule::Day today(const World& world);
/// Reads a day given as text; nothing when empty, and after refusing it.
std::optional<rule::Day> read_day_input(const std::string& given, const char* field, Findings& findings);

}  // namespace barm::operations
