// Waits and doses against published ones, what is said beside them, and what is refused.
#include "water/chlorine.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "support/published.h"
#include "water/loss.h"

namespace barm::water {
namespace {

bool has(const Remarks& remarks, const std::string& code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& each) { return each.code == code; });
}

const Clearing& way(const std::vector<Clearing>& ways, ClearingMethod method) {
  return *std::find_if(ways.begin(), ways.end(), [&](const Clearing& each) { return each.method == method; });
}

Clearing clear_by(ClearingMethod method, const Disinfectant& in, double volume_l = 100.0) {
  const auto ways = clear_water(volume_l, in);
  EXPECT_TRUE(ways.ok());
  return way(*ways, method);
}

double fact(const Clearing& of, const std::string& code, const std::string& name) {
  for (const Remark& note : of.notes) {
    if (note.code == code) return std::get<Quantity>(note.facts.at(name)).value;
  }
  return unset;
}

const ClearingMethod every[] = {
    ClearingMethod::stand,         ClearingMethod::bubble,           ClearingMethod::carbon_filter,
    ClearingMethod::ascorbic_acid, ClearingMethod::sodium_ascorbate, ClearingMethod::sodium_thiosulfate,
    ClearingMethod::humic_acid};

// S24: masses printed to six significant digits.
TEST(chlorine, doses_agree_with_the_worked_cases) {
  const std::map<std::string, ClearingMethod> methods{{"ascorbic_acid", ClearingMethod::ascorbic_acid},
                                                      {"sodium_ascorbate", ClearingMethod::sodium_ascorbate}};
  for (const auto& row : test::published("water_dechlorination_cases.csv")) {
    SCOPED_TRACE(row.text("id"));
    ASSERT_EQ(row.number("overdose_factor"), 1.0);
    const auto done =
        clear_by(methods.at(row.text("chemical")), {.free_chlorine_mg_per_l = row.number("free_chlorine_mg_per_l")},
                 row.number("volume_l"));
    EXPECT_NEAR(done.dose_g, row.number("mass_g"), 5e-6 * row.number("mass_g"));
    EXPECT_TRUE(done.works);
  }
}

