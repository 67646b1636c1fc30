// Which tests are owed, counted from what the record keeps of them.
#include <gtest/gtest.h>

#include "operations/kept_garden.h"

namespace barm::operations {
namespace {

class RuleTestsTest : public KeptGarden {
 protected:
  Json tests(const std::string& toml) {
    const auto result = ask(rule_tests(), toml);
    EXPECT_TRUE(result.ok());
    doubts_ = result.doubts;
    text_ = result.text;
    return result.ok() ? *result.answer : Json();
  }
  static Json of(const Json& answer, const std::string& id) {
    for (const auto& test : answer["tests"]) {
      if (test["id"] == id) return test;
    }
    ADD_FAILURE() << id << " is not asked for";
    return {};
  }
  void count_tea(const std::string& brew, const std::string& day, const std::string& density) {
    add("count", "of = \"" + brew + "\"\nat = " + day +
                     "T10:00:00-05:00\norganism = \"e_coli\"\nmethod = \"laboratory\"\ndensity = \"" + density + "\"");
  }
  void second_brew() {
    add("brew",
        "garden = \"Hillside\"\nname = \"June brew\"\nvessel = \"Drum\"\nvolume = \"180 L\"\nair_on_at = "
        "2026-06-02T18:00:00-05:00");
  }

  const std::string water_ = "rules = \"us_produce\"\nanimal_origin = \"yes\"\nheld = \"20 h\"\n";
  const std::string tea_ = "rules = \"us_organic\"\nfood = \"yes\"\nmaterial = \"compost\"\n";
  const std::string compost_ = "rules = \"uk\"\nmaterial = \"compost\"\n";
  Remarks doubts_;
  std::string text_;
};

TEST_F(RuleTestsTest, a_water_test_of_the_record_pays_off_what_is_owed) {
  const auto water = of(tests(water_), "us_psr_water_test");
  EXPECT_EQ(water["verdict"], "met");
  EXPECT_EQ(water["done_count"], 1);
  ASSERT_EQ(water["kept"].size(), 1u);
  EXPECT_EQ(water["kept"][0]["name"], "Well");
  EXPECT_EQ(water["kept"][0]["at"], "2026-04-28T10:00:00-05:00");
  EXPECT_EQ(water["kept"][0]["standing"], "counts");
  EXPECT_NE(text_.find("In the record: Well, 2026-04-28: nothing found."), std::string::npos) << text_;
}

TEST_F(RuleTestsTest, a_find_decides_until_it_is_withdrawn) {
  add("water_test", "water_source = \"Well\"\nat = 2026-04-30T10:00:00-05:00\ne_coli_per_100_ml = 3");
  EXPECT_EQ(of(tests(water_), "us_psr_water_test")["verdict"], "not_met");
  EXPECT_EQ(of(tests(water_), "us_psr_water_test")["figure"], 3.0);
  ASSERT_TRUE(ask(record_withdraw(), "id = \"" + last("water_test") + "\"\nreason = \"another well\"").ok());
  const auto water = of(tests(water_), "us_psr_water_test");
  EXPECT_EQ(water["verdict"], "met");
  EXPECT_EQ(water["kept"].size(), 1u);
}

TEST_F(RuleTestsTest, what_is_typed_is_added_to_what_is_kept) {
  const auto water = of(tests(water_ + "of = \"water_e_coli\"\nresults = [2]\n"), "us_psr_water_test");
  EXPECT_EQ(water["done_count"], 2);
  EXPECT_EQ(water["verdict"], "not_met");
}

// source: S38: at least 2 batches; the mean of 0.1 and 0.4 per mL is 20 per 100 mL
TEST_F(RuleTestsTest, counts_of_one_brew_are_one_batch) {
  count_tea("May brew", "2026-05-03", "0.1 1/mL");
  count_tea("May brew", "2026-05-04", "0.4 1/mL");
  const auto one = of(tests(tea_), "us_nosb_2004_indicator");
  EXPECT_EQ(one["done_count"], 1);
  EXPECT_EQ(one["repeated_count"], 1);
  EXPECT_EQ(one["owed_count"], 1);
  EXPECT_NEAR(one["figure"].get<double>(), 20.0, 1e-9);
  EXPECT_TRUE(doubts_.empty() || !has(doubts_, "rule.tests.of_several", "about"));
  second_brew();
  count_tea("June brew", "2026-06-03", "0.2 1/mL");
  const auto two = of(tests(tea_), "us_nosb_2004_indicator");
  EXPECT_EQ(two["owed_count"], 0);
  EXPECT_EQ(two["verdict"], "met");
  EXPECT_TRUE(has(doubts_, "rule.tests.of_several", "about"));
}

TEST_F(RuleTestsTest, of_a_lot_takes_in_the_brews_made_of_it) {
  count_tea("May brew", "2026-05-03", "0.1 1/mL");
  second_brew();  // of nothing yet
  count_tea("June brew", "2026-06-03", "0.2 1/mL");
  const auto lot = of(tests(tea_ + "about = \"Heap\""), "us_nosb_2004_indicator");
  ASSERT_EQ(lot["kept"].size(), 1u);
  EXPECT_EQ(lot["kept"][0]["name"], "May brew");
  EXPECT_EQ(of(tests(tea_ + "about = \"June brew\""), "us_nosb_2004_indicator")["kept"][0]["name"], "June brew");
  EXPECT_EQ(of(tests(tea_ + "since = \"2026-06-03\""), "us_nosb_2004_indicator")["kept"].size(), 1u);
  EXPECT_EQ(of(tests(tea_ + "since = \"2026-06-04\""), "us_nosb_2004_indicator")["kept"].size(), 0u);
}

TEST_F(RuleTestsTest, a_non_detect_counts_once_its_limit_is_told) {
  add("compost_test", "compost_lot = \"Heap\"\nat = 2026-04-25T10:00:00-05:00\nsalmonella = \"not_found\"");
  const auto kept = of(tests(compost_), "uk_pas100_salmonella");
  EXPECT_EQ(kept["verdict"], "cannot_tell");
  EXPECT_EQ(kept["kept"][0]["standing"], "no_limit");
  const auto told = of(tests(compost_ + "of = \"salmonella\"\ndetection_limit = 0.04"), "uk_pas100_salmonella");
  EXPECT_EQ(told["verdict"], "met");
  EXPECT_EQ(told["kept"][0]["standing"], "counts");
  EXPECT_EQ(of(tests(compost_ + "of = \"salmonella\"\ndetection_limit = 0.1"), "uk_pas100_salmonella")["verdict"],
            "cannot_tell");
}

TEST_F(RuleTestsTest, the_limit_of_salmonella_is_kept_beside_the_result) {
  const std::string of_heap = "compost_lot = \"Heap\"\nat = 2026-04-25T10:00:00-05:00\nsalmonella = \"not_found\"\n";
  add("compost_test", of_heap + "salmonella_detection_limit_per_g = 0.1");  // judged against 0.04: none in 25 g
  EXPECT_EQ(of(tests(compost_), "uk_pas100_salmonella")["kept"][0]["standing"], "too_coarse");
  add("compost_test", of_heap + "salmonella_detection_limit_per_g = 0.04");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_salmonella")["kept"][1]["standing"], "counts");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_salmonella")["verdict"], "met");
}

