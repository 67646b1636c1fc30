// What the signs of maturity say, at both sides of each line, and how a measured lot enters a plan.
#include "compost/maturity.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "data/embedded.h"

namespace barm::compost {
namespace {

const std::vector<SignLines>& lines() {
  static const auto all = read_maturity(data::file("maturity.toml"));
  return all;
}
const Kind& mixed() {
  static const Kinds kinds = Kinds::read(data::file("composts.toml"));
  return **kinds.find("mixed");
}
Answer<MaturityTold> told(const MaturityAsk& ask) {
  return judge_maturity(ask, lines(), mixed());
}
bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}

// S91, from memory: the lines of the index; each printed value itself belongs to the better grade.
TEST(maturity, each_sign_is_graded_at_both_sides_of_its_lines) {
  struct Line {
    double MaturityAsk::*member;
    double finished, raw, step;
  };
  for (const Line& line :
       {Line{&MaturityAsk::cn, 20, 25, 0.1}, Line{&MaturityAsk::respiration_mg_per_g_d, 2, 4, 0.01},
        Line{&MaturityAsk::uptake_mg_per_g_h, 0.5, 1.5, 0.01}, Line{&MaturityAsk::germination_share, 0.9, 0.8, -0.01},
        Line{&MaturityAsk::ammonium_mg_per_kg, 75, 500, 1}, Line{&MaturityAsk::age_d, 120, 45, -1}}) {
    const auto grade = [&](double value) {
      MaturityAsk ask;
      ask.*line.member = value;
      return told(ask)->signs.front().grade;
    };
    EXPECT_EQ(grade(line.finished), Grade::finished);
    EXPECT_EQ(grade(line.finished + line.step), Grade::maturing);
    EXPECT_EQ(grade(line.raw), Grade::maturing);
    EXPECT_EQ(grade(line.raw + line.step), Grade::raw);
  }
  const auto heat = [](double pile_c) { return told({.pile_c = pile_c, .air_c = 15.0})->signs.front().grade; };
  EXPECT_EQ(heat(25.0), Grade::finished);
  EXPECT_EQ(heat(25.5), Grade::maturing);
  EXPECT_EQ(heat(35.5), Grade::raw);
  const auto ratio = told({.ammonium_mg_per_kg = 60.0, .nitrate_mg_per_kg = 100.0});
  EXPECT_EQ(ratio->signs.size(), 2u);
  EXPECT_EQ(ratio->signs[1].grade, Grade::maturing);  // 0.6
}

const MaturityAsk good{.pile_c = 24.0, .air_c = 18.0, .cn = 15.0, .germination_share = 0.95, .smell = Smell::earthy};

// What is from memory is never told as confirmed. Age rests on common practice, and says so; all others in part on
// memory.
TEST(maturity, says_of_each_line_whether_its_source_was_looked_at) {
  for (const auto& each : lines()) EXPECT_EQ(each.is_confirmed(), each.id == "age") << each.id;
  const auto answer = told({.cn = 16.0, .age_d = 150.0});
  ASSERT_EQ(answer->signs.size(), 2u);
  EXPECT_FALSE(answer->signs[0].is_confirmed);
  EXPECT_TRUE(answer->signs[1].is_confirmed);
}

TEST(maturity, the_worst_sign_decides_and_what_is_missing_is_not_guessed) {
  EXPECT_EQ(told(good)->worth, Worth::suitable);
  MaturityAsk ask = good;
  ask.cn = 23.0;
  EXPECT_EQ(told(ask)->worth, Worth::with_care);
  ask.cn = 26.0;
  EXPECT_EQ(told(ask)->worth, Worth::not_yet);
  for (const Smell foul : {Smell::sour, Smell::ammonia, Smell::rotten}) {
    ask = good;
    ask.smell = foul;
    EXPECT_EQ(told(ask)->worth, Worth::not_yet);
  }
  ask = good;
  ask.smell = Smell::not_told;
  EXPECT_EQ(told(ask)->worth, Worth::not_known);
  ask = good;
  ask.germination_share = unset;
  EXPECT_EQ(told(ask)->worth, Worth::not_known);
  ask = good;
  ask.pile_c = ask.air_c = unset;
  EXPECT_EQ(told(ask)->worth, Worth::not_known);
  ask.age_d = 400.0;  // old, but nothing else says that it is stable
  EXPECT_EQ(told(ask)->worth, Worth::not_known);
}

// By hand: 1.8 mg C/(g d) is 1.8 x 32/12/24 = 0.2 mg O2/(g h) at the temperature of the test; at 37 degC 3.25 times
// that of 20 degC. 700 g, half dry, half volatile, in 19 L: 0.0615 x 700 x 0.25/19 = 0.567 mg/L/h.
TEST(maturity, respiration_becomes_the_uptake_a_plan_takes) {
  EXPECT_NEAR(uptake_of_respiration(1.8, 20.0), 0.2, 1e-12);
  EXPECT_NEAR(uptake_of_respiration(1.8, 30.0), 0.1, 1e-12);
  MaturityAsk ask{.respiration_mg_per_g_d = 1.8, .respiration_at_c = 37.0, .mass_g = 700.0, .water_l = 19.0};
  const auto warm = told(ask);
  EXPECT_NEAR(warm->uptake_mg_per_g_vs_h, 0.2 / std::pow(2.0, 1.7), 1e-12);
  EXPECT_NEAR(warm->load_mg_per_l_h, 0.567, 0.001);
  EXPECT_NEAR(warm->uptake_over_usual, 0.0615572 / 0.7, 1e-6);
  EXPECT_TRUE(warm.doubts().empty());
  ask.respiration_at_c = unset;
  EXPECT_TRUE(has(told(ask).doubts(), "compost.maturity.test_temperature_assumed", "respiration_at"));
  EXPECT_GT(told(ask)->load_mg_per_l_h, warm->load_mg_per_l_h);
  ask.uptake_mg_per_g_h = 0.4;  // measured in suspension: taken as it is
  EXPECT_EQ(told(ask)->uptake_mg_per_g_vs_h, 0.4);
  EXPECT_TRUE(std::isnan(told(good)->uptake_mg_per_g_vs_h));
}

TEST(maturity, character_prefers_counts_and_says_on_what_it_rests) {
  MaturityAsk ask{.bacteria_ug_per_g = 1000.0, .fungi_ug_per_g = 200.0, .woody_share = 0.9};
  EXPECT_EQ(told(ask)->character, Character::bacterial);
  EXPECT_EQ(told(ask)->evidence, Evidence::counted);
  ask.fungi_ug_per_g = 300.0;
  EXPECT_EQ(told(ask)->character, Character::balanced);
  ask.fungi_ug_per_g = 1001.0;
  EXPECT_EQ(told(ask)->character, Character::fungal);
  ask.bacteria_ug_per_g = unset;
  EXPECT_EQ(told(ask)->character, Character::fungal);
  EXPECT_EQ(told(ask)->evidence, Evidence::made_from);
  EXPECT_TRUE(has(told(ask).doubts(), "compost.maturity.character_not_counted", "woody"));
  EXPECT_EQ(told(good)->character, Character::not_known);
}

TEST(maturity, doubts_a_cool_pile_that_breathes_like_a_raw_one) {
  MaturityAsk ask = good;
  ask.respiration_mg_per_g_d = 9.0;
  ask.respiration_at_c = 25.0;
  EXPECT_TRUE(has(told(ask).doubts(), "compost.maturity.cold_but_active", "pile_temperature"));
  EXPECT_EQ(told(ask)->worth, Worth::not_yet);
}

TEST(maturity, refuses_what_no_compost_is) {
  EXPECT_TRUE(has(told({}).refusals(), "compost.maturity.nothing_told", "pile_temperature"));
  EXPECT_TRUE(has(told({.pile_c = 30.0}).refusals(), "compost.maturity.one_temperature", "air_temperature"));
  EXPECT_TRUE(has(told({.air_c = 30.0}).refusals(), "compost.maturity.one_temperature", "pile_temperature"));
  EXPECT_TRUE(has(told({.cn = 0.9}).refusals(), "compost.maturity.outside", "cn"));
  EXPECT_TRUE(told({.cn = 1.0}).ok());
  EXPECT_TRUE(has(told({.germination_share = 2.1}).refusals(), "compost.maturity.outside", "germination"));
  const auto both = told({.pile_c = 131.0, .air_c = 70.0});  // degF, written as degC
  EXPECT_EQ(both.refusals().size(), 2u);
  EXPECT_THROW(read_maturity("[[sign]]\nid = \"luck\"\n"), BrokenPromise);
}

TEST(a_measured_lot, stands_in_place_of_its_kind) {
  const Kind usual = with_measured(mixed(), {});
  EXPECT_EQ(usual.uptake_mg_per_g_vs_h.middle, mixed().uptake_mg_per_g_vs_h.middle);
  EXPECT_EQ(usual.bacteria_per_g.low, mixed().bacteria_per_g.low);
  const Kind lot = with_measured(
      mixed(), {.moisture_share = 0.6, .uptake_mg_per_g_vs_h = 0.3, .bacteria_per_g = 4e9, .bacteria_ln_error = 0.2});
  EXPECT_NEAR(lot.dry_matter_share.middle, 0.4, 1e-12);
  EXPECT_NEAR(lot.dry_matter_share.high, 0.46, 1e-12);
  EXPECT_NEAR(lot.uptake_mg_per_g_vs_h.high, 0.45, 1e-12);
  EXPECT_NEAR(std::log(lot.bacteria_per_g.high / lot.bacteria_per_g.low), 2.0 * std::sqrt(3.0) * 0.2, 1e-12);
  EXPECT_EQ(lot.fungi_ug_per_g.middle, mixed().fungi_ug_per_g.middle);
}

RC_GTEST_PROP(maturity_law, a_worse_sign_never_makes_it_better, ()) {
  MaturityAsk ask = good;
  ask.cn = *rc::gen::inRange(10, 400) / 10.0;
  ask.ammonium_mg_per_kg = *rc::gen::inRange(0, 1000);
  const auto before = told(ask)->worth;
  ask.cn += *rc::gen::inRange(0, 100) / 10.0;
  ask.ammonium_mg_per_kg += *rc::gen::inRange(0, 500);
  RC_ASSERT(static_cast<int>(told(ask)->worth) >= static_cast<int>(before));
}

}  // namespace
}  // namespace barm::compost
