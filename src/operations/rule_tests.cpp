// barm rule tests: which laboratory tests the rules ask for, what the results of the record and those typed come to,
// and what is still owed.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cards/local_time.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "operations/rule_inputs.h"
#include "operations/rule_tests_kept.h"
#include "operations/rule_told.h"
#include "rule/testing.h"

namespace barm::operations {
namespace {

using rule::Standing;
using rule::Statistic;
using rule::Verdict;

const std::vector<std::string> asked = {"tea_e_coli",      "tea_enterococci", "water_e_coli", "compost_e_coli",
                                        "fecal_coliforms", "salmonella",      "listeria",     "o157"};

struct In {
  RuleChoice choice{};
  RuleFacts facts{};
  std::string of = "tea_e_coli";
  rule::Results results{};
  std::string about, since, store = usual_store;
};
/// A result of the record beside what it is worth for a rule.
struct Kept {
  KeptResult result{};
  Standing standing = Standing::counts;
  std::string unit{}, zone{};
};
struct One {
  rule::Rule rule{};
  rule::TestTold told{};
  std::vector<Kept> kept{};
};
enum class Record : std::uint8_t { read, absent };
struct Out {
  std::vector<One> tests{};
  Record record = Record::read;
  std::string store{}, about{};
};

/// What the record keeps. Without a record what is typed can still be judged, unless a part of the record is asked for.
KeptResults read_record(const In& in, const World& world, Findings& findings, Out& out) {
  const auto since = read_day_input(in.since, "since", findings);
  auto opened = open_store(in.store, world);
  const auto& why = opened.refusals();
  const bool is_absent = !why.empty() && why.front().code == "records.world.absent";
  if (is_absent && in.about.empty() && in.since.empty()) {
    out.record = Record::absent;
    return {};
  }
  auto store = findings.take(retarget(std::move(opened), {{"", "store"}}));
  if (!store || findings.refused()) return {};
  return findings.take(kept_results(*store, {in.about, since})).value_or(KeptResults{});
}

/// The kind of thing whose samples tell a fact.
const char* kind_tested_for(const std::string& fact) {
  return fact == "water_e_coli" ? "water_source" : fact.starts_with("tea_") ? "brew" : "compost_lot";
}

/// Only what is of one thing.
KeptResults of_thing(const KeptResults& kept, const TestedThing& thing) {
  KeptResults own{.zone = kept.zone};
  for (const auto& [fact, results] : kept.of) {
    for (const auto& result : results) {
      if (result.thing.number == thing.number) own.of[fact].push_back(result);
    }
  }
  return own;
}

/// By fact: what the record keeps, and what was typed. A limit that is typed holds for the record's results of the same
/// test that do not tell theirs.
std::map<std::string, rule::Results> all_results(const In& in, const KeptResults& kept) {
  std::map<std::string, rule::Results> all{{in.of, in.results}};
  for (const auto& [fact, results] : kept.of) {
    for (const auto& result : results) {
      rule::Sample sample = result.sample;
      if (fact == in.of && !sample.found && std::isnan(sample.detects)) sample.detects = in.results.detection_limit;
      all[fact].samples.push_back(std::move(sample));
    }
  }
  return all;
}

/// Name by number of the waters, lots and teas whose results count for one test.
std::map<std::int64_t, std::string> counted_of(const One& one, bool brews_count) {
  std::map<std::int64_t, std::string> names;
  for (const auto& kept : one.kept) {
    const TestedThing& thing = kept.result.thing;
    if (kept.standing == Standing::counts && (brews_count || thing.kind != "brew")) names[thing.number] = thing.name;
  }
  return names;
}

/// Doubts a test for which results of several things were taken together, and one that says nothing of a part of the
/// brew that was asked about. Brews of one lot are what a rule asks several samples of.
void doubt_mixtures(const Out& out, const std::vector<TestedThing>& parts, Findings& findings) {
  std::set<std::string> together, silent;
  for (const One& one : out.tests) {
    const auto counted = counted_of(one, out.about.empty());
    if (counted.size() > 1) {
      for (const auto& [number, name] : counted) together.insert(name);
    }
    const std::string& of = one.rule.test->of;
    for (const TestedThing& part : parts) {
      if (part.kind == kind_tested_for(of) && !counted.empty() && !counted.contains(part.number))
        silent.insert(part.name);
    }
  }
  const auto listed = [](const std::set<std::string>& names) { return fmt::format("{}", fmt::join(names, ", ")); };
  if (!together.empty()) findings.doubt({"rule.tests.of_several", "about", {{"given", listed(together)}}});
  if (!silent.empty()) findings.doubt({"rule.tests.part_untested", "about", {{"given", listed(silent)}}});
}

bool is_worse(Verdict one, Verdict other) {
  const auto rank = [](Verdict of) { return of == Verdict::not_met ? 2 : rule::counts_against(of) ? 1 : 0; };
  return rank(one) > rank(other);
}

/// A brew is as good as the worst of its lots and waters: each test is told for every part by what is of that part
/// alone.
void tell_by_parts(std::vector<One>& tests, const In& in, const KeptResults& kept,
                   const std::vector<rule::RuleSet>& sets, const rule::Facts& facts) {
  for (const TestedThing& part : kept.parts) {
    const auto plan = rule::testing_plan(sets, facts, all_results(in, of_thing(kept, part)));
    for (std::size_t i = 0; i < tests.size(); ++i) {
      if (part.kind == kind_tested_for(tests[i].rule.test->of) && is_worse(plan[i].verdict, tests[i].told.verdict))
        tests[i].told.verdict = plan[i].verdict;
    }
  }
}

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto sets = findings.take(chosen_rules(in.choice, world));
  for (auto& why : rule::check_results(in.results)) findings.refuse(std::move(why));
  const auto facts = rule::with_derived(in.facts.facts(findings));
  Out out{.store = in.store, .about = in.about};
  const auto kept = read_record(in, world, findings, out);
  if (!sets || findings.refused()) return std::move(findings).refusal<Out>();
  for (auto& told : rule::testing_plan(*sets, facts, all_results(in, kept))) {
    One one{.rule = *told.rule, .told = std::move(told)};
    one.told.rule = nullptr;
    const auto at = kept.of.find(one.rule.test->of);
    for (std::size_t i = 0; at != kept.of.end() && i < at->second.size(); ++i)
      one.kept.push_back({at->second[i], one.told.standings[i], one.rule.test->unit, kept.zone});
    out.tests.push_back(std::move(one));
  }
  tell_by_parts(out.tests, in, kept, *sets, facts);
  doubt_mixtures(out, kept.parts, findings);
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
  if (one.told.repeated_count > 0)
    text += voice.say("rule.tests.repeated", {{"given", std::to_string(one.told.repeated_count)}}) + "\n";
  return text + voice.say("rule.verdict." + word_of_verdict(one.told.verdict)) + "\n";
}

const Choices<Standing>& standing_words() {
  static const Choices<Standing> words = {{"counts", Standing::counts},
                                          {"too_coarse", Standing::too_coarse},
                                          {"no_limit", Standing::no_limit},
                                          {"no_count", Standing::no_count}};
  return words;
}

/// What a result of the record was, and why it does not count where it does not.
std::string kept_text(const Kept& kept, const Voice& voice) {
  const auto& sample = kept.result.sample;
  const std::string said =
      !sample.found ? voice.say("rule.tests.kept.none")
      : std::isnan(sample.count)
          ? voice.say("rule.tests.kept.found")
          : voice.say("rule.tests.kept.count", {{"given", fmt::format("{:.4g}", sample.count)}, {"unit", kept.unit}});
  for (const auto& [word, standing] : standing_words()) {
    if (standing == kept.standing && standing != Standing::counts)
      return said + " " + voice.say("rule.tests.kept." + word);
  }
  return said;
}

/// What came of looking into the record.
std::string record_text(const Out& out, const Voice& voice) {
  if (out.record == Record::absent) return voice.say("rule.tests.record.absent", {{"given", out.store}});
  std::set<std::string> looked_at, used;
  for (const auto& one : out.tests) {
    for (const auto& kept : one.kept) {
      looked_at.insert(kept.result.id);
      if (kept.standing == Standing::counts) used.insert(kept.result.id);
    }
  }
  std::map<std::string, Remark::Fact> facts{{"given", std::to_string(looked_at.size())},
                                            {"used", std::to_string(used.size())}};
  if (!out.about.empty()) facts.emplace("about", out.about);
  return voice.say(looked_at.empty() ? "rule.tests.record.none" : "rule.tests.record.some", std::move(facts));
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
                     "\n" + record_text(out, voice) + "\n";
  for (const auto& one : out.tests) {
    text += "\n  " + rule_name(one.rule, voice) + "\n    " + rule_text(one.rule, voice) + "\n";
    text += indented(sentences(one, voice));
    for (const auto& kept : one.kept) {
      const std::string day = cards::iso_text(kept.result.at, kept.zone).substr(0, 10);
      text += "      " +
              voice.say("rule.tests.kept",
                        {{"name", kept.result.thing.name}, {"given", day}, {"result", kept_text(kept, voice)}}) +
              "\n";
    }
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
  inputs.text("about", at(&In::about), "Spring heap");
  inputs.text("since", at(&In::since), "2026-01-01");
  store_input(inputs, &In::store);
  const std::vector<std::string> facts = {"material", "animal_origin", "process", "food",
                                          "held",     "sold",          "sprouts", "solids"};
  fact_inputs(inputs, "", facts, [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<Kept> kept;
  kept.text("id", at(&Kept::result, &KeptResult::id))
      .text("kind", at(&Kept::result, &KeptResult::kind))
      .text("name", at(&Kept::result, &KeptResult::thing, &TestedThing::name))
      .text("thing_id", at(&Kept::result, &KeptResult::thing_id))
      .instant("at",
               [](const Kept& one) {
                 return std::optional(Moment{one.result.at, one.zone});
               })
      .flag("found", at(&Kept::result, &KeptResult::sample, &rule::Sample::found))
      .number("count", at(&Kept::result, &KeptResult::sample, &rule::Sample::count), "")
      .choice("standing", at(&Kept::standing), standing_words())
      .told("text", kept_text);
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
      .whole("repeated_count", at(&One::told, &rule::TestTold::repeated_count))
      .number("figure", at(&One::told, &rule::TestTold::figure), "")
      .number(
          "limit", [](const One& one) { return one.rule.test->limit; }, "")
      .text("unit", [](const One& one) { return one.rule.test->unit; })
      .choice("status", at(&One::rule, &rule::Rule::status), status_words())
      .flag("confirmed", [](const One& one) { return one.rule.is_confirmed(); })
      .texts("missing", at(&One::told, &rule::TestTold::missing))
      .told("says", sentences)
      .list("kept", at(&One::kept), kept)
      .text("source", at(&One::rule, &rule::Rule::source));
  Outputs<Out> outputs;
  outputs.list("tests", at(&Out::tests), each)
      .choice("record", at(&Out::record), Choices<Record>{{"read", Record::read}, {"absent", Record::absent}})
      .told("record_says", record_text)
      .remarks("cautions", [](const Out&) { return rule_cautions(); });
  return define<In, Out>({.noun = "rule",
                          .verb = "tests",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"rule tests --rules us_organic --food yes --material compost --of tea_e_coli "
                                        "--results \"12,45\""},
                                       {"rule tests --rules us_produce --about \"Spring heap\""}},
                          .words_of = "rule check"});
}

}  // namespace barm::operations