// S25: percent and pKa printed to six significant digits.
TEST(chlorine, hypochlorous_share_agrees_with_the_published_rows) {
  for (const auto& row : test::published("water_hocl_share.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double share = hocl_share(row.number("temp_c"), row.number("ph"));
    EXPECT_NEAR(100.0 * share, row.number("hocl_percent"), 0.00006);
    EXPECT_NEAR(row.number("ph") - std::log10(1.0 / share - 1.0), row.number("pka"), 0.000006);
  }
}

// S26 to S29: each measurement is the one we plan by, or shows in what we say.
TEST(chlorine, plans_by_the_published_measurements) {
  const Disinfectant chloramine{.chloramine_mg_per_l = 2.0};
  const Disinfectant chlorine{.free_chlorine_mg_per_l = 2.0};
  const auto rate = [](double start, double wait_h) { return std::log(start / 0.05) / wait_h * 24.0; };
  const std::map<std::string, double> used{
      {"sealed_no_headspace", rate(2.0, clear_by(ClearingMethod::stand, chloramine).wait_high_h)},
      {"open_to_atmosphere", rate(2.0, clear_by(ClearingMethod::stand, chloramine).wait_low_h)},
      {"aerated_10_ml_per_s", rate(2.0, clear_by(ClearingMethod::bubble, chloramine).wait_low_h)},
      {"standing_24_h_method_a", -std::expm1(-rate(2.0, clear_by(ClearingMethod::stand, chlorine).wait_low_h))},
      {"standing_24_h_method_b", -std::expm1(-rate(2.0, clear_by(ClearingMethod::stand, chlorine).wait_high_h))},
      {"20c", chloramine_air_over_water},
      {"25c", hypochlorous_air_over_water}};
  int seen = 0;
  for (const auto& row : test::published("water_chlorine_loss_rates.csv")) {
    SCOPED_TRACE(row.text("condition"));
    ++seen;
    if (row.text("value") == "ineffective") {
      for (const auto method : {ClearingMethod::ascorbic_acid, ClearingMethod::sodium_ascorbate}) {
        const auto done = clear_by(method, chloramine);
        EXPECT_FALSE(done.works);
        EXPECT_TRUE(has(done.notes, "water.clear.ascorbic_contested"));
      }
    } else if (row.text("value") == "faster_than_thiosulfate") {
      EXPECT_LT(clear_by(ClearingMethod::ascorbic_acid, chlorine).wait_high_h,
                clear_by(ClearingMethod::sodium_thiosulfate, chlorine).wait_high_h);
    } else {
      EXPECT_NEAR(used.at(row.text("condition")), row.number("value"), 1e-6);
    }
  }
  EXPECT_EQ(seen, 9);
}

// practice, no source: stand a day, bubble an hour and a half. The published rates leave far more than a strip shows.
TEST(chlorine, says_where_the_trade_rule_is_short) {
  const Disinfectant tap{.free_chlorine_mg_per_l = 1.0};
  const auto stood = clear_by(ClearingMethod::stand, tap);
  EXPECT_EQ(stood.trade_wait_h, 24.0);
  EXPECT_NEAR(stood.wait_low_h, 24.0 * std::log(20.0) / -std::log(1.0 - 0.62), 1e-4);   // 74 h
  EXPECT_NEAR(stood.wait_high_h, 24.0 * std::log(20.0) / -std::log(1.0 - 0.51), 1e-4);  // 101 h
  EXPECT_FALSE(stood.works);
  EXPECT_TRUE(has(stood.notes, "water.clear.trade_rule_short"));
  EXPECT_TRUE(has(stood.notes, "water.clear.too_slow"));

  const auto bubbled = clear_by(ClearingMethod::bubble, tap);
  EXPECT_EQ(bubbled.trade_wait_h, 1.5);
  EXPECT_EQ(bubbled.wait_high_h, stood.wait_high_h);
  EXPECT_TRUE(has(bubbled.notes, "water.clear.trade_rule_short"));
  // 6.2e-5 of 114 volumes of air an hour, for an hour and a half: 1 %
  EXPECT_NEAR(fact(bubbled, "water.clear.bubble_strips_little", "share"), 0.01055, 0.00005);
}

TEST(chlorine, says_where_the_trade_rule_is_enough) {
  const auto stood = clear_by(ClearingMethod::stand, {.free_chlorine_mg_per_l = 0.08});
  EXPECT_LT(stood.wait_high_h, 24.0);
  EXPECT_TRUE(stood.works);
  EXPECT_TRUE(has(stood.notes, "water.clear.trade_rule_enough"));
  EXPECT_FALSE(has(stood.notes, "water.clear.trade_rule_short"));
}

TEST(chlorine, recommends_time_where_a_day_is_enough_and_vitamin_c_where_not) {
  const auto first = [](const Disinfectant& in) { return clear_water(20.0, in)->front(); };
  EXPECT_EQ(first({.free_chlorine_mg_per_l = 0.08}).method, ClearingMethod::stand);
  EXPECT_EQ(first({.free_chlorine_mg_per_l = 0.2}).method, ClearingMethod::ascorbic_acid);
  EXPECT_EQ(first({.free_chlorine_mg_per_l = 2.0}).method, ClearingMethod::ascorbic_acid);
  EXPECT_EQ(first({.chloramine_mg_per_l = 2.0}).method, ClearingMethod::sodium_thiosulfate);
  EXPECT_TRUE(first({.chloramine_mg_per_l = 2.0}).works);
}

TEST(chlorine, long_stands_work_up_to_three_days) {
  // 0.05 exp(0.7133 x 3) = 0.425 mg/L is the most that three days take away
  EXPECT_TRUE(clear_by(ClearingMethod::stand, {.free_chlorine_mg_per_l = 0.42}).works);
  EXPECT_FALSE(clear_by(ClearingMethod::stand, {.free_chlorine_mg_per_l = 0.43}).works);
}

TEST(chlorine, chloramine_outlasts_standing_and_bubbling) {
  const Disinfectant in{.chloramine_mg_per_l = 2.0};
  for (const auto method : {ClearingMethod::stand, ClearingMethod::bubble}) {
    const auto done = clear_by(method, in);
    EXPECT_FALSE(done.works);
    EXPECT_GT(done.wait_low_h, 240.0);
    EXPECT_TRUE(std::isnan(done.trade_wait_h));
    EXPECT_TRUE(has(done.notes, "water.clear.chloramine_slow"));
    EXPECT_TRUE(has(done.notes, "water.clear.too_slow"));
  }
  EXPECT_TRUE(has(clear_by(ClearingMethod::bubble, in).notes, "water.clear.bubble_test_volume_unknown"));
}

TEST(chlorine, thiosulfate_takes_chloramine_and_frees_its_ammonia) {
  const auto done = clear_by(ClearingMethod::sodium_thiosulfate, {.chloramine_mg_per_l = 2.0}, 200.0);
  EXPECT_TRUE(done.works);
  EXPECT_NEAR(done.dose_g, 200.0 * 2.0 * 7.0003 / 1000.0, 1e-4);  // S23, to tetrathionate
  // one nitrogen, 14.007, for each Cl2, 70.906
  EXPECT_NEAR(fact(done, "water.clear.thiosulfate_frees_ammonia", "ammonia_n"), 0.3951, 0.0001);

  const auto plain = clear_by(ClearingMethod::sodium_thiosulfate, {.free_chlorine_mg_per_l = 2.0}, 200.0);
  EXPECT_NEAR(plain.dose_g, 200.0 * 2.0 * 1.9 / 1000.0, 1e-12);  // S24
  EXPECT_FALSE(has(plain.notes, "water.clear.thiosulfate_frees_ammonia"));
  EXPECT_NEAR(fact(plain, "water.clear.thiosulfate_dose_spread", "dose_low"), 0.4 * 0.87503, 1e-4);
  EXPECT_NEAR(fact(plain, "water.clear.thiosulfate_dose_spread", "dose_high"), 0.4 * 7.0003, 1e-4);
}

TEST(chlorine, carbon_is_trusted_with_chlorine_but_not_with_chloramine) {
  const auto plain = clear_by(ClearingMethod::carbon_filter, {.free_chlorine_mg_per_l = 2.0});
  EXPECT_TRUE(plain.works);
  EXPECT_EQ(plain.wait_high_h, 0.0);
  const auto slow = clear_by(ClearingMethod::carbon_filter, {.chloramine_mg_per_l = 2.0});
  EXPECT_FALSE(slow.works);
  EXPECT_TRUE(std::isnan(slow.wait_high_h));
  EXPECT_TRUE(has(slow.notes, "water.clear.carbon_chloramine"));
  EXPECT_NEAR(fact(slow, "water.clear.carbon_contact", "flow"), 6.0, 1e-12);  // a litre of carbon, ten minutes
}

TEST(chlorine, both_kinds_are_cleared_together) {
  const Disinfectant both{.free_chlorine_mg_per_l = 1.0, .chloramine_mg_per_l = 1.0};
  EXPECT_NEAR(clear_by(ClearingMethod::sodium_thiosulfate, both, 100.0).dose_g, 0.1 * (1.9 + 7.0003), 1e-4);
  const auto stood = clear_by(ClearingMethod::stand, both);
  EXPECT_NEAR(left_mg_per_l(1.0, standing_slowest().free_chlorine_per_d, stood.wait_high_h) +
                  left_mg_per_l(1.0, standing_slowest().chloramine_per_d, stood.wait_high_h),
              0.05, 1e-6);
  EXPECT_FALSE(clear_by(ClearingMethod::ascorbic_acid, both).works);
}

TEST(chlorine, clear_water_needs_nothing) {
  const auto ways = clear_water(20.0, {.free_chlorine_mg_per_l = 0.02, .chloramine_mg_per_l = 0.02});
  ASSERT_TRUE(ways.ok());
  EXPECT_EQ(ways->front().method, ClearingMethod::stand);
  for (const Clearing& each : *ways) {
    EXPECT_EQ(each.dose_g, 0.0);
    if (each.method == ClearingMethod::humic_acid) continue;
    EXPECT_TRUE(each.works);
    EXPECT_EQ(each.wait_high_h, 0.0);
    EXPECT_TRUE(has(each.notes, "water.clear.nothing_to_clear"));
  }
}

TEST(chlorine, chemicals_carry_their_cautions) {
  for (const auto method :
       {ClearingMethod::ascorbic_acid, ClearingMethod::sodium_ascorbate, ClearingMethod::sodium_thiosulfate}) {
    EXPECT_TRUE(has(clear_by(method, {.free_chlorine_mg_per_l = 1.0}).notes, "water.clear.caution_chemical"));
  }
  EXPECT_TRUE(has(clear_by(ClearingMethod::bubble, {.free_chlorine_mg_per_l = 1.0}).notes, "water.clear.caution_pump"));
}

TEST(chlorine, untested_water_is_taken_at_its_worst_usual) {
  const Disinfectant worst = untested_tap_water();
  EXPECT_EQ(worst.chloramine_mg_per_l, 4.0);  // memory: 40 CFR 141.65
  EXPECT_EQ(untested_tap_water_remark().code, "water.clear.untested");
  const auto ways = clear_water(20.0, worst);
  EXPECT_TRUE(ways.doubts().empty());
  // what is recommended for it clears as much free chlorine too
  const auto& first = ways->front();
  EXPECT_GE(first.dose_g, way(*clear_water(20.0, {.free_chlorine_mg_per_l = 4.0}), first.method).dose_g);
}

double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1'000'001) / 1e6;
}

