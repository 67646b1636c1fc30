#include "cards/voice.h"

#include <gtest/gtest.h>

#include "cards/example_plan.h"

namespace barm::cards {
namespace {

class Spoken : public testing::Test {
 protected:
  const Catalogue catalogue = test::example_catalogue();
  const std::int64_t start_at = test::example_plan().ask.start_at;
  const Voice english{catalogue, {"America/Bogota", Language::english, {}, start_at}};
  const Voice spanish{catalogue, {"America/Bogota", Language::spanish, {}, start_at}};
};

}  // namespace

TEST_F(Spoken, odds_are_told_as_people_count_them) {
  EXPECT_EQ(english.odds(0.34), "34 of 100");
  EXPECT_EQ(spanish.odds(0.34), "34 de cada 100");
  EXPECT_EQ(english.odds(0.004), "fewer than 1 of 100");
  EXPECT_EQ(english.odds(0.996), "more than 99 of 100");
}

TEST_F(Spoken, no_number_of_brews_makes_a_thing_certain) {
  EXPECT_EQ(english.odds(0.0), "fewer than 1 of 100");
  EXPECT_EQ(english.odds(1.0), "more than 99 of 100");
}

TEST_F(Spoken, what_is_not_known_is_said_in_words) {
  EXPECT_EQ(english.odds(unset), "unknown");
  EXPECT_EQ(english.odds(1.2), "unknown");
  EXPECT_EQ(english.clock(unset), "time unknown");
  EXPECT_EQ(english.clock(1e300), "time unknown");
  EXPECT_EQ(english.from_start(unset), "unknown");
  EXPECT_EQ(english.amount(unset, Dimension::volume), "unknown");
  EXPECT_EQ(spanish.many(unset), "no se sabe");
}

TEST_F(Spoken, hours_are_told_on_the_gardens_clock) {
  EXPECT_EQ(english.clock(0.0), "Fri 21:00");
  EXPECT_EQ(english.clock(7.0 + 10.0 / 60.0), "Sat 04:10");
  EXPECT_EQ(spanish.clock(-24.0), "jue 21:00");
}

TEST_F(Spoken, the_lead_says_before_and_after) {
  EXPECT_EQ(english.from_start(0.0), "hour 0");
  EXPECT_EQ(english.from_start(-24.0), "−24 h");
  EXPECT_EQ(english.from_start(9.0), "+9 h");
  EXPECT_EQ(english.from_start(-0.5), "−30 min");
}

TEST_F(Spoken, a_time_since_air_on_can_be_told_on_the_clock_and_a_food_in_spanish) {
  const Catalogue words = Catalogue::read({R"(
["example.lowest"]
kind = "note"
en = "{food}: lowest {after} in, at {after_clock}"
es = "{food}: lo más bajo a las {after}, {after_clock}"
)"});
  const Remark remark{
      "example.lowest", {}, {{"food", "kelp"}, {"food_es", "alga"}, {"after", Quantity{9.0, Dimension::duration}}}};
  const Voice::About about{"America/Bogota", Language::english, {}, start_at};
  EXPECT_EQ(Voice(words, about).say(remark), "kelp: lowest 9 h in, at Sat 06:00");
  EXPECT_EQ(Voice(words, {"America/Bogota", Language::spanish, {}, start_at}).say(remark),
            "alga: lo más bajo a las 9 h, sáb 06:00");
}

TEST_F(Spoken, a_short_while_is_told_in_minutes) {
  EXPECT_EQ(english.lasting(4.0 / 60.0), "4 min");
  EXPECT_EQ(english.lasting(2.0), "2 h");
}

TEST_F(Spoken, large_counts_are_told_in_words) {
  EXPECT_EQ(english.many(2.1e9), "2.1 billion");
  EXPECT_EQ(spanish.many(2.1e9), "2.1 mil millones");
  EXPECT_EQ(spanish.many(1.0e9), "mil millones");
  EXPECT_EQ(english.many(4.0e6), "4 million");
}

}  // namespace barm::cards