TEST_F(RuleTestsTest, a_brew_of_two_lots_is_not_told_by_one_of_them) {
  const std::string result = "at = 2026-04-25T10:00:00-05:00\ne_coli_mpn_per_g = 3\n";
  add("compost_lot",
      "garden = \"Hillside\"\nname = \"Bin\"\norigin = \"bought\"\nanimal_origin = \"none\"\nmethod = \"static\"");
  mix("Bin", "mass = \"1 kg\"");
  add("compost_test", "compost_lot = \"Heap\"\n" + result);
  const std::string about = "about = \"May brew\"";
  EXPECT_EQ(of(tests(compost_ + about), "uk_pas100_ecoli")["verdict"], "cannot_tell");
  EXPECT_TRUE(has(doubts_, "rule.tests.part_untested", "about"));
  EXPECT_FALSE(has(doubts_, "rule.tests.of_several", "about"));
  add("compost_test", "compost_lot = \"Bin\"\n" + result);
  EXPECT_EQ(of(tests(compost_ + about), "uk_pas100_ecoli")["verdict"], "met");
  EXPECT_FALSE(has(doubts_, "rule.tests.part_untested", "about"));
  EXPECT_TRUE(has(doubts_, "rule.tests.of_several", "about"));
  tests(compost_ + "about = \"Bin\"");
  EXPECT_FALSE(has(doubts_, "rule.tests.of_several", "about"));
}

TEST_F(RuleTestsTest, brews_of_one_lot_are_the_several_samples_a_rule_asks_for) {
  second_brew();
  add("mix", "into = \"June brew\"\npart = \"Heap\"\nat = 2026-06-02T17:50:00-05:00\nmass = \"5 kg\"");
  count_tea("May brew", "2026-05-03", "0.1 1/mL");
  count_tea("June brew", "2026-06-03", "0.4 1/mL");
  EXPECT_EQ(of(tests(tea_ + "about = \"Heap\""), "us_nosb_2004_indicator")["done_count"], 2);
  EXPECT_FALSE(has(doubts_, "rule.tests.of_several", "about"));
}