RC_GTEST_PROP(chlorine_law, every_way_is_told_whole, ()) {
  const Disinfectant in{between(0.0, 20.0), between(0.0, 20.0)};
  const auto ways = clear_water(between(0.1, 1000.0), in, between(0.01, 1.0));
  RC_ASSERT(ways->size() == std::size(every));
  for (const auto method : every) {
    const Clearing& each = way(*ways, method);
    RC_ASSERT(each.method == method);
    RC_ASSERT(each.notes.back().code == "water.clear.confirm_with_strip");
    RC_ASSERT(std::isfinite(each.dose_g) && each.dose_g >= 0.0);
    if (each.works) RC_ASSERT(each.wait_low_h <= each.wait_high_h && each.wait_high_h <= 72.0);
    if (method == ClearingMethod::humic_acid) RC_ASSERT(!each.works && has(each.notes, "water.clear.humic_supportive"));
  }
  const auto last_that_works =
      std::find_if_not(ways->begin(), ways->end(), [](const auto& each) { return each.works; });
  RC_ASSERT(std::none_of(last_that_works, ways->end(), [](const auto& each) { return each.works; }));
  RC_ASSERT(ways->front().works);  // thiosulfate at least
}

RC_GTEST_PROP(chlorine_law, more_chlorine_never_means_less_to_do, ()) {
  const Disinfectant less{between(0.1, 10.0), between(0.1, 10.0)};
  const Disinfectant more{less.free_chlorine_mg_per_l + between(0.0, 10.0),
                          less.chloramine_mg_per_l + between(0.0, 10.0)};
  const auto few = clear_water(50.0, less);
  const auto many = clear_water(50.0, more);
  for (const auto method : every) {
    RC_ASSERT(way(*few, method).dose_g <= way(*many, method).dose_g);
    if (std::isnan(way(*few, method).wait_high_h)) continue;
    RC_ASSERT(way(*few, method).wait_high_h <= way(*many, method).wait_high_h);
  }
}

