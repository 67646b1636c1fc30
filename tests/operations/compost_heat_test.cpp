// How a log of pile temperatures is told.
#include "operations/asking.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

Result asked(cards::Language language, int hours_count = 20, const std::string& rest = "") {
  std::string log = "time_h,temperature_c\n";
  for (int hour = 0; hour < hours_count; ++hour) log += std::to_string(hour) + (hour == 1 ? ",150\n" : ",56\n");
  const std::string ask = "log = \"heat.csv\"\nmethod = \"windrow\"\n" + rest;
  Request request{.document = document(ask.c_str()), .language = language};
  return compost_heat().ask(request, world_with({{"heat.csv", log}}));
}

TEST(HeatTold, a_log_that_names_no_place_is_of_the_pile_in_each_language) {
  const Result english = asked(cards::Language::english), spanish = asked(cards::Language::spanish);
  ASSERT_TRUE(english.ok());
  EXPECT_NE(english.text.find("of heat at pile."), std::string::npos) << english.text;
  EXPECT_NE(spanish.text.find("de calor en pila."), std::string::npos) << spanish.text;
  EXPECT_NE(spanish.text.find("\n  pila: "), std::string::npos) << spanish.text;
  EXPECT_EQ(to_json(english)["coldest_position"], "pile");
  EXPECT_EQ(to_json(spanish)["coldest_position"], "pile");  // a key for programs, not a word
  ASSERT_FALSE(spanish.doubts.empty());
  EXPECT_EQ(spanish.voice.say(spanish.doubts.front()).rfind("pila: lecturas", 0), 0u);
}

// 7 CFR 205.203(c)(2) takes a C:N of 25:1 to 40:1 at the start; no further heat mends another.
TEST(HeatTold, a_mix_outside_the_rule_is_named_instead_of_hours_that_would_not_do) {
  for (const int hours_count : {20, 30 * 24}) {
    const Result asked_organic = asked(cards::Language::english, hours_count, "rule = \"organic\"\ninitial_cn = 12");
    EXPECT_NE(asked_organic.text.find("the C:N at the start was outside"), std::string::npos) << asked_organic.text;
    EXPECT_EQ(asked_organic.text.find("owed of heat"), std::string::npos) << asked_organic.text;
    const Result asked_produce = asked(cards::Language::english, hours_count, "rule = \"produce\"\ninitial_cn = 12");
    EXPECT_NE(asked_produce.text.find(": not met, the C:N at the start was outside"), std::string::npos)
        << asked_produce.text;
  }
}

}  // namespace
}  // namespace barm::operations
