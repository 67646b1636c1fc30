#include "rule/rule.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

#include "compost/heat_rules.h"
#include "rule/facts.h"
#include "rule/tea_class.h"
#include "rules.h"
#include "support/published.h"

namespace barm::rule {
namespace {

std::set<std::string> known_sources() {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/sources.md");
  std::set<std::string> keys;
  for (std::string row; std::getline(in, row);) {
    if (row.starts_with("| ")) keys.insert(row.substr(2, row.find(' ', 2) - 2));
  }
  return keys;
}

TEST(every_rule, says_its_piece_in_both_languages_with_source_and_date) {
  const auto keys = known_sources();
  std::set<std::string> ids;
  ASSERT_GE(all_sets().size(), 7U);
  for (const auto& set : all_sets()) {
    EXPECT_NE(set.english, set.spanish) << set.name;
    for (const auto& rule : set.rules) {
      EXPECT_TRUE(ids.insert(rule.id).second) << rule.id << " is there twice";
      EXPECT_NE(rule.text_en, rule.text_es) << rule.id;
      EXPECT_GT(rule.text_en.size(), 20U) << rule.id;
      EXPECT_GT(rule.text_es.size(), 20U) << rule.id;
      std::stringstream sources(rule.source);
      for (std::string key; std::getline(sources >> std::ws, key, ',');)
        EXPECT_TRUE(keys.contains(key)) << rule.id << key;
      EXPECT_GE(rule.reviewed_on, *read_day("2026-01-01")) << rule.id;
      EXPECT_LE(rule.reviewed_on, *read_day("2027-12-31")) << rule.id;
      // A definition asks nothing; a wait is either a number or reserved.
      EXPECT_EQ(rule.definition, rule.asks.empty()) << rule.id;
      EXPECT_FALSE(rule.wait_d() && rule.wait_is_reserved) << rule.id;
    }
  }
}

TEST(every_number_of_a_rule, lies_in_the_range_of_its_fact) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      auto all = rule.asks;
      all.push_back(rule.applies);
      for (const auto& conditions : all) {
        for (const auto& condition : conditions) {
          const FactKind& kind = *fact_kind(condition.fact);
          for (const double bound : {condition.least, condition.most, condition.above, condition.below}) {
            if (bound != bound) continue;
            EXPECT_GE(bound, kind.least) << rule.id;
            EXPECT_LE(bound, kind.most) << rule.id;
          }
        }
      }
    }
  }
}

TEST(no_rule, promises_that_a_tea_is_harmless) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      for (std::string text : {rule.text_en, rule.text_es, rule.next_en, rule.next_es}) {
        std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
        for (const char* word : {"safe",
                                 "pathogen"
                                 "-free",
                                 "clean", "seguro", "segura", "libre de pat", "limpi"})
          EXPECT_EQ(text.find(word), std::string::npos) << rule.id << ": " << word;
      }
    }
  }
}

// source: tests/published/rules.csv, every row; those kept under another id or joined into one
TEST(every_collected_rule, is_carried_with_its_clause_source_and_how_far_it_was_seen) {
  const std::map<std::string, std::string> kept_as = {
      {"us_psr_untreated_3", "us_psr_untreated_2"},     {"us_psr_untreated_4", "us_psr_untreated_2"},
      {"us_nosb_2004_ecoli", "us_nosb_2004_indicator"}, {"us_nosb_2004_leachate", "us_nosb_2004_manure_tea"},
      {"us_nosb_2004_fail", "us_nosb_2004_fail_soil"},  {"us_epa_503_salmonella", "us_epa_503_fecal"},
      {"eu_2019_1009_55", "eu_2019_1009_heat"},
  };
  int rows = 0;
  for (const auto& row : test::published("rules.csv")) {
    ++rows;
    const auto renamed = kept_as.find(row.text("id"));
    const Rule& rule = rule_of(renamed == kept_as.end() ? row.text("id") : renamed->second);
    EXPECT_EQ(rule.source.substr(0, 3), row.text("source")) << rule.id;
    // What was not sighted when it was collected is never told as confirmed.
    if (row.text("confirmed") != "lookup") {
      EXPECT_FALSE(rule.is_confirmed()) << rule.id;
    }
    if (row.text("confirmed") == "lookup") {
      EXPECT_NE(rule.seen, Seen::memory) << rule.id;
    }
  }
  EXPECT_EQ(rows, 64);
}