RC_GTEST_PROP(chlorine_law, twice_the_water_takes_twice_the_dose, ()) {
  const Disinfectant in{between(0.1, 10.0), between(0.1, 10.0)};
  const double volume_l = between(0.1, 1000.0);
  const auto once = clear_water(volume_l, in);
  const auto twice = clear_water(2.0 * volume_l, in);
  for (const auto method : every) {
    RC_ASSERT(std::abs(way(*twice, method).dose_g - 2.0 * way(*once, method).dose_g) <=
              1e-12 * way(*twice, method).dose_g);
  }
}

RC_GTEST_PROP(chlorine_law, hypochlorous_share_falls_as_ph_rises, ()) {
  const double temperature_c = between(0.0, 30.0);
  const double ph = between(5.0, 10.0);
  const double share = hocl_share(temperature_c, ph);
  RC_ASSERT(share > 0.0 && share < 1.0);
  RC_ASSERT(hocl_share(temperature_c, ph + 0.01) < share);
}

TEST(chlorine, doubts_more_than_mains_carry) {
  EXPECT_TRUE(clear_water(20.0, {.free_chlorine_mg_per_l = 4.0, .chloramine_mg_per_l = 4.0}).doubts().empty());
  const auto much = clear_water(20.0, {.free_chlorine_mg_per_l = 4.1, .chloramine_mg_per_l = 4.1});
  EXPECT_TRUE(has(much.doubts(), "water.free_chlorine.above_usual"));
  EXPECT_TRUE(has(much.doubts(), "water.chloramine.above_usual"));
}