TEST_F(RuleTestsTest, brews_mixed_into_each_other_come_to_an_end) {
  second_brew();
  add("mix", "into = \"June brew\"\npart = \"May brew\"\nat = 2026-06-02T17:50:00-05:00\nvolume = \"5 L\"");
  add("mix", "into = \"May brew\"\npart = \"June brew\"\nat = 2026-06-02T17:50:00-05:00\nvolume = \"5 L\"");
  EXPECT_EQ(of(tests(water_ + "about = \"June brew\""), "us_psr_water_test")["kept"].size(), 1u);
}

TEST_F(RuleTestsTest, a_count_of_a_lot_is_per_gram_and_a_microscope_tells_nothing) {
  const std::string count = "of = \"Heap\"\nat = 2026-04-25T10:00:00-05:00\norganism = \"e_coli\"\n";
  add("count", count + "method = \"microscope\"\nper_g = 5000");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["kept"].size(), 0u);
  add("count", count + "method = \"laboratory\"\nper_g = 900");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["verdict"], "met");
  add("compost_test", "compost_lot = \"Heap\"\nat = 2026-04-26T10:00:00-05:00\ne_coli_mpn_per_g = 1001");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["verdict"], "not_met");
}

// A laboratory writes "<1000" where it found none and would not have found fewer: 999 may be there.
TEST_F(RuleTestsTest, what_a_method_cannot_find_is_no_proof_of_none) {
  const std::string none = "compost_lot = \"Heap\"\nat = 2026-04-25T10:00:00-05:00\ne_coli_mpn_per_g = 0\n";
  add("compost_test", none);
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["kept"][0]["standing"], "no_limit");
  ASSERT_TRUE(ask(record_correct(), "id = \"" + last("compost_test") +
                                        "\"\nfield = \"e_coli_detection_limit_per_g\"\nvalue = \"10\"\nreason = "
                                        "\"as the report has it\"")
                  .ok());
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["verdict"], "met");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_ecoli")["figure"], 10.0);
  add("water_test",
      "water_source = \"Well\"\nat = 2026-04-30T10:00:00-05:00\ne_coli_per_100_ml = "
      "0\ne_coli_detection_limit_per_100_ml = 10");
  EXPECT_EQ(of(tests(water_), "us_psr_water_test")["kept"].back()["standing"], "too_coarse");
  second_brew();
  add("count",
      "of = \"June brew\"\nat = 2026-06-03T10:00:00-05:00\norganism = \"e_coli\"\nmethod = "
      "\"laboratory\"\ndensity = \"0 1/mL\"\ndetection_limit = \"0.5 1/mL\"");
  EXPECT_EQ(of(tests(tea_), "us_nosb_2004_indicator")["kept"][0]["standing"], "counts");
  EXPECT_NEAR(of(tests(tea_), "us_nosb_2004_indicator")["figure"].get<double>(), 50.0, 1e-9);  // per 100 mL
}

// A laboratory writes "present" beside a count it did not make.
TEST_F(RuleTestsTest, found_beside_a_count_of_none_is_found) {
  add("count",
      "of = \"Heap\"\nat = 2026-04-25T10:00:00-05:00\norganism = \"salmonella\"\nmethod = \"laboratory\"\nper_g = "
      "0\nresult = \"found\"\ndetection_limit_per_g = 0.01");
  EXPECT_EQ(of(tests(compost_), "uk_pas100_salmonella")["verdict"], "not_met");
}

TEST_F(RuleTestsTest, says_plainly_when_there_is_nothing_to_count) {
  EXPECT_EQ(tests(water_ + "about = \"Heap\"")["record_says"],
            "The record holds no result of these tests for Heap: only results that are typed count.");
  EXPECT_EQ(tests(water_)["record_says"], "Results in the record: 1; 1 of them count here.");
  const auto none = rule_tests().ask({.document = document("rules = \"uk\"")}, world_);
  ASSERT_TRUE(none.ok());
  EXPECT_EQ((*none.answer)["record"], "absent");
  EXPECT_NE(none.text.find("There is no record garden-record.sqlite here"), std::string::npos);
  const auto asked = rule_tests().ask({.document = document("store = \"elsewhere.sqlite\"\nabout = \"Heap\"")}, world_);
  EXPECT_TRUE(has(asked.refusals, "records.world.absent", "store"));
}

TEST_F(RuleTestsTest, refuses_what_nobody_has_and_what_is_never_tested) {
  EXPECT_TRUE(has(ask(rule_tests(), "about = \"Heep\"").refusals, "records.entry.name_of_none", "about"));
  EXPECT_TRUE(
      has(ask(rule_tests(), "about = \"" + last("bed") + "\"").refusals, "records.entry.names_another_kind", "about"));
  EXPECT_TRUE(has(ask(rule_tests(), "since = \"2026-02-30\"").refusals, "operations.rule.not_a_day", "since"));
}

}  // namespace
}  // namespace barm::operations