// source: S37: tests/published/rule_cases_nop_compost.csv
TEST(the_organic_heat_rules, decide_their_published_cases) {
  for (const auto& row : test::published("rule_cases_nop_compost.csv")) {
    Facts facts;
    facts.set("material", "compost");
    facts.set("animal_origin", "yes");
    facts.set("method", row.text("method"));
    facts.set("initial_cn", row.number("initial_cn"));
    facts.set("heat", 55.0);  // the days are those at 131 to 170 degF
    facts.set("heat_time", row.number("days_at_131_to_170_f") * 24.0);
    facts.set("turns", row.number("turnings"));
    facts.set("hottest", (row.number("max_temp_f") - 32.0) * 5.0 / 9.0);
    const std::map<std::string, std::string> of = {{"us_nop_cn_low", "cn_low"},
                                                   {"us_nop_cn_high", "cn_high"},
                                                   {"us_nop_vessel", "days"},
                                                   {"us_nop_windrow_days", "days"},
                                                   {"us_nop_windrow_turns", "turns"}};
    std::set<std::string> failing;
    for (const auto& [id, criterion] : of) {
      const Verdict told = verdict(id, facts);
      EXPECT_NE(told, Verdict::cannot_tell) << row.text("id") << id;
      if (told == Verdict::not_met) failing.insert(criterion);
    }
    EXPECT_EQ(failing.empty(), row.text("expected_compliant") == "yes") << row.text("id");
    if (!failing.empty()) {
      EXPECT_EQ(*failing.begin(), row.text("failing_criterion")) << row.text("id");
    }
  }
}

// source: S39: tests/published/time_temperature_503.csv, printed to seven figures
TEST(the_sludge_rule, is_met_at_the_published_time_and_not_sooner) {
  for (const auto& row : test::published("time_temperature_503.csv")) {
    const bool is_thick = row.text("equation") == "ge_7pct_solids";
    const char* id = is_thick ? "us_epa_503_eq_a" : "us_epa_503_eq_b";
    const double shortest_h = (is_thick ? 20.0 : 30.0) / 60.0;  // the rule's own least time
    const double hours = std::max(row.number("min_time_hours"), shortest_h);
    Facts facts;
    facts.set("solids", is_thick ? 0.07 : 0.0699);
    facts.set("heat", row.number("temp_c"));
    facts.set("heat_time", hours * (1.0 + 1e-6));
    EXPECT_EQ(verdict(id, facts), Verdict::met) << row.text("id");
    facts.set("heat_time", hours * (1.0 - 1e-5));
    EXPECT_EQ(verdict(id, facts), Verdict::not_met) << row.text("id");
    facts.forget("heat");
    EXPECT_EQ(judge(rule_of(id), facts, today).missing, std::vector<std::string>{"heat"}) << row.text("id");
  }
}

// The same figures stand in the heat log's own rules; they may not part ways.
TEST(the_heat_rules, ask_what_the_heat_log_is_held_to) {
  const auto heat = compost::read_heat_rules(data::file("heat_rules.toml"));
  const std::map<std::string, std::string> same = {
      {"us_nop_vessel", "us_nop_vessel"},           {"us_nop_windrow", "us_nop_windrow_days"},
      {"us_psr_static", "us_psr_process_b_static"}, {"us_psr_turned", "us_psr_process_b_turned"},
      {"us_503_vessel", "us_epa_503_pfrp_vessel"},  {"us_503_windrow", "us_epa_503_pfrp_windrow"}};
  for (const auto& one : heat) {
    ASSERT_TRUE(same.contains(one.id)) << one.id;
    const Rule& rule = rule_of(same.at(one.id));
    for (const auto& condition : rule.asks.front()) {
      if (condition.fact == "heat") {
        EXPECT_NEAR(condition.least, one.least_of_fahrenheit_c, 1e-9) << one.id;
      }
      if (condition.fact == "heat_time") {
        EXPECT_NEAR(condition.least, one.needed_h, 1e-9) << one.id;
      }
      if (condition.fact == "turns") {
        EXPECT_NEAR(condition.least, one.turns_count, 1e-9) << one.id;
      }
    }
  }
}

TEST(a_rule_past_its_review, doubts_itself) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      EXPECT_FALSE(judge(rule, {}, rule.reviewed_on + std::chrono::days(365)).is_past_review) << rule.id;
      EXPECT_TRUE(judge(rule, {}, rule.reviewed_on + std::chrono::days(366)).is_past_review) << rule.id;
    }
  }
}

Facts any_facts() {
  Facts facts;
  for (const auto& kind : all_facts()) {
    if (kind.derived || *rc::gen::inRange(0, 3) == 0) continue;
    if (kind.is_number()) {
      facts.set(kind.name, *rc::gen::element(0.0, 0.5, 1.0, 5.0, 25.0, 40.0, 55.0, 72.0, 126.0, 360.0, 1000.0, 2880.0));
    } else {
      facts.set(kind.name, *rc::gen::elementOf(kind.words));
    }
  }
  return facts;
}

