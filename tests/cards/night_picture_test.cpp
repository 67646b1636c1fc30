#include "cards/night_picture.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cards/columns.h"
#include "cards/example_plan.h"
#include "cards/night_text.h"

namespace barm::cards {
namespace {

NightPicture picture_of(const recipe::BrewPlan& plan, const std::string& zone = "America/Bogota") {
  static const Catalogue catalogue = test::example_catalogue();
  return night_picture(plan, Voice(catalogue, {zone, Language::english, plan.ask.customs, plan.ask.start_at}));
}

// Columns of a line at which a glyph stands.
std::vector<int> columns_with(const std::string& line, const std::string& glyph) {
  std::vector<int> found;
  for (std::size_t at = line.find(glyph); at != std::string::npos; at = line.find(glyph, at + glyph.size()))
    found.push_back(columns_of(line.substr(0, at)));
  return found;
}

std::string line_with(const std::vector<std::string>& lines, const std::string& glyph) {
  const auto found = std::find_if(lines.begin(), lines.end(),
                                  [&](const std::string& line) { return line.find(glyph) != std::string::npos; });
  return found == lines.end() ? std::string() : *found;
}

}  // namespace

TEST(NightPicture, the_band_runs_straight_between_samples) {
  const recipe::BrewPlan plan = test::example_plan();
  const auto here = picture_of(plan).oxygen_at(10.25);
  ASSERT_TRUE(here);
  const auto& middle = plan.forecast.oxygen_mg_per_l.p50;
  EXPECT_NEAR(here->p50, (middle[20] + middle[21]) / 2.0, 1e-12);
  EXPECT_EQ(picture_of(plan).oxygen_at(22.0)->p50, 3.0);
}

TEST(NightPicture, outside_the_forecast_there_is_nothing) {
  const NightPicture picture = picture_of(test::example_plan());
  EXPECT_FALSE(picture.oxygen_at(-0.1));
  EXPECT_FALSE(picture.oxygen_at(36.1));
  EXPECT_TRUE(picture.oxygen_at(36.0));
  EXPECT_FALSE(picture.oxygen_at(unset));
}

TEST(NightPicture, a_gap_stays_a_gap) {
  recipe::BrewPlan plan = test::example_plan();
  plan.forecast.oxygen_mg_per_l.p05[24] = unset;  // at hour 12
  const NightPicture picture = picture_of(plan);
  EXPECT_FALSE(picture.oxygen_at(12.0));
  EXPECT_FALSE(picture.oxygen_at(11.7));
  EXPECT_TRUE(picture.oxygen_at(11.5));
  EXPECT_TRUE(picture.oxygen_at(12.5));
}

TEST(NightPicture, the_terminal_leaves_a_gap_empty) {
  recipe::BrewPlan plan = test::example_plan();
  for (std::size_t i = 16; i <= 32; ++i) plan.forecast.oxygen_mg_per_l.p50[i] = unset;  // hours 8 to 16
  const auto lines = night_text(picture_of(plan), 80);
  const double columns_per_h = (80 - 5 - columns_of("water is full") - 3) / 36.0;
  for (const std::string& line : lines) {
    if (line.find("┤") == std::string::npos && line.find("    │") != 0) continue;  // only the plot
    for (const std::string glyph : {"░", "▒", "━"})
      for (const int column : columns_with(line, glyph)) {
        const double hour = (column - 5 + 0.5) / columns_per_h;
        EXPECT_TRUE(hour < 8.0 || hour > 16.0) << glyph << " at hour " << hour;
      }
  }
}

TEST(NightPicture, the_bracket_stands_under_its_hours) {
  const auto lines = night_text(picture_of(test::example_plan()), 80);
  const double columns_per_h = (80 - 5 - columns_of("water is full") - 3) / 36.0;
  const std::string bracket = lines[lines.size() - 2];
  ASSERT_EQ(columns_with(bracket, "┗").size(), 1U);
  EXPECT_EQ(columns_with(bracket, "┗")[0], 5 + static_cast<int>(15.5 * columns_per_h));
  EXPECT_EQ(columns_with(bracket, "┛")[0], 5 + static_cast<int>(20.0 * columns_per_h));
  EXPECT_NE(lines.back().find("ready Sat 12:30 – Sat 17:00"), std::string::npos);
}

TEST(NightPicture, the_lines_people_must_know_are_named) {
  const auto lines = night_text(picture_of(test::example_plan()), 80);
  EXPECT_NE(line_with(lines, "stay above 6").find(" 6 ┤"), std::string::npos);
  EXPECT_NE(line_with(lines, "flat below 2").find(" 2 ┤"), std::string::npos);
  EXPECT_FALSE(line_with(lines, "water is full").empty());
  EXPECT_FALSE(line_with(lines, " night ").empty());
  EXPECT_EQ(columns_with(line_with(lines, "╋"), "╋").size(), 2U);  // two midnights in 36 h
}

TEST(NightPicture, only_what_is_done_to_the_brew_is_a_tick) {
  const NightPicture picture = picture_of(test::example_plan());
  ASSERT_EQ(picture.acts.size(), 3U);  // looking and washing up are not
  EXPECT_EQ(picture.acts[0].word, "air on, bag in, food");
  EXPECT_EQ(picture.acts[1].word, "read oxygen");
  EXPECT_EQ(picture.acts[2].word, "bag out, air off");
}

TEST(NightPicture, the_clock_shows_every_third_local_hour) {
  const NightPicture picture = picture_of(test::example_plan());
  ASSERT_EQ(picture.clock.size(), 13U);
  EXPECT_EQ(picture.clock[0].hour, "21:00");
  EXPECT_EQ(picture.clock[0].day, "Fri");
  EXPECT_TRUE(picture.clock[1].is_midnight);
  EXPECT_NEAR(picture.clock[1].at_h, 3.0, 1e-9);
}

TEST(NightPicture, a_zone_off_the_whole_hour_still_shows_round_hours) {
  const NightPicture picture = picture_of(test::example_plan(), "Asia/Kathmandu");  // UTC+5:45
  ASSERT_GE(picture.clock.size(), 11U);
  for (const ClockMark& mark : picture.clock) EXPECT_EQ(mark.hour.substr(2), ":00");
  EXPECT_NEAR(std::fmod(picture.clock[0].at_h, 1.0), 0.25, 1e-9);
}

// Source: tz database, America/New_York: clocks go from 02:00 to 03:00 on 8 March 2026 (second Sunday of March).
TEST(NightPicture, the_night_the_clock_jumps_has_two_hours_from_midnight_to_three) {
  recipe::BrewPlan plan = test::example_plan();
  plan.ask.start_at = 1'772'931'600'000;  // 2026-03-08T01:00:00Z, Saturday 20:00 at UTC-5
  const NightPicture picture = picture_of(plan, "America/New_York");
  ASSERT_GE(picture.clock.size(), 3U);
  ASSERT_EQ(picture.clock[1].hour, "00:00");
  ASSERT_EQ(picture.clock[2].hour, "03:00");
  EXPECT_NEAR(picture.clock[2].at_h - picture.clock[1].at_h, 2.0, 1e-9);
}

TEST(NightPicture, nothing_to_show_is_an_empty_picture) {
  EXPECT_TRUE(picture_of(test::blank_plan()).empty());
  EXPECT_TRUE(night_text(picture_of(test::blank_plan()), 80).empty());
}

TEST(NightPicture, a_window_that_never_comes_has_no_bracket) {
  recipe::BrewPlan plan = test::example_plan();
  plan.forecast.ready = {};
  EXPECT_FALSE(picture_of(plan).ready);
  for (const std::string& line : night_text(picture_of(plan), 80)) EXPECT_EQ(line.find("ready"), std::string::npos);
}

namespace {

/// The example, read at 4, 6 and 8 h; the second reading out of line, the third in per cent of saturation.
recipe::BrewPlan watched_plan() {
  recipe::BrewPlan plan = test::example_plan();
  plan.watched = recipe::Watched{.heard = {}, .used_count = 2, .effective_count = 200.0};
  const auto hear = [&](brew::Measured what, double at_h, double value, brew::Fate fate, double noise) {
    plan.watched->heard.push_back(
        {.reading = {.what = what, .at_h = at_h, .value = value}, .fate = fate, .noise = noise});
  };
  hear(brew::Measured::oxygen, 4.0, 7.0, brew::Fate::used, 0.3);
  hear(brew::Measured::oxygen, 6.0, 1.0, brew::Fate::out_of_line, 0.3);
  hear(brew::Measured::oxygen_share, 8.0, 0.5, brew::Fate::used, 0.04);
  hear(brew::Measured::temperature, 8.0, 19.0, brew::Fate::used, 0.5);
  hear(brew::Measured::oxygen, 400.0, 7.0, brew::Fate::impossible, unset);
  plan.forecast.next_reading = brew::NextReading{.what = brew::Measured::oxygen, .at_h = 15.0, .narrows_share = 0.4};
  return plan;
}

}  // namespace

TEST(NightPicture, readings_of_oxygen_stand_where_they_were_taken_with_their_error) {
  const NightPicture picture = picture_of(watched_plan());
  ASSERT_EQ(picture.readings.size(), 3U) << "no temperature, nothing outside the stretch";
  EXPECT_EQ(picture.readings[0].mg_per_l, 7.0);
  EXPECT_EQ(picture.readings[0].error_mg_per_l, 0.3);
  EXPECT_FALSE(picture.readings[0].doubted);
  EXPECT_TRUE(picture.readings[1].doubted);
  EXPECT_NEAR(picture.readings[2].mg_per_l, 0.5 * *picture.saturation_at(8.0), 1e-12);
  EXPECT_NEAR(picture.readings[2].error_mg_per_l, 0.04 * *picture.saturation_at(8.0), 1e-12);
}

TEST(NightPicture, characters_tell_a_doubted_reading_from_a_sound_one_and_ring_the_next) {
  const auto lines = night_text(picture_of(watched_plan()), 80);
  EXPECT_FALSE(line_with(lines, "●").empty());
  EXPECT_FALSE(line_with(lines, "⊗").empty());
  EXPECT_FALSE(line_with(lines, "◌").empty());
  const auto unread = night_text(picture_of(test::example_plan()), 80);
  for (const char* mark : {"●", "⊗", "◌"}) EXPECT_TRUE(line_with(unread, mark).empty()) << mark;
}

TEST(NightPicture, a_reading_worth_taking_of_something_else_leaves_no_ring) {
  recipe::BrewPlan plan = watched_plan();
  plan.forecast.next_reading->what = brew::Measured::bacteria;
  EXPECT_FALSE(picture_of(plan).next_h);
}

}  // namespace barm::cards
