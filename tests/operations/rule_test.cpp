// What rules say, asked as people ask; and on a plan, before it is brewed.
#include "brew/ensemble.h"
#include "data/embedded.h"
#include "operations/asking.h"
#include "operations/registry.h"
#include "recipe/plan.h"

namespace barm::operations {
namespace {

constexpr const char* own_rules = R"(
jurisdiction = "our garden"
en = "Our own rules"
es = "Nuestras reglas"
[[rule]]
id = "fortnight"
citation = "agreed in spring"
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

Result ask(const Operation& operation, const char* toml, const World& world = world_with()) {
  return operation.ask({.document = document(toml)}, world);
}
bool doubts(const Result& result, const std::string& code) {
  return std::any_of(result.doubts.begin(), result.doubts.end(), [&](const Remark& r) { return r.code == code; });
}

TEST(RuleCheck, takes_a_gardens_own_rules_by_the_name_of_their_file) {
  const auto world = world_with({{"garden.toml", own_rules}});
  const auto result =
      ask(rule_check(), "rules = \"none\"\nown = \"garden.toml\"\nfoliar = \"yes\"\ndays_to_harvest = \"13 d\"", world);
  ASSERT_TRUE(result.ok());
  EXPECT_EQ((*result.answer)["not_met_count"], 1);
  EXPECT_EQ((*result.answer)["rules"][0]["citation"], "agreed in spring");
  const auto calendar = ask(
      rule_calendar(), "rules = \"none\"\nown = \"garden.toml\"\nfoliar = \"yes\"\napplied = \"2026-05-01\"", world);
  ASSERT_TRUE(calendar.ok());
  EXPECT_EQ((*calendar.answer)["beds"][0]["earliest_harvest"], "2026-05-15");
}

TEST(RuleCheck, names_what_is_wrong_with_a_gardens_own_rules) {
  const auto result = ask(rule_check(), "own = \"garden.toml\"", world_with({{"garden.toml", "jurisdiction = 3"}}));
  EXPECT_TRUE(has(result.refusals, "rule.file.missing", "own"));
  EXPECT_TRUE(ask(rule_check(), "own = \"gone.toml\"").world_failed());
}

TEST(RuleCheck, doubts_rules_a_year_after_their_review) {
  auto world = world_with();
  EXPECT_FALSE(doubts(ask(rule_check(), "", world), "rule.doubt.past_review"));
  world.now = [] { return std::int64_t{1'811'808'000'000}; };  // 2027-06-01
  EXPECT_FALSE(doubts(ask(rule_check(), "", world), "rule.doubt.past_review"));
  world.now = [] { return std::int64_t{1'827'705'600'000}; };  // 2027-12-02
  EXPECT_TRUE(doubts(ask(rule_check(), "", world), "rule.doubt.past_review"));
}

TEST(RuleCheck, tells_a_rule_from_memory_as_not_confirmed) {
  const auto result = ask(rule_check(), "rules = \"uk,fr\"\nmaterial = \"compost\"\nmethod = \"windrow\"");
  ASSERT_TRUE(result.ok());
  EXPECT_TRUE(doubts(result, "rule.doubt.not_confirmed"));
  for (const auto& rule : (*result.answer)["rules"])
    EXPECT_EQ(rule["confirmed"].get<bool>(), rule["set"] == "fr") << rule;
  EXPECT_NE(result.text.find("from memory"), std::string::npos);
}

TEST(RuleCheck, every_text_is_written_in_both_languages_without_a_promise) {
  for (const auto language : {cards::Language::english, cards::Language::spanish}) {
    for (const auto& operation : {rule_check(), rule_class(), rule_tests()}) {
      const auto result = operation.ask({.document = document(""), .language = language}, world_with());
      ASSERT_TRUE(result.ok());
      for (const char* word : {" safe",
                               "pathogen"
                               "-free",
                               " segur", "libre de pat"})
        EXPECT_EQ(result.text.find(word), std::string::npos) << operation.name() << word;
    }
  }
}

std::string plan(const std::string& rest, const std::string& temperature = "20 degC") {
  return "[brew]\nstart = 2026-05-02T18:00:00-05:00\nlength = \"24 h\"\nmembers = 16\n[garden]\nzone = "
         "\"America/Bogota\"\n"
         "latitude = 4.7\nlongitude = -74.1\n[water]\nvolume = \"19 L\"\ntemperature = \"" +
         temperature + "\"\n[room]\ntemperature = \"" + temperature +
         "\"\n[vessel]\ndiameter = \"28 cm\"\n[air]\nrated_flow = \"3000 L/h\"\n[[compost]]\nkind = \"mixed\"\nmass = "
         "\"700 g\"\n" +
         rest;
}
const std::string molasses = "[[food]]\nname = \"blackstrap molasses\"\namount = \"20 mL\"\n";
const std::string fish = "[[food]]\nname = \"fish hydrolysate\"\namount = \"5 mL\"\n";

Json planned(const std::string& text) {
  const auto result = ask(brew_plan(), text.c_str(), world_with());
  EXPECT_TRUE(result.ok()) << result.refusals.size();
  return result.ok() ? *result.answer : Json();
}
bool warns(const Json& answer, const std::string& code) {
  for (const auto& warning : answer["warnings"]) {
    if (warning["code"] == code) return true;
  }
  return false;
}

TEST(A_plan_with_food, says_at_once_that_animal_compost_makes_it_untreated) {
  const auto known = planned(plan(molasses + "[rule]\nanimal_origin = \"yes\"\n"));
  EXPECT_EQ(known["legal"][0]["class"], "untreated");
  EXPECT_EQ(known["warnings"][0]["code"], "rule.class.untreated_by_food");
  EXPECT_NE(known["warnings"][0]["next"].get<std::string>().find("no food"), std::string::npos);
  // Not told: it is said that it may be so, and counts so.
  const auto untold = planned(plan(molasses));
  EXPECT_EQ(untold["legal"][0]["class"], "undetermined");
  EXPECT_EQ(untold["warnings"][0]["code"], "rule.class.undetermined_with_food");
}

TEST(A_plan_with_food, hears_the_brew_before_another_countrys_law) {
  auto abroad = plan(molasses + "[rule]\nanimal_origin = \"yes\"\n");
  const std::string zone = "America/Bogota";
  ASSERT_NE(abroad.find(zone), std::string::npos);
  abroad.replace(abroad.find(zone), zone.size(), "Europe/Dublin");
  const auto warnings = planned(abroad)["warnings"];
  ASSERT_GT(warnings.size(), 1U) << "something of the brew itself must stand before it";
  EXPECT_EQ(warnings.back()["code"], "rule.class.untreated_by_food");
}

TEST(A_plan_with_fish, is_of_animal_origin_whatever_the_compost) {
  EXPECT_EQ(planned(plan(fish + "[rule]\nanimal_origin = \"no\"\n"))["legal"][0]["class"], "untreated");
  EXPECT_EQ(planned(plan(molasses + "[rule]\nanimal_origin = \"no\"\n"))["legal"][0]["class"], "not_animal_origin");
}

TEST(A_plan_without_food, may_touch_the_crop_when_all_is_known) {
  const auto extract = planned(
      plan("[rule]\nanimal_origin = \"yes\"\nprocess = \"composted\"\nwater_source = \"municipal\"\nwater_e_coli = "
           "\"no\"\nrecontaminated = \"no\"\ncontact_during = \"minimised\"\n"));
  EXPECT_EQ(extract["legal"][0]["class"], "treated_b");
  EXPECT_EQ(extract["legal"][0]["permitted"], "yes");
  EXPECT_FALSE(warns(extract, "rule.class.treated_b"));
}

TEST(A_plan_of_another_country, has_no_class) {
  EXPECT_TRUE(planned(plan(molasses + "[rule]\nsets = \"eu\"\n"))["legal"].empty());
  const auto wrong = ask(brew_plan(), plan("[rule]\nsets = \"mars\"\n").c_str(), world_with());
  EXPECT_TRUE(has(wrong.refusals, "operations.rule.no_set", "rule.sets"));
}

TEST(The_contaminant_potential, only_ever_adds_a_warning) {
  const std::string much = "[[food]]\nname = \"blackstrap molasses\"\namount = \"150 mL\"\n";
  const auto warm = planned(plan(much, "26 degC"));
  const auto cold = planned(plan("", "6 degC"));
  EXPECT_TRUE(warns(warm, "rule.contaminant.could_grow"));
  EXPECT_FALSE(warns(cold, "rule.contaminant.could_grow"));
  EXPECT_GT(warm["contaminant_decades"], cold["contaminant_decades"]);
  EXPECT_TRUE(warns(cold, "rule.class.undetermined"));  // a small figure takes nothing back
}

}  // namespace
}  // namespace barm::operations
