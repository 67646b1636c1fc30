// A brew's log as people keep it: right, wrong, and from spreadsheets of other countries.
#include "operations/brew_log_csv.h"

#include <gtest/gtest.h>

#include <cmath>

#include <algorithm>

#include "brew/member.h"
#include "brew/priors.h"
#include "data/embedded.h"
#include "operations/asking.h"
#include "operations/brew_plan_inputs.h"
#include "operations/driver_told.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

constexpr std::int64_t start_at = 1'778'887'800'000;  // 2026-05-16T00:30:00+01:00, by `date -d`
const LogClock clock_of_london{.start_at = start_at, .zone = "Europe/London", .now_at = {}};

brew::BrewLog read(const std::string& text, const LogClock& clock = clock_of_london) {
  const auto log = read_brew_log(text, clock, "readings");
  EXPECT_TRUE(log.ok()) << (log.ok() ? "" : log.refusals().front().code);
  return log.ok() ? *log : brew::BrewLog{};
}

std::string refused(const std::string& text, const LogClock& clock = clock_of_london) {
  const auto log = read_brew_log(text, clock, "readings");
  return log.ok() ? "" : log.refusals().front().code;
}

TEST(BrewLog, one_reading_has_many_spellings) {
  for (const char* text :
       {"time_h,oxygen_mg_per_l\n2.5,7.9\n", "time_min,oxygen_mg_per_l\n150,7.9\n",
        "time_s,oxygen_mg_per_l\n9000,7.9\n", "time,oxygen_mg_per_l\n2026-05-16 03:00,7.9\n",
        "time,oxygen_mg_per_l\n2026-05-16T02:00:00Z,7.9\n", "\xEF\xBB\xBFtime_h;oxygen_mg_per_l\r\n2,5;7,9\r\n",
        "oxygen_mg_per_l\ttime_h\n7.9\t2.5\n"}) {
    const auto log = read(text);
    ASSERT_EQ(log.readings.size(), 1U) << text;
    EXPECT_EQ(log.readings[0].what, brew::Measured::oxygen);
    EXPECT_NEAR(log.readings[0].at_h, 2.5, 1e-9) << text;
    EXPECT_EQ(log.readings[0].value, 7.9) << text;
  }
}

TEST(BrewLog, an_empty_cell_was_not_measured_and_units_are_those_of_the_column) {
  const auto log = read("time_h,temperature_f,oxygen_percent,bacteria_per_ml\n1,68,,\n2,,91,2e8\n");
  ASSERT_EQ(log.readings.size(), 3U);
  EXPECT_NEAR(log.readings[0].value, 20.0, 1e-9);
  EXPECT_NEAR(log.readings[1].value, 0.91, 1e-9);
  EXPECT_EQ(log.readings[1].line, 3);
  EXPECT_EQ(log.readings[2].what, brew::Measured::bacteria);
}

TEST(BrewLog, a_count_may_carry_its_own_error) {
  const auto log = read("time_h,oxygen_mg_per_l,bacteria_per_ml,bacteria_error\n1,8,2e8,0.15\n2,8,2e8,\n");
  ASSERT_EQ(log.readings.size(), 4U);
  EXPECT_TRUE(std::isnan(log.readings[0].error));  // oxygen
  EXPECT_EQ(log.readings[1].error, 0.15);
  EXPECT_TRUE(std::isnan(log.readings[3].error));  // the usual one
  EXPECT_EQ(refused("time_h,bacteria_per_ml,bacteria_error\n1,2e8,-0.1\n"), "operations.log.negative");
}

TEST(BrewLog, acts_keep_what_they_do_not_name_whatever_the_order) {
  const auto log = read("time_h,act\n9,air on\n6,bag out\n8.9,air off\n");
  ASSERT_EQ(log.acts.size(), 3U);
  EXPECT_EQ(log.acts[0].at_h, 6.0);
  EXPECT_FALSE(log.acts[0].bag_is_in);
  EXPECT_TRUE(log.acts[0].air_is_on);
  EXPECT_FALSE(log.acts[1].air_is_on);
  EXPECT_FALSE(log.acts[2].bag_is_in);
  EXPECT_TRUE(log.acts[2].air_is_on);
}

TEST(BrewLog, what_cannot_be_read_is_refused_by_its_reason) {
  EXPECT_EQ(refused(""), "operations.readings.empty");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n"), "operations.readings.empty");
  EXPECT_EQ(refused("oxygen_mg_per_l\n8\n"), "operations.log.no_time");
  EXPECT_EQ(refused("time_h,time_s,oxygen_mg_per_l\n1,3600,8\n"), "operations.log.several_times");
  EXPECT_EQ(refused("time_h,oxigen\n1,8\n"), "operations.log.nothing_measured");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n1,\n"), "operations.log.no_rows");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n1,-2\n"), "operations.log.negative");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n1,nan\n"), "operations.readings.not_finite");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n1,8 mg/L\n"), "operations.readings.not_a_number");
  EXPECT_EQ(refused("time_h,act\n1,air of\n"), "operations.log.no_such_act");
  EXPECT_EQ(refused("time,oxygen_mg_per_l\nSaturday,8\n"), "operations.log.not_a_time");
  // The night the clocks go back in London in 2026 (25 October): 01:30 comes twice.
  EXPECT_EQ(refused("time,oxygen_mg_per_l\n2026-10-25 01:30,8\n"), "operations.log.clock_jumps");
  LogClock early = clock_of_london;
  early.now_at = start_at + 3'600'000;
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n2,8\n", early), "operations.log.in_the_future");
  EXPECT_EQ(refused("time_h,oxygen_mg_per_l\n0.9,8\n", early), "");
}

TEST(BrewLog, every_wrong_line_is_told_up_to_ten) {
  std::string text = "time_h,oxygen_mg_per_l\n";
  for (int i = 0; i < 30; ++i) text += "1,x\n";
  const auto log = read_brew_log(text, clock_of_london, "readings");
  ASSERT_FALSE(log.ok());
  EXPECT_EQ(log.refusals().size(), 10U);
}

TEST(BrewForecast, every_unknown_of_an_ensemble_has_a_name_in_both_languages) {
  const auto priors = brew::Priors::read(data::file("model.toml"));
  const auto foods = food::Library::read(data::file("foods.toml"));
  const auto composts = compost::Kinds::read(data::file("composts.toml"));
  for (const bool fed : {true, false}) {
    brew::Setup setup;
    setup.kla20_per_h = 20.0;
    setup.kla20_spread_ln = 0.2;
    setup.composts = {{.kind = **composts.find("mixed"), .mass_g = 700.0}};
    if (fed) setup.foods = {{.food = **foods.find("kelp meal"), .mass_g = 8.0}};
    const brew::Unknowns unknowns(setup, priors);
    for (int i = 0; i < unknowns.count(); ++i)
      for (const auto language : {cards::Language::english, cards::Language::spanish}) {
        const auto text =
            driver_text({.symbol = unknowns.at(i).symbol}, Voice{.words = &catalogue(), .language = language});
        EXPECT_FALSE(text.empty() || text.starts_with("brew.driver")) << unknowns.at(i).symbol;
      }
  }
}

}  // namespace
}  // namespace barm::operations