RC_GTEST_PROP(a_verdict, once_told_is_never_changed_by_learning_more, ()) {
  const Facts before = any_facts();
  Facts after = before;
  const FactKind& kind = *rc::gen::elementOf(all_facts());
  if (kind.derived || before.knows(kind.name)) return;
  if (kind.is_number()) {
    after.set(kind.name, *rc::gen::element(0.0, 0.5, 55.0, 126.0, 1000.0));
  } else {
    after.set(kind.name, *rc::gen::elementOf(kind.words));
  }
  RC_PRE(contradictions(after).empty());
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      const Verdict was = judge(rule, with_derived(before), today).verdict;
      if (was != Verdict::cannot_tell) RC_ASSERT(judge(rule, with_derived(after), today).verdict == was);
    }
  }
}

RC_GTEST_PROP(a_verdict, that_cannot_be_told_names_what_is_missing, ()) {
  const Facts facts = with_derived(any_facts());
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      const Judged told = judge(rule, facts, today);
      RC_ASSERT((told.verdict == Verdict::cannot_tell) == !told.missing.empty());
      for (const auto& name : told.missing) RC_ASSERT(!facts.knows(name));
      RC_ASSERT((told.verdict == Verdict::not_met) == !told.failing.empty());
    }
  }
}

TEST(without_any_fact, no_rule_is_met) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) EXPECT_EQ(judge(rule, {}, today).verdict, Verdict::cannot_tell) << rule.id;
  }
}

constexpr const char* own_rule = R"(
jurisdiction = "our garden"
en = "Our own rules"
es = "Nuestras reglas"
[[rule]]
id = "wait_a_fortnight"
citation = "agreed in the spring meeting"
about = "harvest"
applies = [{ fact = "foliar", is = ["yes"] }]
asks = [{ fact = "days_to_harvest", least = 14.0, unit = "d" }]
text_en = "After a spray on leaves we wait 14 days."
text_es = "Tras rociar hojas esperamos 14 días."
status = "practice"
seen = "look-up"
source = "practice"
reviewed_on = 2026-05-01
)";

std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}
bool refuses(const std::string& text, const std::string& code, const std::string& key) {
  const auto set = read_rules("own", text);
  for (const auto& why : set.refusals()) {
    const auto at = why.facts.find("key");
    if (why.code == code && at != why.facts.end() && std::get<std::string>(at->second) == key) return true;
  }
  return false;
}

TEST(a_gardens_own_rules, are_read_from_the_same_form) {
  const auto set = read_rules("own", own_rule);
  ASSERT_TRUE(set.ok());
  Facts facts;
  facts.set("foliar", "yes");
  facts.set("days_to_harvest", 14.0 * 24.0);
  EXPECT_EQ(judge(set->rules.front(), facts, today).verdict, Verdict::met);
  facts.set("days_to_harvest", 13.9 * 24.0);
  EXPECT_EQ(judge(set->rules.front(), facts, today).verdict, Verdict::not_met);
  EXPECT_EQ(set->rules.front().wait_d(), 14.0);
}

constexpr const char* own_test = R"(
jurisdiction = "our garden"
en = "Our own rules"
es = "Nuestras reglas"
[[rule]]
id = "half_the_usual"
citation = "agreed in the spring meeting"
about = "brew"
applies = [{ fact = "food", is = ["yes"] }]
asks = [{ fact = "tea_e_coli", most = 63.0, unit = "1/100 mL" }]
text_en = "Tea with food: at most 63 E. coli per 100 mL."
text_es = "Té con alimento: 63 E. coli por 100 mL como máximo."
test = { of = "tea_e_coli", statistic = "each_at_most", limit = 63.0, unit = "CFU/100 mL" }
status = "practice"
seen = "look-up"
source = "practice"
reviewed_on = 2026-05-01
)";

