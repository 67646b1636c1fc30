// How a log of pile temperatures is told.
#include "operations/asking.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

Result asked(cards::Language language) {
  std::string log = "time_h,temperature_c\n";
  for (int hour = 0; hour < 20; ++hour) log += std::to_string(hour) + (hour == 1 ? ",150\n" : ",56\n");
  Request request{.document = document("log = \"heat.csv\"\nmethod = \"windrow\""), .language = language};
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

}  // namespace
}  // namespace barm::operations
