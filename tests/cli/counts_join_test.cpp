// From a count at the microscope to the forecast: a lot and a brew in the record, and what the plan makes of them.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command.h"
#include "cli/files.h"
#include "support/temporary_folder.h"

namespace barm::cli {
namespace {

using Words = std::vector<std::string>;

class Counts : public testing::Test {
 protected:
  void SetUp() override {
    record({"garden", "--name", "Elder Lane", "--zone", "Europe/London"});
    record({"vessel", "--garden", "Elder Lane", "--name", "Blue drum", "--volume", "20 L"});
    record({"compost_lot", "--garden", "Elder Lane", "--name", "Spring heap", "--origin", "made_here",
            "--animal_origin", "none", "--method", "windrow", "--made_on", "2026-01-10", "--finished_on", "2026-05-01",
            "--mass", "50 kg"});
    record({"brew", "--garden", "Elder Lane", "--name", "May night brew", "--vessel", "Blue drum", "--volume", "19 L",
            "--air_on_at", "2026-05-15T18:30:00+01:00"});
  }
  std::string at(const char* name) const { return folder_.file(name); }
  void record(Words rest) {
    rest.insert(rest.begin(), {"record", "add"});
    rest.insert(rest.end(), {"--store", at("record.sqlite")});
    const auto outcome = run(rest, world_);
    ASSERT_EQ(outcome.status, done) << outcome.errors;
  }
  nlohmann::json ask(Words words) {
    words.emplace_back("--json");
    const auto outcome = run(words, world_);
    EXPECT_EQ(outcome.status, done) << outcome.errors << outcome.out;
    return nlohmann::json::parse(outcome.out, nullptr, false);
  }
  nlohmann::json plan(const std::string& compost) {
    std::ifstream from(std::string(BARM_HOUSE) + "/examples/allotment_bucket.toml");
    std::stringstream text;
    text << from.rdbuf();
    std::string toml = text.str();
    const std::string was = "[[compost]]\nkind = \"mixed\"\n";
    EXPECT_NE(toml.find(was), std::string::npos);
    toml.replace(toml.find(was), was.size(), compost);
    std::ofstream(at("plan.toml")) << toml;
    return ask({"brew", "forecast", at("plan.toml")});
  }
  test::TemporaryFolder folder_;
  cards::Catalogue words_ = cards::Catalogue::embedded();
  operations::World world_ = real_world(words_);
};

TEST_F(Counts, of_a_lot_and_its_tests_enter_a_plan) {
  record({"compost_test", "--compost_lot", "Spring heap", "--at", "2026-05-02T09:00:00+01:00", "--moisture", "60 %",
          "--carbon_dioxide_mg_per_g_per_day", "30"});
  const auto lot = ask({"compost", "lot", "Spring heap", "--store", at("record.sqlite")});
  EXPECT_NEAR(lot["moisture_share"].get<double>(), 0.6, 1e-12);
  EXPECT_NEAR(lot["uptake_mg_per_g_vs_h"].get<double>(), 30.0 * 32.0 / 12.0 / 24.0 / std::sqrt(2.0), 1e-9);
  EXPECT_NEAR(lot["left_g"].get<double>(), 50'000.0, 1e-6);
  EXPECT_EQ(lot["counts_count"], 0);

  // A raw lot: by its breath oxygen falls lower than with the usual one of the kind.
  const auto usual = plan("[[compost]]\nkind = \"mixed\"\n");
  const auto measured = plan(lot["plan_lines"].get<std::string>());
  const auto low = [](const nlohmann::json& json) { return json["oxygen_minimum_mg_per_l"]["p05"].get<double>(); };
  EXPECT_LT(low(measured), low(usual) - 0.2);

  record({"count", "--of", "Spring heap", "--at", "2026-05-02T10:00:00+01:00", "--organism", "bacteria", "--method",
          "microscope", "--per_g", "6e8", "--density_low", "0.7 1/mL", "--density_high", "1.4 1/mL"});
  const auto counted = ask({"compost", "lot", "Spring heap", "--store", at("record.sqlite")});
  EXPECT_EQ(counted["counts_count"], 1);
  EXPECT_NEAR(counted["bacteria_per_g"].get<double>(), 6e8, 1.0);
  EXPECT_NEAR(counted["bacteria_ln_error"].get<double>(), std::log(2.0) / 3.919928, 1e-6);
  // Its few cells start the brew lower, and in a narrower band.
  const auto few = plan(counted["plan_lines"].get<std::string>());
  const auto at_one_hour = [](const nlohmann::json& json, const char* band) {
    return json["bacteria_per_ml"][band][4].get<double>();
  };
  EXPECT_LT(at_one_hour(few, "p50"), 0.5 * at_one_hour(measured, "p50"));
  EXPECT_LT(at_one_hour(few, "p95") / at_one_hour(few, "p05"),
            0.7 * at_one_hour(measured, "p95") / at_one_hour(measured, "p05"));
}

TEST_F(Counts, of_a_brew_set_the_scale_of_its_start) {
  for (const auto& [hour, bacteria] : {std::pair{"19:00", "4e5"}, {"20:00", "7e5"}, {"21:00", "1e6"}})
    record({"count", "--of", "May night brew", "--at", std::string("2026-05-15T") + hour + ":00+01:00", "--organism",
            "bacteria", "--method", "microscope", "--density", std::string(bacteria) + " 1/mL", "--density_low",
            "3e5 1/mL", "--density_high", "1.2e6 1/mL"});
  record({"count", "--of", "May night brew", "--at", "2026-05-15T20:00:00+01:00", "--organism", "bacteria", "--method",
          "plate", "--density", "1e5 1/mL"});
  record({"reading", "--brew", "May night brew", "--at", "2026-05-15T20:00:00+01:00", "--oxygen", "8.9 mg/L"});
  const auto kept = ask({"record", "log", "May night brew", at("log.csv"), "--store", at("record.sqlite")});
  EXPECT_EQ(kept["counts_count"], 3);
  EXPECT_EQ(kept["readings_count"], 1);
  std::ifstream written(at("log.csv"));
  std::string names, first;
  std::getline(written, names), std::getline(written, first);
  EXPECT_EQ(names, "time,oxygen_mg_per_l,temperature_c,bacteria_per_ml,bacteria_error,protozoa_per_ml,protozoa_error");
  EXPECT_NE(first.find(",400000"), std::string::npos) << first;
  EXPECT_NE(first.find(",0.3536"), std::string::npos) << first;  // ln 4 / 3.92
  EXPECT_EQ(kept["left_out_count"], 1);                          // a plate shows only what grows
  const auto learned = ask(
      {"brew", "forecast", std::string(BARM_HOUSE) + "/examples/allotment_bucket.toml", "--readings", at("log.csv")});
  EXPECT_EQ(learned["readings_used_count"], 4);
  // The usual start has several times as many; what was counted pulls it down.
  const auto usual = ask({"brew", "forecast", std::string(BARM_HOUSE) + "/examples/allotment_bucket.toml"});
  const auto at_hours = [](const nlohmann::json& json, std::size_t place) {
    return json["bacteria_per_ml"]["p50"][place].get<double>();
  };
  EXPECT_LT(at_hours(learned, 4), 0.8 * at_hours(usual, 4));
}

// By hand: limits a factor 1.25 about each are ln 1.5625/3.92 = 0.11385 of it; of 100 and 300 together, 36.0/400.
TEST_F(Counts, of_two_kinds_on_one_slide_carry_the_error_of_both) {
  for (const auto& [organism, low, middle, high] :
       {std::tuple{"flagellates", "80", "100", "125"}, {"amoebae", "240", "300", "375"}})
    record({"count", "--of", "May night brew", "--at", "2026-05-15T20:00:00+01:00", "--organism", organism, "--method",
            "microscope", "--density", std::string(middle) + " 1/mL", "--density_low", std::string(low) + " 1/mL",
            "--density_high", std::string(high) + " 1/mL"});
  ask({"record", "log", "May night brew", at("log.csv"), "--store", at("record.sqlite")});
  std::ifstream written(at("log.csv"));
  std::string names, first;
  std::getline(written, names), std::getline(written, first);
  EXPECT_NE(first.find(",400,0.0900"), std::string::npos) << first;
}

TEST_F(Counts, a_lot_of_no_known_kind_or_name_is_refused) {
  const Words store = {"--store", at("record.sqlite")};
  const auto ask_wrong = [&](Words words) {
    words.insert(words.end(), store.begin(), store.end());
    const auto outcome = run(words, world_);
    EXPECT_EQ(outcome.status, wrong_input);
    return outcome.errors;
  };
  EXPECT_NE(ask_wrong({"compost", "lot", "Spring heap", "--kind", "fungle"}).find("fungal"), std::string::npos);
  EXPECT_NE(ask_wrong({"compost", "lot", "Sprung heap"}).find("Spring heap"), std::string::npos);
}

TEST_F(Counts, nothing_counted_is_said) {
  const auto outcome = run({"record", "log", "May night brew", at("log.csv"), "--store", at("record.sqlite")}, world_);
  EXPECT_EQ(outcome.status, wrong_input);
  EXPECT_NE(outcome.errors.find("May night brew"), std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(at("log.csv")));
}

}  // namespace
}  // namespace barm::cli