// 126 per gram, per mL and per 100 mL are three limits; a file that has the wrong one is refused, and never passed
// over.
TEST(a_limit_on_germs, is_told_per_what_its_fact_is_counted_in) {
  const auto set = read_rules("own", own_test);
  ASSERT_TRUE(set.ok());
  Facts facts;
  facts.set("food", "yes");
  for (const auto& [count, told] : {std::pair{63.0, Verdict::met}, std::pair{63.1, Verdict::not_met}}) {
    facts.set("tea_e_coli", count);
    EXPECT_EQ(judge(set->rules.front(), facts, today).verdict, told) << count;
  }
  EXPECT_TRUE(read_rules("own", with(own_test, "CFU/100 mL", "MPN/100 mL")).ok());
  for (const char* wrong : {"CFU/mL", "CFU/g", "CFU/L", "100 mL", "CFU/100 mL "})
    EXPECT_TRUE(refuses(with(own_test, "CFU/100 mL", wrong), "rule.file.unit", "tea_e_coli")) << wrong;
  for (const char* wrong : {"1/g", "1", "share"})
    EXPECT_TRUE(refuses(with(own_test, "1/100 mL", wrong), "rule.file.unit", "tea_e_coli")) << wrong;
  const std::string compost = with(with(with(own_test, "fact = \"tea_e_coli\"", "fact = \"compost_e_coli\""),
                                        "of = \"tea_e_coli\"", "of = \"compost_e_coli\""),
                                   "1/100 mL", "1/g");
  EXPECT_TRUE(refuses(compost, "rule.file.unit", "compost_e_coli"));
  EXPECT_TRUE(read_rules("own", with(compost, "CFU/100 mL", "CFU/g")).ok());
  EXPECT_TRUE(refuses(with(own_test, "of = \"tea_e_coli\"", "of = \"potable\""), "rule.file.unit", "potable"));
}

// "Under 1000" and "longer than an hour" leave the line itself out.
TEST(a_line_that_is_left_out, is_not_met_by_itself) {
  Facts facts;
  facts.set("process", "composted");
  facts.set("salmonella", "no");
  for (const auto& [count, told] : {std::pair{1000.0, Verdict::not_met}, std::pair{999.0, Verdict::met}}) {
    facts.set("fecal_coliforms", count);
    EXPECT_EQ(verdict("us_psr_std_b_fecal", facts), told) << count;
  }
  facts.set("held", 1.0);
  EXPECT_EQ(verdict("us_psr_tea_def", facts), Verdict::outside);
  facts.set("held", 1.001);
  EXPECT_EQ(verdict("us_psr_tea_def", facts), Verdict::holds);
}

// Every fact that a test may be of, or a limit on germs, says what it is counted per.
TEST(every_test, is_of_a_fact_counted_per_gram_or_per_100_ml) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      if (!rule.test) continue;
      const std::string per = fact_kind(rule.test->of)->per;
      EXPECT_TRUE(per == "g" || per == "100 mL") << rule.id;
      EXPECT_TRUE(rule.test->unit.ends_with("/" + per)) << rule.id;
    }
  }
}

TEST(a_gardens_own_rules, are_refused_with_rule_and_key_when_wrong) {
  EXPECT_TRUE(refuses(with(own_rule, "unit = \"d\"", "unit = \"kg\""), "rule.file.unit", "days_to_harvest"));
  EXPECT_TRUE(refuses(with(own_rule, "\"foliar\"", "\"folar\""), "rule.file.fact", "applies"));
  EXPECT_TRUE(refuses(with(own_rule, "[\"yes\"]", "[\"ja\"]"), "rule.file.not_a_word", "foliar"));
  EXPECT_TRUE(refuses(with(own_rule, "14.0", "\"14\""), "rule.file.not_a_number", "least"));
  EXPECT_TRUE(
      refuses(with(own_rule, "least = 14.0", "least = 20.0, most = 14.0"), "rule.file.range", "days_to_harvest"));
  EXPECT_TRUE(refuses(with(own_rule, "text_es", "text_fr"), "rule.file.missing", "text_es"));
  EXPECT_TRUE(refuses(with(own_rule, "reviewed_on = 2026-05-01", ""), "rule.file.missing", "reviewed_on"));
  EXPECT_TRUE(refuses(with(own_rule, "\"practice\"", "\"law\""), "rule.file.not_a_word", "status"));
  EXPECT_TRUE(refuses(with(own_rule, "asks = [", "# asks = ["), "rule.file.asks", "asks"));
  EXPECT_TRUE(refuses(with(own_rule, "is = [\"yes\"]", "least = 1.0, unit = \"1\""), "rule.file.condition", "foliar"));
  EXPECT_TRUE(refuses(with(own_rule, "\"harvest\"", "\"weather\""), "rule.file.not_a_word", "about"));
  EXPECT_TRUE(refuses(std::string(own_rule) + std::string(own_rule).substr(std::string(own_rule).find("[[rule]]")),
                      "rule.file.twice", "id"));
  EXPECT_EQ(read_rules("own", "rule = [").refusals().front().code, "rule.file.not_toml");
  EXPECT_TRUE(refuses("jurisdiction = \"x\"\nen = \"x\"\nes = \"y\"\n", "rule.file.missing", "[[rule]]"));
}

}  // namespace
}  // namespace barm::rule
