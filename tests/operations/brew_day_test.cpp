// Where a brew of the record stands, worked through on one night in an invented garden.
#include "operations/brew_day.h"

#include <cmath>
#include <filesystem>

#include "data/embedded.h"
#include "operations/asking.h"
#include "operations/registry.h"
#include "support/temporary_folder.h"

namespace barm::operations {
namespace {

constexpr const char* plan_toml = R"(
brew.start = 2026-05-02T18:00:00Z
brew.length = "18 h"
brew.members = 64
garden.zone = "UTC"
garden.latitude = 4.7
garden.longitude = -74.1
water.volume = "19 L"
water.temperature = "20 degC"
water.free_chlorine = "0 mg/L"
vessel.diameter = "28 cm"
air.rated_flow = "2200 L/h"
compost = [{kind = "mixed", mass = "700 g"}]
)";

/// A record with one garden, one vessel and a brew whose air went on at 19:00.
class BrewDayOf : public testing::Test {
 protected:
  BrewDayOf() : world_(world_with()) {
    world_.chance = [this] {
      std::array<std::uint8_t, 10> chance{};
      chance[9] = next_++;
      return chance;
    };
    add("garden", {{"name", "Fern yard"}, {"zone", "UTC"}});
    add("vessel", {{"name", "Bucket"}, {"garden", "Fern yard"}, {"volume", "19 L"}});
  }

  void add(const std::string& kind, Json fields) {
    fields["store"] = folder_.file("r.sqlite");
    const auto result = asked("record", "add_" + kind, fields);
    EXPECT_TRUE(result.ok()) << to_json(result).dump();
  }
  void brew(const std::string& plan, const char* off = nullptr) {
    Json fields = {{"name", "Night"},  {"garden", "Fern yard"}, {"vessel", "Bucket"},
                   {"volume", "19 L"}, {"plan", plan},          {"air_on_at", "2026-05-02T19:00:00Z"}};
    if (off != nullptr) fields["air_off_at"] = off;
    add("brew", fields);
  }
  void lot(const char* name) {
    add("compost_lot", {{"garden", "Fern yard"},
                        {"name", name},
                        {"origin", "made_here"},
                        {"animal_origin", "none"},
                        {"method", "windrow"},
                        {"mass", "50 kg"}});
  }
  std::string plan() const { return document(plan_toml).tree.dump(); }
  Result asked(const std::string& noun, const std::string& verb, const Json& fields) {
    for (const auto& operation : all_operations()) {
      if (operation.noun == noun && operation.verb == verb) return operation.ask({.document = {fields, {}}}, world_);
    }
    throw BrokenPromise("no such operation");
  }
  Json day(const char* at) {
    const auto result = asked("brew", "day", {{"brew", "Night"}, {"at", at}, {"store", folder_.file("r.sqlite")}});
    EXPECT_TRUE(result.ok()) << to_json(result).dump();
    return to_json(result);
  }

  World world_;
  test::TemporaryFolder folder_;
  std::uint8_t next_ = 1;
};

TEST_F(BrewDayOf, steps_stand_on_the_clock_of_the_air_not_of_the_plan) {
  brew(plan());
  const Json told = day("2026-05-02T20:00:00Z");
  EXPECT_EQ(told["elapsed_h"], 1.0);
  bool seen = false;
  for (const auto& step : told["steps"]) {
    if (step["code"] == "recipe.step.air_on") {
      EXPECT_EQ(step["at"], "2026-05-02T19:00:00+00:00");
      EXPECT_EQ(step["is_past"], true);
      seen = true;
    }
  }
  EXPECT_TRUE(seen);
  ASSERT_EQ(told["next_step"].size(), 1u);
  EXPECT_EQ(told["next_step"][0]["code"], "recipe.step.first_look");  // two hours in
  EXPECT_EQ(told["next_step"][0]["at"], "2026-05-02T21:00:00+00:00");
  EXPECT_EQ(told["forecast"].size(), 1u);
}

TEST_F(BrewDayOf, before_the_air_goes_on_the_water_comes_first) {
  brew(plan());
  const Json told = day("2026-05-02T17:00:00Z");
  EXPECT_EQ(told["elapsed_h"], -2.0);
  EXPECT_EQ(told["next_step"][0]["code"], "recipe.step.test_strip");
}

TEST_F(BrewDayOf, the_last_reading_lies_by_the_band_as_promised) {
  brew(plan());
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"oxygen", "3 mg/L"}, {"ph", "6.5"}});
  const Json early = day("2026-05-02T20:30:00Z");
  EXPECT_TRUE(early["last_reading"].empty());  // not taken yet
  const Json told = day("2026-05-02T22:00:00Z");
  ASSERT_EQ(told["last_reading"].size(), 1u);
  const Json& last = told["last_reading"][0];
  EXPECT_EQ(last["place"], "under");
  EXPECT_LT(last["promised_p05_mg_per_l"], last["promised_p95_mg_per_l"]);
  EXPECT_GT(last["promised_p05_mg_per_l"], 3.0);
  EXPECT_EQ(told["forecast"][0]["readings"].size(), 1u);
}

