#include "compost/heat_log.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <chrono>
#include <cmath>

#include "data/embedded.h"
#include "support/published.h"

namespace barm::compost {
namespace {

const std::vector<HeatRule>& rules() {
  static const auto all = read_heat_rules(data::file("heat_rules.toml"));
  return all;
}

/// Readings every `step_h`; a hundredth up and down, as a live probe does.
HeatPosition steady(const char* name, double hours, double at_c, double step_h = 1.0, double from_h = 0.0) {
  HeatPosition position{name, {}, {}};
  for (int i = 0; i * step_h <= hours + 1e-9; ++i) {
    position.time_h.push_back(from_h + i * step_h);
    position.temperature_c.push_back(static_cast<float>(at_c) + (i % 2 == 0 ? 0.0F : 0.01F));
  }
  return position;
}

HeatTold told(const HeatLog& log, Method method, Rule rule = Rule::organic, double cn = 30.0) {
  const auto answer = judge_heat(log, {.method = method, .rule = rule, .initial_cn = cn}, rules());
  EXPECT_TRUE(answer.ok());
  return answer.ok() ? *answer : HeatTold{};
}

bool doubted(const HeatLog& log, const std::string& code) {
  const auto answer = judge_heat(log, {.initial_cn = 30.0}, rules());
  for (const auto& doubt : answer.doubts()) {
    if (doubt.code == code) return true;
  }
  return false;
}

// source: S39, tests/published/time_temperature_503.csv, printed to seven figures
TEST(the_sludge_equation, gives_the_published_times) {
  for (const auto& row : test::published("time_temperature_503.csv")) {
    const auto solids =
        row.text("equation") == "ge_7pct_solids" ? Solids::seven_percent_or_more : Solids::less_than_seven_percent;
    const double hours = sludge_time_h(row.number("temp_c"), solids);
    EXPECT_NEAR(hours, row.number("min_time_hours"), row.number("min_time_hours") * 1e-6) << row.text("id");
  }
  EXPECT_TRUE(std::isinf(sludge_time_h(49.99, Solids::seven_percent_or_more)));
}

// source: S37, tests/published/rule_cases_nop_compost.csv: days at 131 to 170 degF, turns, C:N, hottest
TEST(the_organic_rule, decides_its_published_cases) {
  for (const auto& row : test::published("rule_cases_nop_compost.csv")) {
    const auto method = row.text("method") == "in_vessel" ? Method::in_vessel
                        : row.text("method") == "windrow" ? Method::windrow
                                                          : Method::static_aerated_pile;
    const double hours = row.number("days_at_131_to_170_f") * 24.0;
    const double at_c = (row.number("max_temp_f") - 32.0) * 5.0 / 9.0;
    HeatLog log{.positions = {steady("core", hours, at_c)}, .turned_at_h = {}, .is_fahrenheit = true};
    for (auto& each : log.positions[0].temperature_c) each = static_cast<float>(at_c);  // exactly on the line
    for (std::size_t i = 1; i < log.positions[0].temperature_c.size(); i += 2) {
      log.positions[0].temperature_c[i] = static_cast<float>(at_c > 60.0 ? at_c - 0.5 : at_c + 0.5);
    }
    for (int i = 0; i < static_cast<int>(row.number("turnings")); ++i) log.turned_at_h.push_back(24.0 * (1 + i));
    const auto got = told(log, method, Rule::organic, row.number("initial_cn")).asked;
    EXPECT_EQ(got.meets, row.text("expected_compliant") == "yes") << row.text("id");
    EXPECT_EQ(got.cn_fails, row.text("failing_criterion") == "cn_low") << row.text("id");
    EXPECT_EQ(got.turns_owed > 0, row.text("failing_criterion") == "turns") << row.text("id");
    EXPECT_EQ(got.hours_owed > 0.0, row.text("failing_criterion") == "days") << row.text("id");
  }
}

TEST(a_vessel, owes_the_last_hour_and_then_nothing) {
  EXPECT_NEAR(told({.positions = {steady("core", 71, 60)}, .turned_at_h = {}}, Method::in_vessel).asked.hours_owed, 1.0,
              1e-9);
  const auto met = told({.positions = {steady("core", 80, 60)}, .turned_at_h = {}}, Method::in_vessel).asked;
  EXPECT_TRUE(met.meets);
  EXPECT_NEAR(met.met_at_h, 72.0, 1e-9);
  EXPECT_EQ(met.clause, "7 CFR 205.203(c)(2)(ii)");
}

TEST(the_band, holds_its_ends_and_nothing_outside) {
  for (const auto& [at_c, held] :
       std::vector<std::pair<double, bool>>{{54.9, false}, {55.0, true}, {76.9, true}, {77.2, false}}) {
    EXPECT_EQ(told({.positions = {steady("core", 80, at_c)}, .turned_at_h = {}}, Method::in_vessel).asked.meets, held)
        << at_c;
  }
  // 21 CFR 112.54 has no upper end
  EXPECT_TRUE(
      told({.positions = {steady("core", 80, 80)}, .turned_at_h = {}}, Method::in_vessel, Rule::produce).asked.meets);
}

TEST(a_cold_spot, holds_the_whole_pile_back) {
  const auto got = told({.positions = {steady("core", 80, 60), steady("edge", 80, 50)}, .turned_at_h = {}},
                        Method::static_aerated_pile);
  EXPECT_FALSE(got.asked.meets);
  EXPECT_EQ(got.positions[got.coldest].name, "edge");
  EXPECT_DOUBLE_EQ(got.asked.hours_owed, 72.0);
}

TEST(a_break, starts_three_days_again_but_not_fifteen) {
  HeatPosition position = steady("core", 80, 60);
  position.temperature_c[40] = 50.0F;  // 40 h hot, then cold, then 39 h hot
  const HeatLog log{.positions = {position}, .turned_at_h = {}};
  EXPECT_NEAR(told(log, Method::in_vessel).asked.hours_owed, 72.0 - 39.0, 1e-9);
  EXPECT_NEAR(told(log, Method::windrow).asked.hours_owed, 360.0 - 78.0, 1e-9);
}

// The organic rule is silent on whether its 15 days may be parted; 21 CFR 112.54(b)(2) says they may (S32, from
// memory).
TEST(hours_of_a_windrow, that_only_add_up_are_doubted_where_the_rule_is_silent) {
  const auto log = [](double cool_from_h) {
    HeatLog made{.positions = {steady("core", 400.0, 60.0)}, .turned_at_h = {30, 60, 90, 120, 150}};
    for (std::size_t i = 0; i < made.positions[0].time_h.size(); ++i) {
      const double at_h = made.positions[0].time_h[i];
      if (at_h >= cool_from_h && at_h < cool_from_h + 10.0) made.positions[0].temperature_c[i] -= 10.0F;
    }
    return made;
  };
  const auto parted = log(200.0), whole = log(1000.0);
  EXPECT_TRUE(told(parted, Method::windrow).asked.meets);
  EXPECT_TRUE(doubted(parted, "compost.heat.not_in_a_row"));
  EXPECT_TRUE(told(whole, Method::windrow).asked.meets);
  EXPECT_FALSE(doubted(whole, "compost.heat.not_in_a_row"));
  const auto produce = judge_heat(parted, {.method = Method::windrow, .rule = Rule::produce}, rules());
  EXPECT_TRUE(produce->asked.meets);
  EXPECT_TRUE(produce.doubts().empty());
}

TEST(a_gap, earns_nothing) {
  HeatPosition position = steady("core", 80, 60);
  for (std::size_t i = 41; i < position.time_h.size(); ++i) position.time_h[i] += 10.0;  // 11 h without a reading
  const HeatLog log{.positions = {position}, .turned_at_h = {}};
  EXPECT_NEAR(told(log, Method::windrow).positions[0].held_h, 79.0, 1e-9);
  EXPECT_TRUE(doubted(log, "compost.heat.gap"));
  EXPECT_NEAR(told(log, Method::in_vessel).asked.hours_owed, 72.0 - 39.0, 1e-9);
}

TEST(a_reading_a_day, is_enough_when_it_never_misses_a_day) {
  EXPECT_TRUE(told({.positions = {steady("core", 96, 60, 24.0)}, .turned_at_h = {}}, Method::in_vessel).asked.meets);
  EXPECT_FALSE(told({.positions = {steady("core", 96, 60, 48.0)}, .turned_at_h = {}}, Method::in_vessel).asked.meets);
}

TEST(faulty_readings, earn_nothing_and_are_flagged) {
  const auto with = [](std::size_t index, float at_c) {
    HeatPosition position = steady("core", 80, 60);
    position.temperature_c[index] = at_c;
    return HeatLog{.positions = {position}, .turned_at_h = {}};
  };
  EXPECT_TRUE(doubted(with(5, -127.0F), "compost.heat.impossible"));
  EXPECT_TRUE(doubted(with(5, 150.0F), "compost.heat.impossible"));
  EXPECT_TRUE(doubted(with(5, std::nanf("")), "compost.heat.missing"));
  EXPECT_TRUE(doubted(with(5, 76.0F), "compost.heat.spike"));
  EXPECT_NEAR(told(with(5, 76.0F), Method::windrow).positions[0].held_h, 78.0, 1e-9);
  EXPECT_FALSE(doubted(with(5, 62.0F), "compost.heat.spike"));
}

TEST(a_lost_reading, does_not_clear_its_neighbour) {
  HeatPosition position = steady("core", 80, 72);
  position.temperature_c[5] = 56.0F;  // in the band, but no pile falls and rises so
  position.temperature_c[6] = std::nanf("");
  EXPECT_EQ(told({.positions = {position}, .turned_at_h = {}}, Method::windrow).positions[0].faults.spike_count, 1u);
  position = steady("core", 80, 60.3);
  for (std::size_t i = 10; i <= 40; ++i) position.temperature_c[i] = 61.5F;
  position.temperature_c[25] = std::nanf("");
  EXPECT_EQ(told({.positions = {position}, .turned_at_h = {}}, Method::windrow).positions[0].faults.stuck_count, 30u);
}

TEST(a_stuck_probe, earns_nothing_from_its_first_equal_reading) {
  HeatPosition position = steady("core", 80, 60.3);
  for (std::size_t i = 10; i <= 40; ++i) position.temperature_c[i] = 61.5F;
  HeatLog log{.positions = {position}, .turned_at_h = {}};
  EXPECT_TRUE(doubted(log, "compost.heat.stuck"));
  EXPECT_EQ(told(log, Method::windrow).positions[0].faults.stuck_count, 31u);
  EXPECT_NEAR(told(log, Method::windrow).positions[0].held_h, 9.0 + 39.0, 1e-9);
  for (std::size_t i = 10; i <= 40; ++i) log.positions[0].temperature_c[i] = i <= 33 ? 61.5F : 61.4F;  // 23 h
  EXPECT_FALSE(doubted(log, "compost.heat.stuck"));
}

TEST(a_clock, may_not_run_backwards_and_a_row_told_twice_counts_once) {
  HeatPosition position = steady("core", 80, 60);
  position.time_h[30] = 20.0;
  EXPECT_TRUE(doubted({.positions = {position}, .turned_at_h = {}}, "compost.heat.clock"));
  position = steady("core", 80, 60);
  position.time_h.insert(position.time_h.begin() + 30, position.time_h[30]);
  position.temperature_c.insert(position.temperature_c.begin() + 30, position.temperature_c[30]);
  const HeatLog twice{.positions = {position}, .turned_at_h = {}};
  EXPECT_TRUE(doubted(twice, "compost.heat.repeated"));
  EXPECT_FALSE(doubted(twice, "compost.heat.clock"));
  EXPECT_NEAR(told(twice, Method::windrow).positions[0].held_h, 80.0, 1e-9);
}

TEST(turns, count_only_while_the_pile_is_hot_and_once_an_hour) {
  HeatLog log{.positions = {steady("core", 400, 60)}, .turned_at_h = {50, 100, 100.5, 150, 200, 500}};
  const auto got = told(log, Method::windrow).asked;
  EXPECT_EQ(got.turns_counted, 4);
  EXPECT_EQ(got.turns_owed, 1);
  EXPECT_FALSE(got.meets);
  log.turned_at_h.push_back(380);
  EXPECT_NEAR(told(log, Method::windrow).asked.met_at_h, 380.0, 1e-9);  // after the hours, with the last turn
}

TEST(degrees_fahrenheit_called_celsius, are_asked_about) {
  const HeatLog log{.positions = {steady("core", 80, 140)}, .turned_at_h = {}};
  const auto answer = judge_heat(log, {}, rules());
  ASSERT_FALSE(answer.ok());
  EXPECT_EQ(answer.refusals()[0].code, "compost.heat.reads_like_fahrenheit");
  EXPECT_FALSE(judge_heat({}, {}, rules()).ok());
}

TEST(an_untold_mix, is_doubted_where_the_rule_asks) {
  const HeatLog log{.positions = {steady("core", 80, 60)}, .turned_at_h = {}};
  EXPECT_EQ(judge_heat(log, {.method = Method::in_vessel}, rules()).doubts().size(), 1u);
  EXPECT_TRUE(judge_heat(log, {.method = Method::in_vessel, .rule = Rule::produce}, rules()).doubts().empty());
}

TEST(the_sludge_time, adds_up_to_one_at_the_equations_own_time) {
  const double asked_h = sludge_time_h(60.0, Solids::seven_percent_or_more);  // 12.58 h
  const auto got =
      told({.positions = {steady("core", asked_h, 60.0, asked_h / 64.0)}, .turned_at_h = {}}, Method::in_vessel);
  EXPECT_NEAR(got.positions[0].sludge_share, 1.0, 1e-6);
}

// Between two readings nobody knows: each stretch counts at its colder end, whichever comes first.
TEST(the_sludge_time, is_that_of_the_colder_end_of_each_stretch) {
  const double share = 1.0 / sludge_time_h(60.0, Solids::seven_percent_or_more);
  for (const auto& temperature_c : {std::vector<float>{60.0F, 70.0F}, std::vector<float>{70.0F, 60.0F}}) {
    const auto got = told({.positions = {{"core", {0.0, 1.0}, temperature_c}}, .turned_at_h = {}}, Method::in_vessel);
    EXPECT_NEAR(got.positions[0].sludge_share, share, 1e-6);
  }
}

TEST(degrees_fahrenheit_called_celsius, are_asked_about_from_a_quarter_of_the_readings) {
  const auto log = [](std::vector<float> temperature_c) {
    HeatPosition position{"core", {}, std::move(temperature_c)};
    for (std::size_t i = 0; i < position.temperature_c.size(); ++i) position.time_h.push_back(static_cast<double>(i));
    return HeatLog{.positions = {position}, .turned_at_h = {}};
  };
  EXPECT_FALSE(judge_heat(log({60, 61, 60, 120}), {.method = Method::in_vessel}, rules()).ok());
  EXPECT_TRUE(judge_heat(log({60, 61, 60, 61, 120}), {.method = Method::in_vessel}, rules()).ok());
}

RC_GTEST_PROP(any_log, owes_no_less_when_a_reading_is_lost, ()) {
  HeatPosition position{"core", {}, {}};
  const auto count = *rc::gen::inRange(3, 120);
  for (int i = 0; i < count; ++i) {
    position.time_h.push_back(i);
    position.temperature_c.push_back(static_cast<float>(*rc::gen::inRange(500, 800)) / 10.0F);
  }
  const auto lost = static_cast<std::size_t>(*rc::gen::inRange(0, count));
  const auto judge = [&] {
    return judge_heat({.positions = {position}, .turned_at_h = {}},
                      {.method = Method::in_vessel, .longest_gap_h = 1.0, .initial_cn = 30.0}, rules())
        .value();
  };
  const double before_h = judge().positions[0].held_h;
  RC_ASSERT(before_h <= judge().log_h + 1e-9);
  position.temperature_c[lost] = std::nanf("");
  RC_ASSERT(judge().positions[0].held_h <= before_h);
}

TEST(a_year_of_minutes_at_twelve_places, is_judged_while_you_wait_slow) {
  HeatLog log;
  for (int p = 0; p < 12; ++p) log.positions.push_back(steady("place", 8760, 58.0 + p, 1.0 / 60.0));
  const auto began = std::chrono::steady_clock::now();
  const auto got = told(log, Method::windrow);
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - began;
  EXPECT_NEAR(got.positions[11].held_h, 8760.0, 1e-4);
  RecordProperty("milliseconds", std::to_string(took.count()));
  std::printf("judged %zu readings in %.1f ms\n", log.positions.size() * log.positions[0].time_h.size(), took.count());
}

}  // namespace
}  // namespace barm::compost
