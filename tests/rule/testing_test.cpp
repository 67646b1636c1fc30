#include "rule/testing.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <sstream>

#include "rules.h"
#include "support/published.h"

namespace barm::rule {
namespace {

// source: S40: tests/published/geometric_mean.csv, printed to eight figures
TEST(the_geometric_mean, is_as_published) {
  for (const auto& row : test::published("geometric_mean.csv")) {
    Results results;
    std::stringstream values(row.text("values"));
    for (std::string value; std::getline(values, value, ';');) results.found.push_back(std::stod(value));
    const double mean = row.number("geometric_mean");
    EXPECT_NEAR(geometric_mean(results), mean, mean * 1e-7) << row.text("id");
  }
}

RC_GTEST_PROP(the_geometric_mean, lies_between_the_least_and_the_most, ()) {
  const auto counts = *rc::gen::nonEmpty(rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 1'000'000)));
  Results results{.found = {counts.begin(), counts.end()}};
  const auto [least, most] = std::minmax_element(results.found.begin(), results.found.end());
  RC_ASSERT(geometric_mean(results) >= *least * (1.0 - 1e-12));
  RC_ASSERT(geometric_mean(results) <= *most * (1.0 + 1e-12));
}

TEST(a_non_detect, counts_as_much_as_it_can_be) {
  EXPECT_NEAR(geometric_mean({.found = {100.0}, .non_detects = 1, .detection_limit = 1.0}), 10.0, 1e-12);
  EXPECT_TRUE(std::isnan(geometric_mean({})));
  EXPECT_TRUE(std::isnan(geometric_mean({.non_detects = 1})));
}

Facts fed() {
  Facts facts;
  facts.set("food", "yes");
  facts.set("material", "compost");
  return facts;
}
TestTold told(const std::string& id, const Facts& facts, const Results& results) {
  for (const auto& one : testing_plan(all_sets(), facts, {{rule_of(id).test->of, results}})) {
    if (one.rule->id == id) return one;
  }
  ADD_FAILURE() << id << " is not in the plan";
  return {};
}

// source: S38: at least 2 batches, an average of at most 126
TEST(the_plan, counts_down_the_batches_and_holds_the_mean_to_its_limit) {
  const char* id = "us_nosb_2004_indicator";
  EXPECT_EQ(told(id, fed(), {}).owed_count, 2);
  EXPECT_EQ(told(id, fed(), {}).verdict, Verdict::cannot_tell);
  EXPECT_EQ(told(id, fed(), {.found = {10.0}}).owed_count, 1);
  EXPECT_EQ(told(id, fed(), {.found = {10.0}}).verdict, Verdict::cannot_tell);
  EXPECT_EQ(told(id, fed(), {.found = {126.0, 126.0}}).verdict, Verdict::met);
  EXPECT_EQ(told(id, fed(), {.found = {126.0, 126.1}}).verdict, Verdict::not_met);
  EXPECT_EQ(told(id, fed(), {.found = {200.0}}).verdict, Verdict::cannot_tell);  // a mean can still come down
  EXPECT_EQ(told(id, fed(), {.found = {10.0, 10.0, 10.0}}).owed_count, 0);
}

TEST(a_method_too_coarse_for_the_rule, pays_nothing_off) {
  const auto one = told("us_nosb_2004_indicator", fed(), {.non_detects = 2, .detection_limit = 200.0});
  EXPECT_EQ(one.too_coarse_count, 2);
  EXPECT_EQ(one.owed_count, 2);
  EXPECT_EQ(one.verdict, Verdict::cannot_tell);
}

TEST(a_pathogen_found_once, decides) {
  Facts facts;
  facts.set("process", "validated");
  EXPECT_EQ(told("us_psr_std_a_listeria", facts, {.non_detects = 1, .detection_limit = 0.2}).verdict, Verdict::met);
  EXPECT_EQ(told("us_psr_std_a_listeria", facts, {.non_detects = 1, .detection_limit = 0.3}).verdict,
            Verdict::cannot_tell);
  EXPECT_EQ(told("us_psr_std_a_listeria", facts, {.found = {1.0}, .non_detects = 4, .detection_limit = 0.2}).verdict,
            Verdict::not_met);
  EXPECT_FALSE(told("us_psr_std_a_listeria", facts, {}).owed_count);  // the rule sets no number of samples
}