TEST_F(BrewDayOf, the_newest_value_of_each_quantity_counts) {
  brew(plan());
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"oxygen", "8 mg/L"}});
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T20:00:00Z"}, {"oxygen", "7 mg/L"}, {"ph", "6.5"}});
  const Json told = day("2026-05-02T22:00:00Z");
  EXPECT_EQ(told["last_reading"][0]["oxygen_mg_per_l"], 8.0);
  EXPECT_EQ(told["last_reading"][0]["ph"], 6.5);
  EXPECT_EQ(told["readings_count"], 2);
}

TEST_F(BrewDayOf, the_verdict_follows_nose_and_meter) {
  brew(plan());
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "restricted");
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"oxygen", "8.6 mg/L"}});
  add("observation", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"smell", "earthy"}});
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "fit");
  add("observation", {{"brew", "Night"}, {"at", "2026-05-02T21:30:00Z"}, {"smell", "rotten"}});
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "unfit");
}

TEST_F(BrewDayOf, a_reading_the_forecast_doubts_is_no_verdict) {
  brew(plan());
  add("observation", {{"brew", "Night"}, {"at", "2026-05-02T20:00:00Z"}, {"smell", "earthy"}});
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T20:00:00Z"}, {"oxygen", "8.6 mg/L"}});
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T20:30:00Z"}, {"oxygen", "0.1 mg/L"}});
  const Json doubted = day("2026-05-02T20:40:00Z");
  ASSERT_EQ(doubted["forecast"][0]["readings"][1]["fate"], "out_of_line");
  EXPECT_EQ(doubted["fitness"]["verdict"], "restricted");
  EXPECT_EQ(doubted["fitness"]["reasons"][0]["code"], "recipe.fitness.reading_doubted");
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T20:45:00Z"}, {"oxygen", "8.6 mg/L"}});
  EXPECT_EQ(day("2026-05-02T20:50:00Z")["fitness"]["verdict"], "fit");
}

TEST_F(BrewDayOf, a_brew_that_stood_without_air_for_a_day_is_unfit) {
  brew(plan(), "2026-05-03T13:00:00Z");
  add("reading", {{"brew", "Night"}, {"at", "2026-05-03T12:50:00Z"}, {"oxygen", "8.6 mg/L"}});
  add("observation", {{"brew", "Night"}, {"at", "2026-05-03T12:50:00Z"}, {"smell", "earthy"}});
  EXPECT_EQ(day("2026-05-03T12:55:00Z")["fitness"]["verdict"], "fit");
  EXPECT_EQ(day("2026-05-04T14:00:00Z")["fitness"]["verdict"], "unfit");
  EXPECT_EQ(day("2026-08-04T14:00:00Z")["fitness"]["verdict"], "unfit");  // months later it can still be asked
}

TEST_F(BrewDayOf, without_a_plan_the_rest_is_told_with_a_doubt) {
  add("brew", {{"name", "Night"},
               {"garden", "Fern yard"},
               {"vessel", "Bucket"},
               {"volume", "19 L"},
               {"air_on_at", "2026-05-02T19:00:00Z"}});
  const Json told = day("2026-05-02T22:00:00Z");
  EXPECT_TRUE(told["forecast"].empty());
  EXPECT_TRUE(told["steps"].empty());
  EXPECT_EQ(told["doubts"][0]["code"], "records.brew.no_plan");
}

TEST_F(BrewDayOf, a_plan_that_cannot_be_worked_out_is_doubted) {
  brew(R"({"water":{"volume":"a bucket"}})");
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["doubts"][0]["code"], "records.brew.plan_unusable");
}

