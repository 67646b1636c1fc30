// A first verdict: both sides of every line, every reason, and what must hold for any brew. The lines themselves are
// the trade's and ours, as docs/recipe/fitness.md says of each; no outside table gives whole verdicts.
#include "recipe/fitness.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace barm::recipe {
namespace {

/// A brew that nothing speaks against.
Seen good() {
  return {.brewed_h = 20.0, .oxygen_mg_per_l = 7.0, .reading_age_h = 0.5, .smell = Smell::earthy};
}
Judged judged(const Seen& seen) {
  const auto answer = judge_fitness(seen);
  EXPECT_TRUE(answer.ok());
  return answer.ok() ? *answer : Judged{};
}
bool says(const Judged& of, const std::string& code) {
  return std::any_of(of.reasons.begin(), of.reasons.end(), [&](const Reason& one) { return one.what.code == code; });
}

TEST(Fitness, what_nothing_speaks_against_is_fit) {
  EXPECT_EQ(judged(good()).fitness, Fitness::fit);
}

TEST(Fitness, nothing_known_is_restricted_and_says_why) {
  const auto of = judged({});
  EXPECT_EQ(of.fitness, Fitness::restricted);
  EXPECT_TRUE(says(of, "recipe.fitness.smell_not_told"));
  EXPECT_TRUE(says(of, "recipe.fitness.oxygen_not_read"));
}

struct Line {
  const char* name;
  void (*set)(Seen&, double);
  double inside, outside;  // of the line, as near as it matters
  Fitness outside_is;
  const char* code;
};

void expect_two_sides(const Line& line) {
  Seen inside = good(), outside = good();
  line.set(inside, line.inside);
  line.set(outside, line.outside);
  EXPECT_FALSE(says(judged(inside), line.code)) << line.name;
  EXPECT_TRUE(says(judged(outside), line.code)) << line.name;
  EXPECT_EQ(judged(outside).fitness, line.outside_is) << line.name;
}

TEST(Fitness, each_line_has_two_sides) {
  const Line lines[] = {
      {"oxygen 2", [](Seen& s, double v) { s.oxygen_lowest_mg_per_l = v; }, 2.0, 1.99, Fitness::unfit,
       "recipe.fitness.oxygen_low"},
      {"oxygen 6", [](Seen& s, double v) { s.oxygen_lowest_mg_per_l = v; }, 6.0, 5.99, Fitness::restricted,
       "recipe.fitness.oxygen_under_margin"},
      {"last reading", [](Seen& s, double v) { s.oxygen_mg_per_l = v; }, 6.0, 1.9, Fitness::unfit,
       "recipe.fitness.oxygen_low"},
      {"age", [](Seen& s, double v) { s.reading_age_h = v; }, 6.0, 6.01, Fitness::restricted,
       "recipe.fitness.reading_old"},
      {"odds", [](Seen& s, double v) { s.probability_below_2 = v; }, 0.10, 0.11, Fitness::restricted,
       "recipe.fitness.may_have_dipped"},
      {"length", [](Seen& s, double v) { s.brewed_h = v; }, 24.0, 24.01, Fitness::restricted,
       "recipe.fitness.brewed_long"},
      {"stood", [](Seen& s, double v) { s.air_off_h = v; }, 4.0, 4.01, Fitness::restricted, "recipe.fitness.stood"},
      {"stood a day", [](Seen& s, double v) { s.air_off_h = v; }, 4.0, 24.01, Fitness::unfit,
       "recipe.fitness.stood_too_long"},
      {"flat",
       [](Seen& s, double v) {
         s.flat_after_soon_h = 0.2;
         s.flat_after_h = 0.5;
         s.air_off_h = v;
       },
       0.19, 0.5, Fitness::unfit, "recipe.fitness.gone_flat"},
      {"may be flat",
       [](Seen& s, double v) {
         s.flat_after_soon_h = 0.2;
         s.flat_after_h = 0.5;
         s.air_off_h = v;
       },
       0.19, 0.2, Fitness::restricted, "recipe.fitness.may_be_flat"},
      {"ph low", [](Seen& s, double v) { s.ph = v; }, 5.5, 5.49, Fitness::restricted, "recipe.fitness.ph_low"},
      {"ph high", [](Seen& s, double v) { s.ph = v; }, 8.5, 8.51, Fitness::restricted, "recipe.fitness.ph_high"},
      {"salt", [](Seen& s, double v) { s.conductivity_ms_per_cm = v; }, 2.0, 2.01, Fitness::restricted,
       "recipe.fitness.salty"},
  };
  for (const Line& line : lines) expect_two_sides(line);
}

/// Both sides of each line of a count; M02: 7.48 log10 cells per mL, told rounded as 3e7.
TEST(Fitness, each_line_of_a_count_has_two_sides) {
  const auto e_coli = [](Seen& s, double v) {
    s.e_coli_per_ml = v;
    s.e_coli_most_per_ml = 1.26;  // S38: 126 per 100 mL
    s.e_coli_rule = "a rule";
  };
  const auto ciliates = [](Seen& s, double v) {
    s.protozoa_per_ml = 1000.0;
    s.ciliates_per_ml = v;
  };
  const Line lines[] = {
      {"E. coli", e_coli, 1.26, 1.27, Fitness::restricted, "recipe.fitness.e_coli_over"},
      {"E. coli at all", e_coli, 0.0, 0.01, Fitness::fit, "recipe.fitness.e_coli_found"},
      {"ciliates", ciliates, 1000.0, 1001.0, Fitness::restricted, "recipe.fitness.ciliates_lead"},
      {"bacteria", [](Seen& s, double v) { s.bacteria_per_ml = v; }, 3e7, 2.99e7, Fitness::fit,
       "recipe.fitness.few_bacteria"},
      {"a germ", [](Seen& s, double v) { s.germ_found = v > 0.0; }, 0.0, 1.0, Fitness::unfit,
       "recipe.fitness.germ_found"},
  };
  for (const Line& line : lines) expect_two_sides(line);
}

TEST(Fitness, more_air_is_no_advice_where_a_count_is_over) {
  Seen seen = good();
  seen.e_coli_per_ml = 1.27;
  seen.e_coli_most_per_ml = 1.26;
  EXPECT_EQ(judged(seen).advice.front().code, "recipe.fitness.use_counted_out");
  seen.smell = Smell::rotten;
  EXPECT_EQ(judged(seen).advice.front().code, "recipe.fitness.use_unfit");
}

TEST(Fitness, ciliates_alone_say_nothing_where_nobody_looked_for_the_others) {
  Seen seen = good();
  seen.ciliates_per_ml = 5000.0;
  EXPECT_FALSE(says(judged(seen), "recipe.fitness.ciliates_lead"));
}

TEST(Fitness, a_nose_overrules_a_meter) {
  const std::pair<Smell, Fitness> smells[] = {
      {Smell::rotten, Fitness::unfit},       {Smell::ammonia, Fitness::unfit},    {Smell::sour, Fitness::unfit},
      {Smell::yeasty, Fitness::restricted},  {Smell::sweet, Fitness::restricted}, {Smell::none, Fitness::fit},
      {Smell::not_told, Fitness::restricted}};
  for (const auto& [smell, fitness] : smells) {
    Seen seen = good();
    seen.smell = smell;
    EXPECT_EQ(judged(seen).fitness, fitness) << static_cast<int>(smell);
  }
}

TEST(Fitness, sweetness_early_is_told_apart_from_sweetness_late) {
  Seen seen = good();
  seen.smell = Smell::sweet;
  EXPECT_TRUE(says(judged(seen), "recipe.fitness.smell_sweet"));
  seen.brewed_h = 11.9;
  EXPECT_TRUE(says(judged(seen), "recipe.fitness.still_sweet"));
}

TEST(Fitness, foam_and_warmth_alone_change_no_verdict) {
  Seen seen = good();
  seen.foam = Foam::overflowing;
  seen.water_temperature_c = 30.0;
  const auto of = judged(seen);
  EXPECT_EQ(of.fitness, Fitness::fit);
  EXPECT_TRUE(says(of, "recipe.fitness.foam_tells_little"));
  EXPECT_TRUE(says(of, "recipe.fitness.warm"));
}

TEST(Fitness, slime_and_film_restrict) {
  for (const Look look : {Look::slime, Look::film}) {
    Seen seen = good();
    seen.look = look;
    EXPECT_EQ(judged(seen).fitness, Fitness::restricted);
  }
}

TEST(Fitness, every_verdict_says_what_it_cannot_show) {
  for (const Seen& seen : {good(), Seen{}, Seen{.smell = Smell::rotten}}) {
    const auto of = judged(seen);
    EXPECT_EQ(of.cautions.front().code, "recipe.fitness.what_it_cannot_show");
    EXPECT_FALSE(of.advice.empty());
  }
}

TEST(Fitness, numbers_no_brew_can_have_are_refused_by_name) {
  const std::pair<const char*, Seen> wrong[] = {{"oxygen", {.oxygen_mg_per_l = -0.1}},
                                                {"oxygen_lowest", {.oxygen_lowest_mg_per_l = 60.1}},
                                                {"brewed", {.brewed_h = -1.0}},
                                                {"air_off", {.air_off_h = looks_back_h + 1.0}},
                                                {"reading_age", {.reading_age_h = -0.1}},
                                                {"flat_after", {.flat_after_h = -0.1}},
                                                {"flat_after_soon", {.flat_after_soon_h = -0.1}},
                                                {"below_2", {.probability_below_2 = 1.1}},
                                                {"ph", {.ph = 14.1}},
                                                {"conductivity", {.conductivity_ms_per_cm = -0.1}},
                                                {"temperature", {.water_temperature_c = 61.0}},
                                                {"bacteria", {.bacteria_per_ml = -1.0}},
                                                {"protozoa", {.protozoa_per_ml = 1.1e13}},
                                                {"ciliates", {.ciliates_per_ml = -1.0}},
                                                {"e_coli", {.e_coli_per_ml = -0.1}}};
  for (const auto& [field, seen] : wrong) {
    const auto answer = judge_fitness(seen);
    ASSERT_FALSE(answer.ok()) << field;
    EXPECT_EQ(answer.refusals().front().field, field);
    EXPECT_EQ(answer.refusals().front().code, "recipe.fitness.outside");
  }
}

RC_GTEST_PROP(FitnessLaw, less_oxygen_never_makes_a_better_brew, ()) {
  Seen seen = good();
  seen.smell = static_cast<Smell>(*rc::gen::inRange(0, 8));
  seen.oxygen_mg_per_l = *rc::gen::inRange(0, 1200) / 100.0;
  const auto before = judged(seen).fitness;
  seen.oxygen_mg_per_l -= *rc::gen::inRange(0, 1 + static_cast<int>(100.0 * seen.oxygen_mg_per_l)) / 100.0;
  RC_ASSERT(judged(seen).fitness >= before);
}

RC_GTEST_PROP(FitnessLaw, a_count_never_makes_a_better_brew, ()) {
  Seen seen = good();
  seen.smell = static_cast<Smell>(*rc::gen::inRange(0, 8));
  seen.oxygen_mg_per_l = *rc::gen::element(unset, 1.0, 4.0, 8.0);
  const auto before = judged(seen).fitness;
  seen.bacteria_per_ml = *rc::gen::element(unset, 0.0, 1e6, 1e9);
  seen.protozoa_per_ml = *rc::gen::element(unset, 0.0, 1e3, 1e5);
  seen.ciliates_per_ml = *rc::gen::element(unset, 0.0, 1e4);
  seen.e_coli_per_ml = *rc::gen::element(unset, 0.0, 1.0, 50.0);
  seen.e_coli_most_per_ml = *rc::gen::element(unset, 1.26);
  seen.germ_found = *rc::gen::arbitrary<bool>();
  RC_ASSERT(judged(seen).fitness >= before);
}

RC_GTEST_PROP(FitnessLaw, longer_without_air_never_makes_a_better_brew, ()) {
  Seen seen = good();
  seen.flat_after_soon_h = *rc::gen::element(unset, 0.1, 1.0);
  seen.flat_after_h = *rc::gen::element(unset, 1.5, 6.0);
  seen.air_off_h = *rc::gen::inRange(0, 3000) / 100.0;
  const auto before = judged(seen).fitness;
  seen.air_off_h += *rc::gen::inRange(0, 3000) / 100.0;
  RC_ASSERT(judged(seen).fitness >= before);
}

RC_GTEST_PROP(FitnessLaw, the_verdict_is_that_of_the_heaviest_reason, ()) {
  Seen seen;
  seen.smell = static_cast<Smell>(*rc::gen::inRange(0, 8));
  seen.look = static_cast<Look>(*rc::gen::inRange(0, 5));
  seen.oxygen_mg_per_l = *rc::gen::element(unset, 1.0, 4.0, 8.0);
  seen.air_off_h = *rc::gen::element(unset, 0.5, 5.0, 30.0);
  const auto of = judged(seen);
  for (const auto& reason : of.reasons) RC_ASSERT(reason.at_best <= of.fitness);
  RC_ASSERT(of.reasons.empty() || of.reasons.front().at_best == of.fitness);
  for (const auto& reason : of.reasons) RC_ASSERT(!reason.source.empty());
}

}  // namespace
}  // namespace barm::recipe