TEST(every_sample_over_the_limit, decides_before_all_are_in) {
  Facts facts;
  facts.set("sold", "yes");
  EXPECT_EQ(told("eu_2019_1009_ecoli", facts, {.found = {1001.0}}).verdict, Verdict::not_met);
  EXPECT_EQ(told("eu_2019_1009_ecoli", facts, {.found = {1000.0}}).verdict, Verdict::cannot_tell);
  EXPECT_EQ(told("eu_2019_1009_ecoli", facts, {.found = {1000.0, 1.0, 1.0, 1.0, 1.0}}).verdict, Verdict::met);
}

// source: S33: under 1000
TEST(a_count_at_a_limit_it_must_stay_under, is_over_it) {
  Facts facts;
  facts.set("process", "composted");
  EXPECT_EQ(told("us_psr_std_b_fecal", facts, {.found = {999.0}}).verdict, Verdict::met);
  EXPECT_EQ(told("us_psr_std_b_fecal", facts, {.found = {1000.0}}).verdict, Verdict::not_met);
}

TEST(a_test_of_what_is_not_known, is_asked_for_all_the_same) {
  Facts facts = fed();
  facts.forget("food");
  const auto one = told("us_nosb_2004_indicator", facts, {});
  EXPECT_EQ(one.applies, Truth::not_known);
  EXPECT_EQ(one.missing, std::vector<std::string>{"food"});
  facts.set("food", "no");
  for (const auto& plan : testing_plan(all_sets(), facts, {})) EXPECT_NE(plan.rule->id, "us_nosb_2004_indicator");
}

// source: S38: E. coli or enterococci, one suffices
TEST(one_of_two_tests, suffices) {
  const auto plan = [](const std::string& of) {
    return testing_plan(all_sets(), fed(), {{of, {.found = {20.0, 20.0}}}});
  };
  for (const auto& one : plan("tea_e_coli")) {
    if (one.rule->id == "us_nosb_2004_entero") {
      EXPECT_EQ(one.verdict, Verdict::outside);
    }
  }
  for (const auto& one : plan("tea_enterococci")) {
    if (one.rule->id == "us_nosb_2004_indicator") {
      EXPECT_EQ(one.verdict, Verdict::outside);
    }
  }
}

// source: S38: at least 2 batches
TEST(samples_of_one_batch, pay_off_one_that_is_owed) {
  const char* id = "us_nosb_2004_indicator";
  const auto same = told(id, fed(), {.samples = {{.count = 10.0, .batch = "may"}, {.count = 40.0, .batch = "may"}}});
  EXPECT_EQ(same.done_count, 1);
  EXPECT_EQ(same.repeated_count, 1);
  EXPECT_EQ(same.owed_count, 1);
  EXPECT_NEAR(same.figure, 20.0, 1e-12);
  EXPECT_EQ(same.verdict, Verdict::cannot_tell);
  const auto two = told(id, fed(), {.samples = {{.count = 10.0, .batch = "may"}, {.count = 40.0, .batch = "june"}}});
  EXPECT_EQ(two.owed_count, 0);
  EXPECT_EQ(two.verdict, Verdict::met);
}

TEST(a_sample, counts_only_when_it_says_something_of_the_rule) {
  const Results mixed{
      .samples = {{.found = false}, {.found = false, .detects = 0.04}, {.found = false, .detects = 1.0}}};
  Facts facts;
  facts.set("sold", "yes");
  const auto none = told("eu_2019_1009_salmonella", facts, mixed);
  EXPECT_EQ(none.standings, (std::vector<Standing>{Standing::no_limit, Standing::counts, Standing::too_coarse}));
  EXPECT_EQ(none.owed_count, 4);
  EXPECT_EQ(none.verdict, Verdict::cannot_tell);
  EXPECT_EQ(told("eu_2019_1009_salmonella", facts, {.samples = {{.found = true}}}).verdict, Verdict::not_met);
  const auto how_much = told("eu_2019_1009_ecoli", facts, {.samples = {{.found = true}}});
  EXPECT_EQ(how_much.standings, std::vector<Standing>{Standing::no_count});
  EXPECT_EQ(how_much.verdict, Verdict::cannot_tell);
}

TEST(results_that_are_none, are_refused) {
  EXPECT_TRUE(check_results({.found = {1.0}, .non_detects = 1, .detection_limit = 1.0}).empty());
  const auto wrong = check_results({.found = {0.0, -1.0, 5.0}, .non_detects = 1});
  ASSERT_EQ(wrong.size(), 3U);
  EXPECT_EQ(wrong[0].code, "rule.tests.not_a_count");
  EXPECT_EQ(wrong[1].field, "results[2]");
  EXPECT_EQ(wrong[2].code, "rule.tests.no_limit");
}

}  // namespace
}  // namespace barm::rule