TEST(chlorine, refuses_what_no_tap_gives) {
  const auto code = [](double volume_l, const Disinfectant& in, double target_mg_per_l = 0.05) {
    const auto answer = clear_water(volume_l, in, target_mg_per_l);
    return answer.refusals().size() == 1 ? answer.refusals().front().code : std::string("not one refusal");
  };
  const double infinite = std::numeric_limits<double>::infinity();
  EXPECT_EQ(code(0.0, {}), "water.volume.not_positive");
  EXPECT_EQ(code(-1.0, {}), "water.volume.not_positive");
  EXPECT_EQ(code(unset, {}), "water.volume.not_a_number");
  EXPECT_EQ(code(100'001.0, {}), "water.volume.too_large");
  EXPECT_TRUE(clear_water(100'000.0, {}).ok());
  EXPECT_EQ(code(20.0, {.free_chlorine_mg_per_l = -0.1}), "water.free_chlorine.negative");
  EXPECT_EQ(code(20.0, {.free_chlorine_mg_per_l = 20.1}), "water.free_chlorine.too_high");
  EXPECT_TRUE(clear_water(20.0, {.free_chlorine_mg_per_l = 20.0}).ok());
  EXPECT_EQ(code(20.0, {.free_chlorine_mg_per_l = infinite}), "water.free_chlorine.not_a_number");
  EXPECT_EQ(code(20.0, {.chloramine_mg_per_l = -0.1}), "water.chloramine.negative");
  EXPECT_EQ(code(20.0, {.chloramine_mg_per_l = 20.1}), "water.chloramine.too_high");
  EXPECT_EQ(code(20.0, {.chloramine_mg_per_l = unset}), "water.chloramine.not_a_number");
  EXPECT_EQ(code(20.0, {}, 0.0), "water.target.too_low");
  EXPECT_EQ(code(20.0, {}, 1.1), "water.target.too_high");
  EXPECT_EQ(code(20.0, {}, unset), "water.target.not_a_number");
}

TEST(chlorine, names_all_that_is_wrong_at_once) {
  const auto answer = clear_water(-1.0, {.free_chlorine_mg_per_l = -1.0, .chloramine_mg_per_l = 99.0}, 0.0);
  ASSERT_EQ(answer.refusals().size(), 4u);
  EXPECT_EQ(answer.refusals()[0].field, "volume");
  EXPECT_EQ(answer.refusals()[1].field, "free_chlorine");
  EXPECT_EQ(answer.refusals()[2].field, "chloramine");
  EXPECT_EQ(answer.refusals()[3].field, "target");
  EXPECT_EQ(std::get<Quantity>(answer.refusals()[2].facts.at("most")).value, 20.0);
}

}  // namespace
}  // namespace barm::water
