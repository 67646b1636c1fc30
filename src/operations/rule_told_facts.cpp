#include "operations/rule_told_facts.h"

#include "rule/tea_class.h"

namespace barm::operations {

rule::Facts ToldFacts::beside(const rule::Facts& kept) {
  rule::Facts facts = told_;
  const auto differs = [&](const rule::FactKind& kind, Remark::Fact told, Remark::Fact found) {
    doubts_.try_emplace(kind.name, Remark{"operations.rule.record_says_otherwise",
                                          kind.name,
                                          {{"given", std::move(told)}, {"found", std::move(found)}}});
  };
  for (const rule::FactKind& kind : rule::all_facts()) {
    if (const auto word = kept.word(kind.name)) {
      const bool stays_raw = kind.name == "material" && told_.says("material", "raw_manure");
      if (stays_raw && *word != "raw_manure")
        doubts_.try_emplace(kind.name, Remark{"operations.rule.record_beside_manure", kind.name, {{"given", *word}}});
      if (stays_raw) continue;
      if (const auto told = told_.word(kind.name); told && *told != *word) differs(kind, *told, *word);
      facts.set(kind.name, *word);
    }
    if (const auto number = kept.number(kind.name)) {
      if (const auto told = told_.number(kind.name); told && *told != *number)
        differs(kind, Quantity{*told, kind.dimension}, Quantity{*number, kind.dimension});
      facts.set(kind.name, *number);
    }
  }
  for (Remark& why : rule::contradictions(facts)) {
    why.code = "operations.rule.record_beside_manure";
    doubts_.try_emplace(why.field, std::move(why));
  }
  return facts;
}

void ToldFacts::doubt(Findings& findings) const {
  for (const auto& [name, what] : doubts_) findings.doubt(what);
}

}  // namespace barm::operations
