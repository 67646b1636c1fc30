// An inspector's pack from a record, and the calendar of its beds.
#include <gtest/gtest.h>

#include "operations/kept_garden.h"
#include "records/image.h"
#include "support/files.h"

namespace barm::operations {
namespace {

class PackTest : public KeptGarden {};

TEST_F(PackTest, holds_what_where_from_which_lots_tests_people_and_the_state_of_the_record) {
  mix("Can", "volume = \"0.2 L\"");
  add("cleaning", "vessel = \"Drum\"\nat = 2026-05-02T15:00:00-05:00\nmethod = \"disinfected\"\nperson = \"Ana\"");
  apply("North bed");
  const auto result = ask(rule_pack(), "from = \"2026-05-01\"\nto = \"2026-05-31\"\npdf = \"p.pdf\"\ncsv = \"p.csv\"");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ((*result.answer)["applications_count"], 1);
  EXPECT_EQ((*result.answer)["record_whole"], true);
  const std::string& csv = files_["p.csv"];
  EXPECT_EQ(csv, (*result.answer)["csv_text"].get<std::string>());
  for (const char* held : {"North bed", "Heap", "blackstrap molasses", "Well", "Water test", "disinfected", "Ana",
                           "21 CFR 112.51(b)(5)", "untreated", "chain of"})
    EXPECT_NE(csv.find(held), std::string::npos) << held;
  EXPECT_TRUE(files_["p.pdf"].starts_with("%PDF"));
}

/// Photo of the brew, its bytes as a record takes them.
std::string photo(const std::string& brew, const std::string& file, const std::string& rest = "") {
  return "brew = \"" + brew + "\"\nat = 2026-05-03T09:00:00-05:00\nimage = \"" +
         records::base64_of(test::support_file(file)) + "\"\n" + rest;
}

TEST_F(PackTest, shows_the_photos_of_the_brews_it_tells_of) {
  apply("North bed");
  add("observation", "brew = \"May brew\"\nat = 2026-05-03T09:00:00-05:00\nfoam = \"thick\"");
  add("photo", photo("May brew", "leaf.jpg",
                     "observation = \"" + last("observation") + "\"\nnote = \"before straining\"\nperson = \"Ana\""));
  add("photo", photo("May brew", "leaf.png", "note = \"the wrong drum\""));
  ASSERT_TRUE(ask(record_withdraw(), "id = \"" + last("photo") + "\"\nreason = \"the wrong drum\"").ok());
  add("brew",
      "garden = \"Hillside\"\nname = \"Other brew\"\nvessel = \"Drum\"\nvolume = \"180 L\"\nair_on_at = "
      "2026-05-02T18:00:00-05:00");
  add("photo", photo("Other brew", "leaf.png", "note = \"went nowhere\""));
  const auto result = ask(rule_pack(), "pdf = \"p.pdf\"\ncsv = \"p.csv\"");
  ASSERT_TRUE(result.ok());
  const std::string& csv = files_["p.csv"];
  // base64 -d tests/support/leaf.jpg.txt | sha256sum
  EXPECT_NE(csv.find("photos,2026-05-03T09:00:00-05:00,Photo,\"brew: May brew; observation: foam: thick; person: Ana; "
                     "note: before straining; image/jpeg, 0.3 kB, SHA-256 "
                     "9bccce923529f67bbd661188f4a5cfe11db051efe00645c101678659ae7932f6"),
            std::string::npos)
      << csv;
  EXPECT_EQ(csv.find("went nowhere"), std::string::npos);
  const auto photos_in = [](const std::string& text) {
    std::size_t count = 0;
    for (auto at = text.find("\nphotos,"); at != std::string::npos; at = text.find("\nphotos,", at + 1)) ++count;
    return count;
  };
  EXPECT_EQ(photos_in(csv), 1U);
  EXPECT_NE(files_["p.pdf"].find(test::support_file("leaf.jpg")), std::string::npos);
  EXPECT_EQ(result.text.find("/9j/"), std::string::npos);
}

TEST_F(PackTest, leaves_out_what_lies_outside_its_days) {
  apply("North bed");
  EXPECT_EQ((*ask(rule_pack(), "from = \"2026-05-04\"").answer)["applications_count"], 0);
  EXPECT_EQ((*ask(rule_pack(), "from = \"2026-05-03\"\nto = \"2026-05-03\"").answer)["applications_count"], 1);
  EXPECT_EQ((*ask(rule_pack(), "to = \"2026-05-02\"").answer)["applications_count"], 0);
}

TEST_F(PackTest, of_a_harvest_holds_what_led_to_it) {
  apply("North bed");
  apply("Hedge");
  add("harvest", "bed = \"North bed\"\nat = 2026-06-12T08:00:00-05:00\nmark = \"H-1\"");
  const auto result = ask(rule_pack(), "harvest = \"H-1\"\nrules = \"us_organic\"\nmaterial = \"raw_manure\"");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ((*result.answer)["applications_count"], 1);
  EXPECT_TRUE(has(ask(rule_pack(), "harvest = \"H-2\"").refusals, "operations.rule.no_harvest", "harvest"));
  EXPECT_TRUE(has(ask(rule_pack(), "from = \"2026-06-01\"\nto = \"2026-05-01\"").refusals,
                  "operations.rule.to_before_from", "to"));
}

TEST_F(PackTest, grants_nothing_to_a_heap_without_a_heat_record) {
  apply("North bed");
  const auto without =
      ask(rule_pack(), "rules = \"us_produce\"\nrecontaminated = \"no\"\ncontact_during = \"minimised\"");
  EXPECT_NE((*without.answer)["csv_text"].get<std::string>().find(",not determined,"), std::string::npos);
  heat();
  const auto with = ask(rule_pack(), "rules = \"us_produce\"\nrecontaminated = \"no\"\ncontact_during = \"minimised\"");
  EXPECT_NE((*with.answer)["csv_text"].get<std::string>().find(",\"treated, 112.54(b)\","), std::string::npos);
  EXPECT_EQ((*with.answer)["csv_text"].get<std::string>().find(",not determined,"), std::string::npos);
}

TEST_F(PackTest, what_is_told_beside_the_record_gives_way_to_it_and_that_is_said) {
  apply("North bed");
  const auto same = ask(rule_pack(), "animal_origin = \"yes\"");
  EXPECT_FALSE(has(same.doubts, "operations.rule.record_says_otherwise", "animal_origin"));
  const auto other = ask(rule_pack(), "animal_origin = \"no\"");
  ASSERT_TRUE(other.ok());
  EXPECT_TRUE(has(other.doubts, "operations.rule.record_says_otherwise", "animal_origin"));
  EXPECT_EQ((*other.answer)["csv_text"], (*same.answer)["csv_text"]);
  const auto calendar = ask(rule_calendar(), "animal_origin = \"no\"");
  ASSERT_TRUE(calendar.ok());
  EXPECT_TRUE(has(calendar.doubts, "operations.rule.record_says_otherwise", "animal_origin"));
}

TEST_F(PackTest, raw_manure_told_here_stays_raw_beside_a_heap_that_was_heated) {
  apply("North bed");
  heat();  // composted, as the record has it
  const auto told = ask(rule_calendar(), "material = \"raw_manure\"");
  ASSERT_TRUE(told.ok());
  EXPECT_TRUE(has(told.doubts, "operations.rule.record_beside_manure", "process"));
  EXPECT_TRUE(has(told.doubts, "operations.rule.record_beside_manure", "material"));
  const auto organic = ask(rule_calendar(), "rules = \"us_organic\"\nmaterial = \"raw_manure\"");
  ASSERT_TRUE(organic.ok());
  EXPECT_NE((*organic.answer)["beds"][0]["earliest_harvest"], "2026-05-03");  // the day it was applied
}

TEST_F(PackTest, speaks_spanish_throughout) {
  apply("North bed");
  add("cleaning", "vessel = \"Drum\"\nat = 2026-05-02T15:00:00-05:00\nmethod = \"disinfected\"\nperson = \"Ana\"");
  ASSERT_TRUE(ask(rule_pack(), "csv = \"p.csv\"\nrules = \"us_produce\"", cards::Language::spanish).ok());
  const std::string& csv = files_["p.csv"];
  for (const char* held :
       {"cama: North bed", "cómo: al suelo", "cómo: desinfectado", "persona: Ana", "origen animal: estiércol"})
    EXPECT_NE(csv.find(held), std::string::npos) << held << csv;
  for (const char* english : {"; how:", "; person:", "drench", "disinfected", "manure", ": yes", "composted"})
    EXPECT_EQ(csv.find(english), std::string::npos) << english;
}

TEST_F(PackTest, none_found_by_a_coarse_method_is_not_none) {
  apply("North bed");
  const auto csv = [&] { return (*ask(rule_pack(), "rules = \"us_produce\"").answer)["csv_text"].get<std::string>(); };
  EXPECT_NE(csv().find("whether E. coli was found in the water: no"), std::string::npos);
  add("water_test",
      "water_source = \"Well\"\nat = 2026-04-30T10:00:00-05:00\ne_coli_per_100_ml = "
      "0\ne_coli_detection_limit_per_100_ml = 10");
  EXPECT_EQ(csv().find("whether E. coli was found in the water: no"), std::string::npos);
  EXPECT_NE(csv().find("whether E. coli was found in the water: unknown"), std::string::npos);
}

TEST_F(PackTest, a_tea_is_as_old_as_the_oldest_brew_in_it_and_never_younger_than_nothing) {
  const auto held = [&](const std::string& at) {
    add("application",
        "bed = \"North bed\"\nbrew = \"June brew\"\nat = " + at + "\nvolume = \"20 L\"\nmethod = \"drench\"");
    const auto csv = (*ask(rule_pack(), "from = \"" + at.substr(0, 10) + "\"\nto = \"" + at.substr(0, 10) +
                                            "\"\nrules = \"us_produce\"")
                           .answer)["csv_text"]
                         .get<std::string>();
    const auto from = csv.find("how long it is held: ");
    return from == csv.npos ? "no rule asks" : csv.substr(from, csv.find_first_of(";,\r\n", from) - from);
  };
  add("brew",
      "garden = \"Hillside\"\nname = \"June brew\"\nvessel = \"Drum\"\nvolume = \"180 L\"\nair_on_at = "
      "2026-05-03T18:00:00-05:00");
  add("mix", "into = \"June brew\"\npart = \"Heap\"\nat = 2026-05-03T17:50:00-05:00\nmass = \"5 kg\"");
  EXPECT_EQ(held("2026-05-02T12:00:00-05:00"), "how long it is held: unknown");  // before it was begun
  EXPECT_EQ(held("2026-05-03T18:30:00-05:00"), "no rule asks");                  // half an hour: no tea by the rule
  add("mix", "into = \"June brew\"\npart = \"May brew\"\nat = 2026-05-03T17:50:00-05:00\nvolume = \"90 L\"");
  EXPECT_EQ(held("2026-05-04T18:00:00-05:00"), "how long it is held: 48 h");  // since the evening of the second
}

TEST_F(PackTest, heat_after_the_brew_was_begun_composts_nothing_in_it) {
  heat();
  apply("North bed");
  const auto csv = [&] { return (*ask(rule_pack(), "rules = \"us_produce\"").answer)["csv_text"].get<std::string>(); };
  EXPECT_NE(csv().find("how the material was processed: composted"), std::string::npos);
  ASSERT_TRUE(
      ask(record_correct(), "id = \"Heap\"\nfield = \"finished_on\"\nvalue = \"2026-05-20\"\nreason = \"misread\"")
          .ok());
  EXPECT_EQ(csv().find("how the material was processed: composted"), std::string::npos);
}

TEST_F(PackTest, a_food_nobody_knows_is_not_known_to_be_no_fish) {
  add("compost_lot",
      "garden = \"Hillside\"\nname = \"Leaf\"\norigin = \"made_here\"\nanimal_origin = \"none\"\nmethod = \"static\"");
  add("food_lot", "garden = \"Hillside\"\nname = \"Jar\"\nfood = \"grandmother's brown one\"");
  add("brew",
      "garden = \"Hillside\"\nname = \"June brew\"\nvessel = \"Drum\"\nvolume = \"180 L\"\nair_on_at = "
      "2026-06-03T18:00:00-05:00");
  const auto into_june = [&](const char* part, const char* amount) {
    add("mix", std::string("into = \"June brew\"\npart = \"") + part + "\"\nat = 2026-06-03T17:50:00-05:00\n" + amount);
  };
  into_june("Leaf", "mass = \"5 kg\"");
  add("application",
      "bed = \"North bed\"\nbrew = \"June brew\"\nat = 2026-06-04T14:00:00-05:00\nvolume = \"20 L\"\nmethod = "
      "\"drench\"");
  const auto csv = [&] { return (*ask(rule_pack(), "rules = \"us_produce\"").answer)["csv_text"].get<std::string>(); };
  EXPECT_NE(csv().find(",not of animal origin,"), std::string::npos);
  into_june("Jar", "volume = \"0.2 L\"");
  EXPECT_EQ(csv().find(",not of animal origin,"), std::string::npos);
}

TEST_F(PackTest, tells_corrections_with_who_and_why) {
  apply("North bed");
  const auto listed = ask(record_list(), "kind = \"compost_lot\"");
  ASSERT_TRUE(listed.ok());
  const auto id = (*listed.answer)["entries"][0]["id"].get<std::string>();
  const auto corrected = ask(record_correct(), "id = \"" + id +
                                                   "\"\nfield = \"note\"\nvalue = \"covered\"\nreason = \"seen "
                                                   "again\"\nby = \"Ana\"");
  ASSERT_TRUE(corrected.ok());
  const auto csv = (*ask(rule_pack(), "").answer)["csv_text"].get<std::string>();
  EXPECT_NE(csv.find("Corrected by Ana: seen again"), std::string::npos);
}

TEST_F(PackTest, says_when_the_record_is_not_what_was_written) {
  apply("North bed");
  {
    auto store = records::Store::open({folder_.file("record.sqlite")}, records::all_kinds(), {});
    ASSERT_TRUE(store.ok());
    store.value().connection().run("DROP TRIGGER IF EXISTS application_no_UPDATE");
    store.value().connection().run("UPDATE application SET volume_l = 99");
  }
  const auto result = ask(rule_pack(), "");
  ASSERT_TRUE(result.ok());
  EXPECT_EQ((*result.answer)["record_whole"], false);
  EXPECT_TRUE(has(result.doubts, "rule.pack.record_not_whole", "store"));
  EXPECT_NE(result.text.find("not what was written"), std::string::npos);
}

TEST_F(PackTest, the_calendar_tells_every_bed_from_the_record) {
  mix("Can", "volume = \"0.2 L\"");
  apply("North bed");
  apply("Hedge");
  add("planned_harvest", "bed = \"North bed\"\non = \"2026-06-20\"");
  const auto result = ask(rule_calendar(), "rules = \"us_organic\"\nbatches_tested = 0");
  ASSERT_TRUE(result.ok());
  const auto& beds = (*result.answer)["beds"];
  ASSERT_EQ(beds.size(), 2U);
  EXPECT_EQ(beds[0]["bed"], "North bed");
  EXPECT_EQ(beds[0]["earliest_harvest"],
            "2026-08-31");  // 120 days after 3 May: food, nothing tested (S38, from memory)
  EXPECT_EQ(beds[0]["kept"], "no");
  EXPECT_EQ(beds[1]["longest_days"], 0.0);  // nothing eaten there
}

TEST_F(PackTest, a_text_a_spreadsheet_would_run_is_made_harmless_in_the_table) {
  add("bed", "garden = \"Hillside\"\nname = \"=1+1\"\npart_eaten = \"leaf\"");
  apply("=1+1");
  const auto csv = (*ask(rule_pack(), "").answer)["csv_text"].get<std::string>();
  EXPECT_EQ(csv.find(",=1+1"), std::string::npos);
  EXPECT_NE(csv.find("'=1+1"), std::string::npos);
}

}  // namespace
}  // namespace barm::operations
