// The command as a newcomer meets it: right, wrong, and where the machine fails.
#include "cli/command.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/files.h"
#include "support/temporary_folder.h"

namespace barm::cli {
namespace {

class Command : public testing::Test {
 protected:
  Outcome barm(const std::vector<std::string>& words) { return run(words, world_); }
  void expect_refused(const std::vector<std::string>& words, const std::string& saying) {
    const auto outcome = barm(words);
    EXPECT_EQ(outcome.status, wrong_input) << outcome.out;
    EXPECT_EQ(outcome.out, "");
    EXPECT_NE(outcome.errors.find(saying), std::string::npos) << outcome.errors;
  }
  cards::Catalogue words_ = cards::Catalogue::embedded();
  operations::World world_ = real_world(words_);
};

TEST_F(Command, a_question_is_answered_in_words_and_in_json) {
  const auto told = barm({"water", "oxygen", "--temperature", "20 degC"});
  EXPECT_EQ(told.status, done);
  EXPECT_NE(told.out.find("9.09 mg/L"), std::string::npos) << told.out;
  EXPECT_EQ(told.errors, "");
  const auto json = nlohmann::json::parse(barm({"water", "oxygen", "--temperature", "20 degC", "--json"}).out);
  EXPECT_NEAR(json["saturation_mg_per_l"].get<double>(), 9.092, 0.002);  // S01, table I, from memory
  EXPECT_TRUE(json["doubts"].empty());
}

TEST_F(Command, words_without_option_names_keep_their_order) {
  EXPECT_EQ(barm({"units", "convert", "4 tbsp", "mL"}).out, "4 tbsp = 59.1471 mL\n");  // S63: 1/64 US gal
  EXPECT_EQ(barm({"units", "convert", "-40 degF", "degC"}).status, done);
  EXPECT_EQ(barm({"--json", "units", "convert", "4 tbsp", "mL"}).status, done);
}

TEST_F(Command, the_gardens_customs_decide_what_a_gallon_is) {
  expect_refused({"units", "convert", "1 gal", "L"}, "gal");
  const auto us = nlohmann::json::parse(barm({"units", "convert", "1 gal", "L", "--gallon", "us", "--json"}).out);
  EXPECT_NEAR(us["value"].get<double>(), 3.785411784, 1e-9);  // S63
  const auto imperial =
      nlohmann::json::parse(barm({"units", "convert", "1 gal", "L", "--gallon=imperial", "--json"}).out);
  EXPECT_NEAR(imperial["value"].get<double>(), 4.54609, 1e-9);  // S63
}

TEST_F(Command, misspelt_words_are_offered_right) {
  expect_refused({"watr", "oxygen"}, "Did you mean water?");
  expect_refused({"water", "oxigen"}, "Did you mean oxygen?");
  expect_refused({"water", "oxygen", "--temprature", "20 degC"}, "Did you mean --temperature?");
  expect_refused({"water"}, "oxygen, clear");
  expect_refused({"water", "oxygen", "-t", "20 degC"}, "-t");
}

TEST_F(Command, slips_of_the_hand_are_named) {
  expect_refused({"water", "oxygen"}, "--temperature: Needed");
  expect_refused({"water", "oxygen", "--temperature", "20"}, "has no unit");
  expect_refused({"water", "oxygen", "--temperature"}, "needs a value");
  expect_refused({"water", "oxygen", "--temperature", "20", "degC"}, "one word too many");
  expect_refused({"water", "oxygen", "--temperature", "20 degC", "--temperature", "21 degC"}, "more than once");
  expect_refused({"water", "oxygen", "--temperature", "20 degC", "--lang", "fr"}, "fr");
  expect_refused({"water", "oxygen", "--temperature", "20 psi"}, "--temperature: ");
  expect_refused({"water", "oxygen", "--temperature", ""}, "Nothing is written here");
}

TEST_F(Command, hyphens_and_underscores_are_one_in_option_names) {
  EXPECT_EQ(barm({"water", "clear", "--volume", "19 L", "--free-chlorine", "1 mg/L"}).status, done);
  EXPECT_EQ(barm({"water", "clear", "--volume", "19 L", "--free_chlorine", "1 mg/L"}).status, done);
}

TEST_F(Command, all_that_is_wrong_is_told_at_once_and_in_json) {
  const auto outcome = barm({"water", "oxygen", "--temperature", "20", "--altitude", "20 km", "--json"});
  EXPECT_EQ(outcome.status, wrong_input);
  EXPECT_EQ(outcome.errors, "");
  const auto refusals = nlohmann::json::parse(outcome.out)["refusals"];
  ASSERT_EQ(refusals.size(), 2u);
  EXPECT_EQ(refusals[0]["code"], "operations.input.unit_missing");
  EXPECT_EQ(refusals[0]["field"], "temperature");
  EXPECT_EQ(refusals[0]["given"], "20");
  EXPECT_NE(refusals[0]["next"].get<std::string>().find("20 degC"), std::string::npos);
  EXPECT_NE(refusals[1]["allowed"].get<std::string>().find("from"), std::string::npos);
}

TEST_F(Command, a_row_that_is_not_there_is_told_with_everything_else) {
  auto world = world_;
  world.read_file = [](const std::string&) -> Answer<std::string> {
    return std::string("[water]\nvolume = \"lots\"\n[[food]]\nname = \"kelp meal\"\namount = \"4 tsp\"\n");
  };
  const auto outcome = run({"brew", "plan", "plan.toml", "--food.2.amount", "3 tsp", "--json"}, world);
  EXPECT_EQ(outcome.status, wrong_input);
  std::vector<std::string> fields;
  const auto told = nlohmann::json::parse(outcome.out);
  for (const auto& refusal : told["refusals"]) fields.push_back(refusal["field"]);
  EXPECT_EQ(std::count(fields.begin(), fields.end(), "food[2].amount"), 1);
  EXPECT_EQ(std::count(fields.begin(), fields.end(), "water.volume"), 1);
  EXPECT_EQ(std::count(fields.begin(), fields.end(), "compost"), 1);
}

TEST_F(Command, spanish_is_spoken_when_asked) {
  const auto outcome = barm({"water", "oxygen", "--lang", "es"});
  EXPECT_NE(outcome.errors.find("Hace falta"), std::string::npos) << outcome.errors;
  EXPECT_NE(barm({"water", "oxygen", "--help", "--lang", "es"}).out.find("Cuánto oxígeno"), std::string::npos);
}

TEST_F(Command, help_is_found_however_it_is_asked_for) {
  for (const std::vector<std::string>& words : {std::vector<std::string>{},
                                                {"--help"},
                                                {"help"},
                                                {"water", "--help"},
                                                {"help", "water"},
                                                {"water", "oxygen", "--help"},
                                                {"help", "water", "oxygen"}}) {
    const auto outcome = barm(words);
    EXPECT_EQ(outcome.status, done);
    EXPECT_NE(outcome.out.find("water oxygen"), std::string::npos);
  }
  EXPECT_TRUE(barm({"--version"}).out.starts_with("barm "));
  expect_refused({"help", "watr"}, "Did you mean water?");
}

TEST_F(Command, a_file_that_cannot_be_read_is_the_worlds_failure) {
  const auto outcome = barm({"air", "test", "--readings", "no/such/file.csv"});
  EXPECT_EQ(outcome.status, world_failed);
  EXPECT_NE(outcome.errors.find("no/such/file.csv"), std::string::npos) << outcome.errors;
  EXPECT_EQ(barm({"air", "test", "--readings", "/"}).status, world_failed);
  const auto json = barm({"air", "test", "--readings", "no/such/file.csv", "--json"});
  EXPECT_EQ(json.status, world_failed);
  EXPECT_EQ(nlohmann::json::parse(json.out)["refusals"][0]["code"], "operations.world.file_absent");
}

// A plan or a record named in place of a card would be lost.
TEST_F(Command, what_is_there_already_stays_but_for_a_card_printed_before) {
  const test::TemporaryFolder folder;
  const auto plan = folder.file("mine.toml"), card = folder.file("card.pdf");
  ASSERT_TRUE(world_.write_file(plan, "[water]\n").ok());
  EXPECT_TRUE(world_.write_file(plan, "[water]\n").ok());  // it would say the same
  for (const char* other : {"%PDF-1.5\n", "what,lot\r\n", "[brew]\n"}) {
    const auto written = world_.write_file(plan, other);
    ASSERT_FALSE(written.ok()) << other;
    EXPECT_EQ(written.refusals()[0].code, "records.world.taken");
  }
  EXPECT_EQ(*world_.read_file(plan), "[water]\n");
  const auto paper = [](const std::string& creator, const std::string& said) {
    return "%PDF-1.5\n/Creator (" + creator + ")\n" + said + "\n%%EOF\n";
  };
  ASSERT_TRUE(world_.write_file(card, paper("barm card", "yesterday")).ok());
  EXPECT_TRUE(world_.write_file(card, paper("barm card", "today")).ok());
  EXPECT_FALSE(world_.write_file(card, "what,lot\r\n").ok());
  EXPECT_FALSE(world_.write_file(card, paper("barm report", "an inspector's pack")).ok());
  EXPECT_EQ(*world_.read_file(card), paper("barm card", "today"));
  const auto letter = folder.file("letter.pdf"), noted = folder.file("noted.pdf");
  ASSERT_TRUE(world_.write_file(letter, paper("somebody", "a letter")).ok());
  EXPECT_FALSE(world_.write_file(letter, paper("barm card", "today")).ok());
  ASSERT_TRUE(world_.write_file(noted, paper("barm card", "yesterday") + "and a note\n%%EOF\n").ok());
  EXPECT_FALSE(world_.write_file(noted, paper("barm card", "today")).ok());
  EXPECT_FALSE(world_.may_write(folder.path(), paper("barm card", "today")));
}

// The folder tables are written into need not be there; a path of folders that is not there is told.
TEST_F(Command, a_folder_to_write_into_is_made_and_a_path_to_it_is_not) {
  const test::TemporaryFolder folder;
  EXPECT_TRUE(world_.write_file(folder.file("tables/bed.csv"), "name\r\n").ok());
  EXPECT_EQ(world_.read_file(folder.file("tables/bed.csv")).value(), "name\r\n");
  const auto deep = world_.write_file(folder.file("no/such/bed.csv"), "name\r\n");
  ASSERT_FALSE(deep.ok());
  EXPECT_EQ(deep.refusals().front().code, "operations.world.file_absent");
}

TEST_F(Command, a_fault_of_ours_is_owned_up_to) {
  auto broken = world_;
  broken.read_file = [](const std::string&) -> Answer<std::string> { throw BrokenPromise("a test broke it"); };
  const auto outcome = run({"air", "test", "--readings", "x.csv"}, broken);
  EXPECT_EQ(outcome.status, our_fault);
  EXPECT_NE(outcome.errors.find("barm's fault: a test broke it"), std::string::npos);
}

TEST_F(Command, no_answer_ever_says_nan) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"water", "oxygen", "--temperature", "nan degC"},
        {"water", "oxygen", "--temperature", "inf degC"},
        {"water", "clear", "--volume", "19 L", "--chloramine", "3 mg/L"},
        {"water", "clear", "--volume", "19 L", "--json"},
        {"air", "supply", "--rated-flow", "570 gph", "--volume", "19 L", "--diameter", "28 cm"},
        {"air", "supply", "--rated-flow", "0.1 L/h", "--volume", "19 L", "--diameter", "28 cm"}}) {
    const auto outcome = barm(words);
    EXPECT_NE(outcome.status, our_fault) << outcome.errors;
    EXPECT_EQ(outcome.out.find("nan"), std::string::npos) << outcome.out;
    EXPECT_FALSE(outcome.out.empty() && outcome.errors.empty());
  }
}

/// The process itself ends with the status.
int status_of(const std::string& arguments) {
  return WEXITSTATUS(std::system((std::string(BARM_COMMAND) + " " + arguments).c_str()));
}

TEST(Process, ends_with_the_status_of_what_happened) {
  EXPECT_EQ(status_of("units convert '4 tbsp' mL >/dev/null"), done);
  EXPECT_EQ(status_of("units convert '4 tbsp' >/dev/null 2>&1"), wrong_input);
  EXPECT_EQ(status_of("air test --readings no/such/file.csv >/dev/null 2>&1"), world_failed);
  EXPECT_EQ(status_of("units convert '4 tbsp' mL >/dev/full 2>/dev/null"), world_failed);
}

}  // namespace
}  // namespace barm::cli
