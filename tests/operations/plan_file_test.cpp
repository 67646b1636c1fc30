// A plan written to a file is a plan a person can read, and asks for the very brew it came from.
#include "operations/plan_file.h"

#include <regex>

#include "asking.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

constexpr const char* bucket = R"(
[brew]
name = "Quince Row"
start = 2026-05-15T18:30:00+01:00
aim = "balanced"
length = "18 h"
members = 64
[garden]
zone = "Europe/London"
latitude = 52.2
longitude = -1.5
altitude = "295 ft"
[water]
volume = "5 US gal"
temperature = "66 degF"
[vessel]
diameter = "11 in"
[air]
rated_flow = "570 US gal/h"
maximum_pressure = "25 kPa"
diffuser = "stone"
[[compost]]
kind = "mixed"
mass = "1.75 lb"
[[food]]
name = "blackstrap molasses"
amount = "2 tsp"
[[food]]
name = "kelp meal"
amount = "2 tsp"
[[food]]
name = "oat flour"
amount = "3 g"
)";

Json ask(const Operation& operation, Document with, const std::string& path = {}, const std::string& value = {}) {
  if (!path.empty() && !put(with, path, value).ok()) throw BrokenPromise("a path that can be put");
  const auto result = operation.ask({.document = std::move(with)}, world_with());
  EXPECT_TRUE(result.ok()) << to_json(result).dump();
  return result.ok() ? *result.answer : Json::object();
}

/// More digits than any number in a plan is meant to have.
bool has_long_number(const std::string& plan) {
  return std::regex_search(plan, std::regex("[0-9.]{12,}"));
}

TEST(PlanFile, a_scaled_plan_is_readable_and_repeats_what_was_promised) {
  for (const char* volume : {"7.3 L", "200 L"}) {
    const Json scaled = ask(recipe_scale(), document(bucket), "scale.volume", volume);
    const std::string text = scaled["plan"];
    EXPECT_FALSE(has_long_number(text)) << text;
    const Json again = ask(brew_plan(), document(text.c_str()));
    EXPECT_EQ(again["probability_oxygen_stays_above_6"], scaled["proposed"]["probability_oxygen_stays_above_6"]);
    EXPECT_NEAR(again["oxygen_minimum_mg_per_l"]["p05"].get<double>(),
                scaled["proposed"]["oxygen_low_mg_per_l"].get<double>(), 1e-6)
        << volume;
    ASSERT_EQ(again["amounts"].size(), scaled["proposed"]["amounts"].size());
    for (std::size_t i = 0; i < again["amounts"].size(); ++i) {
      EXPECT_EQ(again["amounts"][i]["text"], scaled["proposed"]["amounts"][i]["text"]) << volume;
      EXPECT_EQ(again["amounts"][i]["rounded"], scaled["proposed"]["amounts"][i]["rounded"]) << volume;
    }
  }
}

TEST(PlanFile, a_plan_with_a_substitute_is_readable_and_repeats_what_was_promised) {
  const Json put_in = ask(recipe_substitute(), document(bucket), "instead_of", "kelp meal");
  for (const Json& one : put_in["candidates"]) {
    const std::string text = one["plan"];
    EXPECT_FALSE(has_long_number(text)) << text;
    const Json again = ask(brew_plan(), document(text.c_str()));
    EXPECT_NEAR(again["oxygen_minimum_mg_per_l"]["p05"].get<double>(),
                one["coming"]["oxygen_low_mg_per_l"].get<double>(), 1e-6)
        << text;
    EXPECT_EQ(again["probability_oxygen_stays_above_6"], one["coming"]["probability_oxygen_stays_above_6"]);
    for (const Json& line : again["amounts"]) {
      if (line["id"] == one["amounts"][0]["id"]) {
        EXPECT_EQ(line["text"], one["amounts"][0]["text"]);
      }
    }
  }
}

TEST(PlanFile, a_food_says_the_spoons_it_is_measured_with) {
  const std::string text = ask(recipe_scale(), document(bucket))["plan"];
  EXPECT_NE(text.find("amount = \"9.85784 mL\"  # 2 tsp"), std::string::npos) << text;
}

}  // namespace
}  // namespace barm::operations
