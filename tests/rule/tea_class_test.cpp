#include "rule/tea_class.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <fstream>
#include <sstream>

#include "class_tables.h"
#include "rules.h"
#include "support/published.h"

namespace barm::rule {
namespace {

Facts facts_of(const test::Row& row) {
  Facts facts;
  const auto copy = [&](const char* column, const char* fact) {
    const std::string& value = row.text(column);
    if (value != "unknown" && value != "na") facts.set(fact, value);
  };
  copy("animal_origin_feedstock", "animal_origin");
  copy("water_source", "water_source");
  copy("generic_e_coli_detected_100ml", "water_e_coli");
  copy("additive", "food");
  copy("recontaminated", "recontaminated");
  const std::string& process = row.text("feedstock_process");
  if (process == "none") facts.set("process", "none");
  if (process == "112.54(a)") facts.set("process", "validated");
  if (process == "112.54(b)") facts.set("process", "composted");
  facts.set("held", row.number("held_hours"));
  const auto contact = [](const std::string& told, const char* yes) {
    return told == "yes" ? std::string(yes) : told == "no" ? std::string("none") : told;
  };
  facts.set("contact_during", contact(row.text("contact_during_application"), "contact"));
  facts.set("contact_after", contact(row.text("contact_possible_after"), "possible"));
  return facts;
}

// source: S31, S34: tests/published/rule_cases_produce_safety.csv
TEST(the_class_of_a_tea, is_as_published_for_every_case) {
  for (const auto& row : test::published("rule_cases_produce_safety.csv")) {
    const Facts facts = facts_of(row);
    const TeaClass tea = classify(tea_facts(facts));
    EXPECT_EQ(word(tea.status), row.text("expected_status")) << row.text("id");
    EXPECT_EQ(word(tea.is_tea), row.text("expected_is_agricultural_tea")) << row.text("id");
    const Permission told = may_apply(tea, contact_facts(facts));
    EXPECT_EQ(told.permitted == Known::yes ? "yes" : "no", row.text("expected_permitted")) << row.text("id");
    const std::string wait = told.permitted != Known::yes   ? ""
                             : told.wait == Wait::zero_days ? "0"
                             : told.wait == Wait::reserved  ? "reserved"
                                                            : "";
    EXPECT_EQ(wait, row.text("expected_interval_days")) << row.text("id");
  }
}

// The rules as data say the same of those cases: what they call not met is what makes a tea untreated.
TEST(the_class_of_a_tea, agrees_with_the_rules_as_data) {
  for (const auto& row : test::published("rule_cases_produce_safety.csv")) {
    const Facts facts = with_derived(facts_of(row));
    bool any_not_met = false;
    for (const char* id : {"us_psr_treated", "us_psr_untreated_1", "us_psr_untreated_2", "us_psr_untreated_5"})
      any_not_met = any_not_met || verdict(id, facts) == Verdict::not_met;
    EXPECT_EQ(any_not_met, row.text("expected_status") == "untreated") << row.text("id");
  }
}

TeaFacts any_facts() {
  std::array<int, 7> at{};
  for (std::size_t i = 0; i < at.size(); ++i) at[i] = *rc::gen::inRange(0, static_cast<int>(class_words()[i].size()));
  return facts_at(at);
}
Contact any_contact() {
  return {static_cast<During>(*rc::gen::inRange(0, 4)), static_cast<After>(*rc::gen::inRange(0, 4))};
}
/// One fact that is not known, settled; the same when all are known.
TeaFacts with_one_more(TeaFacts facts) {
  const auto settle = [&](Known& known) {
    known = known == Known::not_known ? *rc::gen::element(Known::yes, Known::no) : known;
  };
  switch (*rc::gen::inRange(0, 7)) {
    case 0:
      settle(facts.animal_origin);
      break;
    case 1:
      settle(facts.held_over_an_hour);
      break;
    case 2:
      settle(facts.food);
      break;
    case 3:
      settle(facts.untreated_surface_water);
      break;
    case 4:
      settle(facts.water_e_coli);
      break;
    case 5:
      settle(facts.recontaminated);
      break;
    default:
      if (facts.process == Process::not_known)
        facts.process = *rc::gen::element(Process::none, Process::composted, Process::validated);
  }
  return facts;
}

RC_GTEST_PROP(the_class_of_a_tea, once_determined_stays_whatever_is_learned, ()) {
  const TeaFacts before = any_facts();
  const TeaFacts after = with_one_more(before);
  const TeaClass told = classify(before);
  if (told.status != TeaStatus::undetermined) RC_ASSERT(classify(after).status == told.status);
  // And nothing that was ruled out comes back.
  for (const auto status : classify(after).possible)
    RC_ASSERT(std::find(told.possible.begin(), told.possible.end(), status) != told.possible.end());
}

RC_GTEST_PROP(the_class_of_a_tea, grants_nothing_that_a_missing_fact_could_take_back, ()) {
  const TeaFacts before = any_facts();
  const Contact contact = any_contact();
  const TeaFacts after = with_one_more(before);
  const Permission told = may_apply(classify(before), contact);
  if (told.permitted != Known::not_known) RC_ASSERT(may_apply(classify(after), contact).permitted == told.permitted);
  if (told.permitted == Known::yes && told.wait != Wait::not_known)
    RC_ASSERT(may_apply(classify(after), contact).wait == told.wait);
}

TEST(the_class_of_a_tea, names_a_missing_fact_whenever_one_matters) {
  each_below({}, 0, [](const std::array<int, 7>& at) {
    const TeaClass tea = classify(facts_at(at));
    EXPECT_EQ(tea.possible.size() > 1, !tea.missing.empty());
    EXPECT_EQ(tea.possible.size() == 1, tea.status == tea.possible.front() && tea.missing.empty());
  });
}

TEST(the_class_of_a_tea, is_never_treated_while_a_fact_of_treatment_is_missing) {
  each_below({}, 0, [](const std::array<int, 7>& at) {
    const TeaFacts facts = facts_at(at);
    const auto status = classify(facts).status;
    if (status != TeaStatus::treated_a && status != TeaStatus::treated_b) return;
    EXPECT_EQ(facts.animal_origin, Known::yes);
    EXPECT_NE(facts.process, Process::not_known);
    EXPECT_EQ(facts.food, Known::no);
    EXPECT_EQ(facts.untreated_surface_water, Known::no);
    EXPECT_EQ(facts.water_e_coli, Known::no);
    EXPECT_EQ(facts.recontaminated, Known::no);
  });
}

// source: S31, 21 CFR 112.51(b)(5)
TEST(food_in_a_tea, with_animal_origin_makes_it_untreated_whatever_else) {
  each_below({}, 0, [](const std::array<int, 7>& at) {
    const TeaFacts facts = facts_at(at);
    if (facts.animal_origin != Known::yes || facts.food != Known::yes || facts.held_over_an_hour != Known::yes) return;
    const TeaClass tea = classify(facts);
    EXPECT_EQ(tea.status, TeaStatus::untreated);
    EXPECT_NE(may_apply(tea, {During::minimised, After::none}).permitted, Known::yes);
    EXPECT_NE(may_apply(tea, {During::contact, After::none}).permitted, Known::yes);
  });
}

TEST(an_hour, is_the_line_and_belongs_below_it) {
  Facts facts;
  facts.set("held", 1.0);
  EXPECT_EQ(tea_facts(facts).held_over_an_hour, Known::no);
  facts.set("held", 1.01);
  EXPECT_EQ(tea_facts(facts).held_over_an_hour, Known::yes);
}

TEST(a_short_extract, is_granted_no_more_than_the_compost_alone) {
  TeaFacts facts{Known::yes, Process::composted, Known::no, Known::no, Known::no, Known::no, Known::no};
  EXPECT_EQ(classify(facts).status, TeaStatus::treated_b);
  facts.food = Known::yes;  // no tea, so (b)(5) is silent; nothing else says it may touch produce
  const TeaClass silent = classify(facts);
  EXPECT_EQ(silent.status, TeaStatus::undetermined);
  EXPECT_TRUE(silent.missing.empty());
  EXPECT_EQ(may_apply(silent, {During::minimised, After::minimised}).permitted, Known::not_known);
  EXPECT_EQ(may_apply(silent, {During::none, After::none}).permitted, Known::yes);
}

TEST(the_ways_out, each_make_the_application_compliant) {
  const TeaFacts fed{Known::yes, Process::composted, Known::yes, Known::yes, Known::no, Known::no, Known::no};
  const Contact touching{During::minimised, After::possible};
  EXPECT_EQ(ways_out(fed, touching),
            (std::vector<WayOut>{WayOut::without_food, WayOut::plant_only, WayOut::soil_only, WayOut::another_bed}));
  TeaFacts raw = fed;
  raw.process = Process::none;
  raw.food = Known::no;
  EXPECT_EQ(ways_out(raw, touching), (std::vector<WayOut>{WayOut::composted_with_record, WayOut::plant_only,
                                                          WayOut::soil_only, WayOut::another_bed}));
}

RC_GTEST_PROP(the_ways_out, always_hold_one_that_needs_no_laboratory, ()) {
  const TeaFacts facts = any_facts();
  const Contact contact = any_contact();
  if (may_apply(classify(facts), contact).permitted == Known::yes) return;
  const auto ways = ways_out(facts, contact);
  RC_ASSERT(std::find(ways.begin(), ways.end(), WayOut::another_bed) != ways.end());
}

TEST(the_ways_out, begin_with_a_plain_extract_when_little_is_known) {
  const auto ways = ways_out({.held_over_an_hour = Known::yes, .food = Known::yes}, {});
  ASSERT_FALSE(ways.empty());
  EXPECT_EQ(ways.front(), WayOut::plain_extract);
}

TEST(raw_manure, is_of_animal_origin_and_unprocessed_without_being_asked) {
  Facts facts;
  facts.set("material", "raw_manure");
  facts.set("held", 24.0);
  EXPECT_EQ(classify(tea_facts(facts)).status, TeaStatus::untreated);
}

TEST(raw_manure, is_refused_as_of_plants_or_as_composted) {
  Facts facts;
  facts.set("material", "raw_manure");
  EXPECT_TRUE(contradictions(facts).empty());
  facts.set("animal_origin", "no");
  facts.set("process", "validated");
  const auto wrong = contradictions(facts);
  ASSERT_EQ(wrong.size(), 2U);
  EXPECT_EQ(wrong[0].field, "animal_origin");
  EXPECT_EQ(wrong[1].field, "process");
  EXPECT_EQ(classify(tea_facts(facts)).status, TeaStatus::untreated);  // the careful reading, where a record says so
  facts.set("animal_origin", "yes");
  facts.set("process", "none");
  EXPECT_TRUE(contradictions(facts).empty());
}

std::string page() {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/rule/class.md");
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

TEST(the_page_on_the_class, holds_every_combination_exactly_once) {
  const auto rows = class_rows();
  int sum = 0;
  for (const auto& row : rows) sum += row.combinations_count;
  EXPECT_EQ(sum, 3 * 4 * 3 * 3 * 3 * 3 * 3);
  // Each combination is told by one row, and by that row as the code tells it.
  each_below({}, 0, [&](const std::array<int, 7>& at) {
    int matches = 0;
    for (const auto& row : rows) {
      bool fits = true;
      for (std::size_t i = 0; i < at.size(); ++i)
        fits = fits && (row.cells[i] == "any" || row.cells[i] == class_words()[i][static_cast<std::size_t>(at[i])]);
      if (!fits) continue;
      ++matches;
      EXPECT_EQ(row.status, classify(facts_at(at)).status);
    }
    EXPECT_EQ(matches, 1);
  });
  const std::string text = page();
  EXPECT_NE(text.find(class_table()), std::string::npos) << "the page's table is not the code's: run rule_class_tables";
  EXPECT_NE(text.find(contact_table()), std::string::npos)
      << "the page's table is not the code's: run rule_class_tables";
}

}  // namespace
}  // namespace barm::rule
