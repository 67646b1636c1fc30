#include "operations/document.h"

#include <gtest/gtest.h>

namespace barm::operations {
namespace {

TEST(Document, a_plan_file_keeps_the_line_of_each_key) {
  const auto read =
      read_toml("[water]\nvolume = \"19 L\"\n\n[[food]]\nname = \"kelp meal\"\n[[food]]\n  name = \"humic acid\"\n");
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(*find(read->tree, "water.volume"), "19 L");
  EXPECT_EQ(*find(read->tree, "food[2].name"), "humic acid");
  EXPECT_EQ(read->places.at("water.volume").line, 2);
  EXPECT_EQ(read->places.at("food[2].name").line, 7);
  EXPECT_EQ(read->places.at("food[2].name").column, 3);
  EXPECT_EQ(find(read->tree, "food[3].name"), nullptr);
}

TEST(Document, a_native_date_reads_as_its_text) {
  const auto read = read_toml("a = 2026-05-02T18:00:00-05:00\nb = 2026-05-02\n");
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(*find(read->tree, "a"), "2026-05-02T18:00:00-05:00");
  EXPECT_EQ(*find(read->tree, "b"), "2026-05-02");
}

TEST(Document, broken_or_repeated_keys_are_refused_with_their_line) {
  const auto broken = read_toml("[water]\nvolume = 19 L\n");
  ASSERT_FALSE(broken.ok());
  EXPECT_EQ(broken.refusals()[0].code, "operations.document.not_toml");
  EXPECT_EQ(std::get<std::string>(broken.refusals()[0].facts.at("line")), "2");
  EXPECT_FALSE(read_toml("a = 1\na = 2\n").ok());
  EXPECT_EQ(read_json(R"({"a": {"b": 1, "b": 2}})").refusals()[0].code, "operations.document.repeated");
  for (const char* text : {"", "[]", "{", "{\"a\": }", "{} {}"}) EXPECT_FALSE(read_json(text).ok()) << text;
}

TEST(Document, json_and_toml_give_the_same_tree) {
  const auto json = read_json(R"({"water": {"volume": "19 L", "salinity": 0}, "food": [{"name": "kelp meal"}]})");
  const auto toml = read_toml("[water]\nvolume = \"19 L\"\nsalinity = 0\n[[food]]\nname = \"kelp meal\"\n");
  ASSERT_TRUE(json.ok() && toml.ok());
  EXPECT_EQ(nlohmann::json(json->tree), nlohmann::json(toml->tree));
}

TEST(Document, nesting_beyond_reason_is_refused) {
  EXPECT_FALSE(read_json(std::string(100'000, '[')).ok());
}

TEST(Document, a_value_is_put_over_another_and_loses_its_line) {
  auto read = read_toml("[[food]]\namount = \"1 tsp\"\n");
  ASSERT_TRUE(read.ok());
  EXPECT_TRUE(put(read.value(), "food[1].amount", "2 tsp").ok());
  EXPECT_EQ(*find(read->tree, "food[1].amount"), "2 tsp");
  EXPECT_FALSE(read->places.contains("food[1].amount"));
  EXPECT_TRUE(put(read.value(), "water.volume", "19 L").ok());
  EXPECT_FALSE(put(read.value(), "food[2].amount", "2 tsp").ok());
  EXPECT_FALSE(put(read.value(), "water.volume.deep", "2 tsp").ok());
}

}  // namespace
}  // namespace barm::operations
