#include "rule/waits.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "rule/tea_class.h"
#include "rules.h"
#include "support/published.h"

namespace barm::rule {
namespace {

std::vector<RuleSet> sets(const std::string& name) {
  std::vector<RuleSet> some;
  for (const auto& set : all_sets()) {
    if (set.name == name) some.push_back(set);
  }
  EXPECT_EQ(some.size(), 1U);
  return some;
}

Facts manure(const std::string& crop) {
  Facts facts;
  facts.set("material", "raw_manure");
  facts.set("crop_contact", crop);
  facts.set("food", "no");
  return facts;
}

// source: S37: tests/published/rule_cases_raw_manure_interval.csv
TEST(raw_manure, waits_as_published) {
  for (const auto& row : test::published("rule_cases_raw_manure_interval.csv")) {
    const bool touches = row.text("crop_type") == "soil_contact";
    const Day applied = *read_day(row.text("application_date"));
    const auto told =
        calendar(sets("us_organic"), manure(touches ? "soil" : "no_soil"), {.applied_on = applied}, today);
    EXPECT_EQ(told.longest_days, row.number("min_interval_days")) << row.text("id");
    ASSERT_TRUE(told.earliest_harvest) << row.text("id");
    EXPECT_EQ(day_text(*told.earliest_harvest), row.text("earliest_harvest_date")) << row.text("id");
    EXPECT_FALSE(told.is_reserved);
    EXPECT_FALSE(told.counts_unknown);
    // The other way round: from that harvest, the last day to apply is the day it was applied.
    const auto back = calendar(sets("us_organic"), manure(touches ? "soil" : "no_soil"),
                               {.harvest_on = told.earliest_harvest}, today);
    EXPECT_EQ(back.last_application, applied) << row.text("id");
  }
}

TEST(the_days_of_raw_manure, are_not_asked_of_compost) {
  Facts facts = manure("soil");
  facts.set("material", "compost");
  const auto told = calendar(sets("us_organic"), facts, {.applied_on = *read_day("2026-05-01")}, today);
  EXPECT_TRUE(told.waits.empty());
  EXPECT_EQ(told.longest_days, 0.0);
  EXPECT_EQ(told.earliest_harvest, read_day("2026-05-01"));
}

TEST(a_material_not_known, counts_as_the_one_that_waits_longest) {
  Facts facts = manure("soil");
  facts.forget("material");
  const auto told = calendar(sets("us_organic"), facts, {.applied_on = *read_day("2026-05-01")}, today);
  EXPECT_EQ(told.longest_days, 120.0);
  EXPECT_TRUE(told.counts_unknown);
  ASSERT_FALSE(told.waits.empty());
  EXPECT_EQ(told.waits.front().missing, std::vector<std::string>{"material"});
}

Facts untreated(const std::string& after) {
  Facts facts;
  facts.set("animal_origin", "yes");
  facts.set("process", "none");
  facts.set("covered_produce", "yes");
  facts.set("contact_during", "none");
  facts.set("contact_after", after);
  return with_derived(facts);
}

TEST(a_reserved_wait, is_told_and_never_given_a_number) {
  const auto told = calendar(sets("us_produce"), untreated("possible"),
                             {.applied_on = *read_day("2026-05-01"), .harvest_on = *read_day("2026-09-01")}, today);
  EXPECT_TRUE(told.is_reserved);
  EXPECT_FALSE(told.earliest_harvest);
  EXPECT_FALSE(told.last_application);
  EXPECT_FALSE(told.is_kept);
  EXPECT_TRUE(std::isnan(told.longest_days));
  for (const auto& wait : told.waits) EXPECT_TRUE(wait.is_reserved && std::isnan(wait.days));
}

TEST(a_wait_of_no_days, allows_the_same_day) {
  const auto told = calendar(sets("us_produce"), untreated("none"),
                             {.applied_on = *read_day("2026-05-01"), .harvest_on = *read_day("2026-05-01")}, today);
  EXPECT_EQ(told.longest_days, 0.0);
  EXPECT_EQ(told.is_kept, true);
}

TEST(a_harvest_a_day_early, is_told) {
  CalendarAsk ask{.applied_on = *read_day("2026-05-01"), .harvest_on = *read_day("2026-08-28")};
  EXPECT_EQ(calendar(sets("us_organic"), manure("soil"), ask, today).is_kept, false);
  ask.harvest_on = *read_day("2026-08-29");
  EXPECT_EQ(calendar(sets("us_organic"), manure("soil"), ask, today).is_kept, true);
}

TEST(days, are_those_of_the_calendar) {
  EXPECT_FALSE(read_day("2026-02-29"));
  EXPECT_TRUE(read_day("2028-02-29"));
  EXPECT_FALSE(read_day("2026-2-9"));
  EXPECT_FALSE(read_day("2026-13-01"));
  EXPECT_FALSE(read_day("-026-01-01"));
  EXPECT_FALSE(read_day("2026-05-0x"));
  EXPECT_FALSE(read_day("1899-12-31"));
  EXPECT_EQ(day_text(day_of(-1)), "1969-12-31");
  EXPECT_EQ(day_text(day_of(1'777'593'600'000)), "2026-05-01");
}

RC_GTEST_PROP(a_day, is_read_as_it_was_written, (int number)) {
  const Day day = Day(std::chrono::days(number % 30'000));
  RC_PRE(day >= *read_day("1900-01-01"));
  RC_ASSERT(read_day(day_text(day)) == day);
}

}  // namespace
}  // namespace barm::rule