TEST_F(BrewDayOf, a_plan_of_the_record_reads_no_file) {
  Json tree = document(plan_toml).tree;
  tree["readings"] = "/etc/passwd";
  tree["card"] = folder_.file("card.pdf");
  brew(tree.dump());
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["forecast"].size(), 1u);
  EXPECT_FALSE(std::filesystem::exists(folder_.file("card.pdf")));
}

/// A quantile of the forecast of bacteria some hours after air on [1/mL].
double bacteria(const Json& told, const char* quantile, double at_h) {
  const Json& forecast = told["forecast"][0];
  std::size_t i = 0;
  while (forecast["time_h"][i].get<double>() < at_h) ++i;
  return forecast["bacteria_per_ml"][quantile][i].get<double>();
}
double width(const Json& told, double at_h) {
  return std::log(bacteria(told, "p95", at_h) / bacteria(told, "p05", at_h));
}

TEST_F(BrewDayOf, a_low_count_lowers_and_narrows_the_bacteria_to_come) {
  brew(plan());
  const Json before = day("2026-05-02T23:00:00Z");
  add("count", {{"of", "Night"},
                {"at", "2026-05-02T22:00:00Z"},
                {"organism", "bacteria"},
                {"method", "microscope"},
                {"density", "5e6 1/mL"},
                {"density_low", "4e6 1/mL"},
                {"density_high", "6.25e6 1/mL"}});
  EXPECT_EQ(day("2026-05-02T21:59:00Z")["counts_count"], 0);  // not taken yet
  const Json told = day("2026-05-02T23:00:00Z");
  EXPECT_EQ(told["counts_count"], 1);
  ASSERT_EQ(told["forecast"][0]["readings"].size(), 1u);
  EXPECT_EQ(told["forecast"][0]["readings"][0]["fate"], "used");
  EXPECT_LT(width(told, 3.0), 0.9 * width(before, 3.0));
  EXPECT_LT(bacteria(told, "p50", 3.0), 0.9 * bacteria(before, "p50", 3.0));
}

TEST_F(BrewDayOf, flagellates_and_amoebae_of_one_slide_are_one_reading) {
  brew(plan());
  for (const auto& [organism, density] : {std::pair{"flagellates", "100 1/mL"}, {"amoebae", "300 1/mL"}})
    add("count", {{"of", "Night"},
                  {"at", "2026-05-02T22:00:00Z"},
                  {"organism", organism},
                  {"method", "microscope"},
                  {"density", density}});
  const Json told = day("2026-05-02T23:00:00Z");
  EXPECT_EQ(told["counts_count"], 2);
  ASSERT_EQ(told["forecast"][0]["readings"].size(), 1u);
  EXPECT_EQ(told["forecast"][0]["readings"][0]["what"], "protozoa");
  EXPECT_EQ(told["forecast"][0]["readings"][0]["value"], 400.0);
}

TEST_F(BrewDayOf, what_grows_on_a_plate_teaches_the_forecast_nothing) {
  brew(plan());
  add("count", {{"of", "Night"},
                {"at", "2026-05-02T22:00:00Z"},
                {"organism", "bacteria"},
                {"method", "plate"},
                {"density", "5e6 1/mL"}});
  const Json told = day("2026-05-02T23:00:00Z");
  EXPECT_EQ(told["counts_count"], 0);
  EXPECT_TRUE(told["forecast"][0]["readings"].empty());
}

TEST_F(BrewDayOf, the_count_of_its_lot_sets_the_start) {
  lot("Heap");
  brew(plan());
  add("mix", {{"into", "Night"}, {"part", "Heap"}, {"at", "2026-05-02T19:00:00Z"}, {"mass", "700 g"}});
  const Json before = day("2026-05-02T20:00:00Z");
  EXPECT_TRUE(before["start_bacteria_per_g"].is_null());
  add("count", {{"of", "Heap"},
                {"at", "2026-05-02T17:00:00Z"},
                {"organism", "bacteria"},
                {"method", "microscope"},
                {"per_g", "3e8"},
                {"density_low", "0.9 1/mL"},
                {"density_high", "1.1 1/mL"}});
  const Json told = day("2026-05-02T20:00:00Z");
  EXPECT_EQ(told["start_bacteria_per_g"], 3e8);
  EXPECT_LT(width(told, 0.5), 0.9 * width(before, 0.5));
  EXPECT_LT(bacteria(told, "p50", 0.5), 0.9 * bacteria(before, "p50", 0.5));

  EXPECT_TRUE(day("2026-05-02T16:59:00Z")["start_bacteria_per_g"].is_null()) << "not counted yet";

  // Of two lots nobody can tell which one the plan means.
  lot("Bin");
  add("mix", {{"into", "Night"}, {"part", "Bin"}, {"at", "2026-05-02T19:00:00Z"}, {"mass", "10 g"}});
  const Json doubted = day("2026-05-02T20:00:00Z");
  EXPECT_TRUE(doubted["start_bacteria_per_g"].is_null());
  EXPECT_EQ(doubted["doubts"][0]["code"], "records.brew.which_lot");
}

