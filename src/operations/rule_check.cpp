// barm rule check: which rules the facts meet, which not, and what is missing to tell.
#include <algorithm>

#include "operations/registry.h"
#include "operations/rule_inputs.h"
#include "operations/rule_told.h"

namespace barm::operations {
namespace {

using rule::Verdict;

struct In {
  RuleChoice choice{};
  RuleFacts facts{};
};
struct Out {
  std::vector<RuleTold> rules{};
  rule::TeaClass tea{};
  int count(Verdict verdict) const {
    return static_cast<int>(
        std::count_if(rules.begin(), rules.end(), [&](const RuleTold& one) { return one.judged.verdict == verdict; }));
  }
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto sets = findings.take(chosen_rules(in.choice, world));
  const auto facts = rule::with_derived(in.facts.facts(findings));
  if (!sets || findings.refused()) return std::move(findings).refusal<Out>();
  Out out{judge_all(*sets, facts, today(world)), rule::classify(rule::tea_facts(facts))};
  doubt_rules(out.rules, findings);
  return std::move(findings).answer(std::move(out));
}

Remark headline(const Out& out) {
  const int not_met = out.count(Verdict::not_met), unknown = out.count(Verdict::cannot_tell);
  std::map<std::string, Remark::Fact> facts{{"met", std::to_string(out.count(Verdict::met))},
                                            {"not_met", std::to_string(not_met)},
                                            {"unknown", std::to_string(unknown)}};
  const char* code = not_met > 0   ? "rule.check.headline.not_met"
                     : unknown > 0 ? "rule.check.headline.cannot_tell"
                                   : "rule.check.headline.met";
  return {code, "", std::move(facts)};
}

std::string group(const Out& out, Verdict verdict, const char* title, const Voice& voice) {
  if (out.count(verdict) == 0) return {};
  std::string text = "\n" + voice.say(title) + "\n";
  for (const auto& one : out.rules) {
    if (one.judged.verdict != verdict) continue;
    text += "  " + rule_name(one.rule, voice) + "\n    " + rule_text(one.rule, voice) + "\n";
    const auto& names = verdict == Verdict::cannot_tell ? one.judged.missing : one.judged.failing;
    if (!names.empty())
      text += "    " +
              voice.say(verdict == Verdict::cannot_tell ? "rule.told.missing" : "rule.told.failing",
                        {{"facts", facts_text(names, voice)}}) +
              "\n";
    if (const auto next = rule_next(one.rule, voice); !next.empty() && rule::counts_against(verdict))
      text += "    → " + next + "\n";
  }
  return text;
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text = voice.say(headline(out)) + "\n";
  text += group(out, Verdict::not_met, "rule.told.title_not_met", voice);
  text += group(out, Verdict::cannot_tell, "rule.told.title_cannot_tell", voice);
  text += group(out, Verdict::met, "rule.told.title_met", voice);
  text += group(out, Verdict::holds, "rule.told.title_holds", voice) + "\n";
  for (const auto& caution : rule_cautions()) text += voice.say(caution) + "\n";
  return text;
}

auto count_of(Verdict verdict) {
  return [verdict](const Out& out) { return out.count(verdict); };
}

}  // namespace

Operation rule_check() {
  Inputs<In> inputs;
  inputs.text("rules", at(&In::choice, &RuleChoice::rules), "us_produce,us_organic");
  inputs.text("own", at(&In::choice, &RuleChoice::own), "garden_rules.toml", Kind::file_read);
  fact_inputs(inputs, "", fact_names(), [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<Out> outputs;
  outputs.told("headline", [](const Out& out, const Voice& voice) { return voice.say(headline(out)); })
      .whole("met_count", count_of(Verdict::met))
      .whole("not_met_count", count_of(Verdict::not_met))
      .whole("cannot_tell_count", count_of(Verdict::cannot_tell))
      .choice("class", at(&Out::tea, &rule::TeaClass::status), class_words())
      .list("rules", at(&Out::rules), rule_outputs())
      .remarks("cautions", [](const Out&) { return rule_cautions(); });
  return define<In, Out>(
      {.noun = "rule",
       .verb = "check",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {
           {"rule check --rules us_produce --animal-origin yes --process composted --food yes --held \"20 h\""}}});
}

}  // namespace barm::operations
