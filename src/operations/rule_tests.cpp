// barm rule tests: which laboratory tests the rules ask for, what the results come to, and what is still owed.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "operations/registry.h"
#include "operations/rule_inputs.h"
#include "operations/rule_told.h"
#include "rule/testing.h"

namespace barm::operations {
namespace {

using rule::Statistic;
using rule::Verdict;

const std::vector<std::string> asked = {"tea_e_coli",      "tea_enterococci", "water_e_coli", "compost_e_coli",
                                        "fecal_coliforms", "salmonella",      "listeria",     "o157"};

struct In {
  RuleChoice choice{};
  RuleFacts facts{};
  std::string of = "tea_e_coli";
  rule::Results results{};
};
struct One {
  rule::Rule rule{};
  rule::TestTold told{};
};
struct Out {
  std::vector<One> tests{};
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto sets = findings.take(chosen_rules(in.choice, world));
  for (auto& why : rule::check_results(in.results)) findings.refuse(std::move(why));
  const auto facts = rule::with_derived(in.facts.facts(findings));
  if (!sets || findings.refused()) return std::move(findings).refusal<Out>();
  Out out;
  for (auto& told : rule::testing_plan(*sets, facts, {{in.of, in.results}})) {
    const rule::Rule of = *told.rule;
    told.rule = nullptr;
    out.tests.push_back({of, std::move(told)});
  }
  const bool is_asked =
      std::any_of(out.tests.begin(), out.tests.end(), [&](const One& one) { return one.rule.test->of == in.of; });
  if (in.results.count() > 0 && !is_asked) findings.doubt({"rule.tests.not_asked", "of", {{"given", in.of}}});
  std::vector<RuleTold> rules;
  for (const auto& one : out.tests) rules.push_back({one.rule, {}});
  doubt_rules(rules, findings);
  return std::move(findings).answer(std::move(out));
}

std::string word_of_verdict(Verdict verdict) {
  for (const auto& [word, is] : verdict_words()) {
    if (is == verdict) return word;
  }
  throw BrokenPromise("a verdict without a word");
}

std::string samples_text(const One& one, const Voice& voice) {
  if (!one.told.owed_count) return voice.say("rule.tests.no_number", {{"done", std::to_string(one.told.done_count)}});
  return voice.say("rule.tests.owed", {{"done", std::to_string(one.told.done_count)},
                                       {"samples", std::to_string(*one.rule.test->samples)},
                                       {"owed", std::to_string(*one.told.owed_count)}});
}

std::string figure_text(const One& one, const Voice& voice) {
  const char* code =
      one.rule.test->statistic == Statistic::mean_at_most ? "rule.tests.mean_so_far" : "rule.tests.highest_so_far";
  return voice.say(code, {{"given", fmt::format("{:.3g}", one.told.figure)}, {"unit", one.rule.test->unit}});
}

/// Samples done and owed, what they come to, and the verdict: a sentence a line.
std::string sentences(const One& one, const Voice& voice) {
  std::string text;
  if (one.told.applies == rule::Truth::not_known)
    text += voice.say("rule.tests.may_apply", {{"facts", facts_text(one.told.missing, voice)}}) + "\n";
  text += samples_text(one, voice) + "\n";
  if (one.told.figure == one.told.figure) text += figure_text(one, voice) + "\n";
  if (one.told.too_coarse_count > 0)
    text += voice.say("rule.tests.too_coarse", {{"given", std::to_string(one.told.too_coarse_count)}}) + "\n";
  return text + voice.say("rule.verdict." + word_of_verdict(one.told.verdict)) + "\n";
}

std::string indented(const std::string& lines) {
  std::string text;
  for (std::size_t from = 0; from < lines.size();) {
    const auto end = lines.find('\n', from) + 1;
    text += "    " + lines.substr(from, end - from);
    from = end;
  }
  return text;
}

std::string tell(const Out& out, const Voice& voice) {
  const auto owed = std::count_if(out.tests.begin(), out.tests.end(),
                                  [](const One& one) { return rule::counts_against(one.told.verdict); });
  std::string text = voice.say(out.tests.empty() ? "rule.tests.headline.none" : "rule.tests.headline.some",
                               {{"given", std::to_string(out.tests.size())}, {"owed", std::to_string(owed)}}) +
                     "\n";
  for (const auto& one : out.tests) {
    text += "\n  " + rule_name(one.rule, voice) + "\n    " + rule_text(one.rule, voice) + "\n";
    text += indented(sentences(one, voice));
  }
  text += "\n" + voice.say("rule.tests.non_detects") + "\n";
  for (const auto& caution : rule_cautions()) text += voice.say(caution) + "\n";
  return text;
}

}  // namespace

Operation rule_tests() {
  Inputs<In> inputs;
  inputs.text("rules", at(&In::choice, &RuleChoice::rules), "us_produce,us_organic");
  inputs.text("own", at(&In::choice, &RuleChoice::own), "garden_rules.toml", Kind::file_read);
  Choices<std::string> tests;
  for (const auto& name : asked) tests.emplace_back(name, name);
  inputs.choice("of", at(&In::of), tests);
  inputs.list("results", at(&In::results, &rule::Results::found), Dimension::number, "12,45");
  inputs.whole("non_detects", at(&In::results, &rule::Results::non_detects), "1").least(0.0).most(100'000.0);
  inputs.quantity("detection_limit", at(&In::results, &rule::Results::detection_limit), Dimension::number, "1")
      .above(0.0);
  const std::vector<std::string> facts = {"material", "animal_origin", "process", "food",
                                          "held",     "sold",          "sprouts", "solids"};
  fact_inputs(inputs, "", facts, [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<One> each;
  each.text("id", at(&One::rule, &rule::Rule::id))
      .text("citation", at(&One::rule, &rule::Rule::citation))
      .text("of", [](const One& one) { return one.rule.test->of; })
      .told("text", [](const One& one, const Voice& voice) { return rule_text(one.rule, voice); })
      .choice("verdict", at(&One::told, &rule::TestTold::verdict), verdict_words())
      .number(
          "samples", [](const One& one) { return one.rule.test->samples ? double(*one.rule.test->samples) : unset; },
          "")
      .whole("done_count", at(&One::told, &rule::TestTold::done_count))
      .number(
          "owed_count", [](const One& one) { return one.told.owed_count ? double(*one.told.owed_count) : unset; }, "")
      .whole("too_coarse_count", at(&One::told, &rule::TestTold::too_coarse_count))
      .number("figure", at(&One::told, &rule::TestTold::figure), "")
      .number(
          "limit", [](const One& one) { return one.rule.test->limit; }, "")
      .text("unit", [](const One& one) { return one.rule.test->unit; })
      .choice("status", at(&One::rule, &rule::Rule::status), status_words())
      .flag("confirmed", [](const One& one) { return one.rule.is_confirmed(); })
      .texts("missing", at(&One::told, &rule::TestTold::missing))
      .told("says", sentences)
      .text("source", at(&One::rule, &rule::Rule::source));
  Outputs<Out> outputs;
  outputs.list("tests", at(&Out::tests), each).remarks("cautions", [](const Out&) { return rule_cautions(); });
  return define<In, Out>({.noun = "rule",
                          .verb = "tests",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"rule tests --rules us_organic --food yes --material compost --of tea_e_coli "
                                        "--results \"12,45\""}},
                          .words_of = "rule check"});
}

}  // namespace barm::operations