bool leads(const Json& told) {
  const Json& reasons = told["fitness"]["reasons"];
  return std::any_of(reasons.begin(), reasons.end(),
                     [](const Json& one) { return one["code"] == "recipe.fitness.ciliates_lead"; });
}

TEST_F(BrewDayOf, a_count_the_plan_names_goes_before_that_of_its_lot) {
  lot("Heap");
  auto tree = document(plan_toml).tree;
  tree["compost"][0]["bacteria"] = "4e9";
  brew(tree.dump());
  add("mix", {{"into", "Night"}, {"part", "Heap"}, {"at", "2026-05-02T19:00:00Z"}, {"mass", "700 g"}});
  const Json before = day("2026-05-02T20:00:00Z");
  add("count", {{"of", "Heap"},
                {"at", "2026-05-02T17:00:00Z"},
                {"organism", "bacteria"},
                {"method", "microscope"},
                {"per_g", "3e8"}});
  const Json told = day("2026-05-02T20:00:00Z");
  EXPECT_TRUE(told["start_bacteria_per_g"].is_null());
  EXPECT_EQ(told["forecast"], before["forecast"]);
}

TEST_F(BrewDayOf, a_slide_without_flagellates_tells_that_ciliates_lead) {
  brew(plan());
  add("count", {{"of", "Night"},
                {"at", "2026-05-02T21:10:00Z"},
                {"organism", "flagellates"},
                {"method", "microscope"},
                {"result", "not_found"}});
  add("count", {{"of", "Night"},
                {"at", "2026-05-02T21:10:00Z"},
                {"organism", "ciliates"},
                {"method", "microscope"},
                {"density", "10 1/mL"}});
  EXPECT_TRUE(leads(day("2026-05-02T22:00:00Z")));
}

TEST_F(BrewDayOf, the_verdict_hears_the_laboratory_and_the_slide) {
  brew(plan());
  add("reading", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"oxygen", "8.6 mg/L"}});
  add("observation", {{"brew", "Night"}, {"at", "2026-05-02T21:00:00Z"}, {"smell", "earthy"}});
  const auto count = [&](const char* what, const char* method, const char* density) {
    add("count", {{"of", "Night"},
                  {"at", "2026-05-02T21:10:00Z"},
                  {"organism", what},
                  {"method", method},
                  {"density", density}});
  };
  count("e_coli", "laboratory", "1260 1/L");  // S38: 126 per 100 mL
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "fit");
  count("e_coli", "laboratory", "1270 1/L");
  const Json over = day("2026-05-02T22:00:00Z");
  EXPECT_EQ(over["fitness"]["verdict"], "restricted");
  EXPECT_EQ(over["fitness"]["reasons"][0]["code"], "recipe.fitness.e_coli_over");
  count("e_coli", "laboratory", "10 1/L");  // the highest of them stays
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "restricted");
  count("ciliates", "microscope", "500 1/mL");
  count("flagellates", "microscope", "300 1/mL");
  EXPECT_TRUE(leads(day("2026-05-02T22:00:00Z")));
  count("amoebae", "microscope", "200 1/mL");
  EXPECT_FALSE(leads(day("2026-05-02T22:00:00Z")));
  add("count", {{"of", "Night"},
                {"at", "2026-05-02T21:30:00Z"},
                {"organism", "salmonella"},
                {"method", "laboratory"},
                {"result", "found"}});
  EXPECT_EQ(day("2026-05-02T22:00:00Z")["fitness"]["verdict"], "unfit");
}

TEST_F(BrewDayOf, an_unknown_brew_is_refused_by_its_field) {
  const auto result = asked("brew", "day", {{"brew", "Nobody"}, {"store", folder_.file("r.sqlite")}});
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.refusals.front().field, "brew");
}

}  // namespace
}  // namespace barm::operations
