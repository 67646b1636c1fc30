#include "cards/brew_card_text.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <regex>
#include <sstream>

#include "cards/columns.h"
#include "cards/example_plan.h"

namespace barm::cards {
namespace {

std::string card_of(const recipe::BrewPlan& plan, const CardOptions& options) {
  return brew_card_text(plan, options, test::example_catalogue());
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string without_styles(const std::string& text) {
  return std::regex_replace(text, std::regex("\x1b\\[[0-9]*m"), "");
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// Every card there is to look at: three plans, two languages.
std::vector<recipe::BrewPlan> plans() {
  return {test::example_plan(), test::crowded_plan(), test::blank_plan()};
}
constexpr Language languages[] = {Language::english, Language::spanish};

}  // namespace

TEST(BrewCardText, no_line_is_wider_than_the_terminal) {
  for (const recipe::BrewPlan& plan : plans())
    for (const Language language : languages)
      for (const int columns : {60, 72, 80, 120}) {
        CardOptions options = test::example_options(language);
        options.columns = columns;
        for (const std::string& line : lines_of(card_of(plan, options))) EXPECT_LE(columns_of(line), columns) << line;
      }
}

TEST(BrewCardText, opens_with_the_sentence_to_say_aloud) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(
      card.starts_with("Likely to go flat about seven on Saturday evening: 34 of 100 brews like this\nwould.\n"));
}

TEST(BrewCardText, what_fails_and_what_mends_it_come_before_the_picture) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_LT(card.find("Before you start"), card.find("What you could change"));
  EXPECT_LT(card.find("What you could change"), card.find("Oxygen in the brew"));
  EXPECT_LT(card.find("Oxygen in the brew"), card.find("Measure out"));
  EXPECT_TRUE(has(card, "Then 4 of 100 go flat"));
  EXPECT_TRUE(has(card, "Enough by itself."));
}

TEST(BrewCardText, tells_the_picture_in_words_and_figures_too) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(has(card, "Lowest about Sat 19:00 (+22 h): 3 mg/L in the middle, between 0.5 mg/L and 6.3"));
  EXPECT_TRUE(has(card, "Ready from Sat 12:30 to Sat 17:00 (+16 h to +20 h)."));
  EXPECT_TRUE(has(card, "flat within 4 min to 21 min"));
  EXPECT_TRUE(has(card, "The same in figures, mg/L"));
}

TEST(BrewCardText, amounts_stand_in_kitchen_measures_with_grams_and_rounding_beside) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(std::regex_search(card, std::regex("blackstrap molasses +3 1/4 tbsp +48 mL +−4 %")));
  EXPECT_TRUE(std::regex_search(card, std::regex("water +19 L +as asked")));
}

TEST(BrewCardText, steps_carry_the_local_clock_and_the_lead) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(has(card, "Fri 20:00         −1 h  Fill the bucket with 19 L"));
  EXPECT_TRUE(has(card, "Sat 17:00        +20 h  Lift the bag out"));
}

TEST(BrewCardText, what_is_done_at_one_time_stands_under_it) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(has(card, "\n                        Stop the air and use the tea at once"));
  EXPECT_TRUE(has(card, "let it stand until Fri"));
}

TEST(BrewCardText, clearing_says_both_rules_and_asks_for_a_test_strip) {
  const std::string card = card_of(test::example_plan(), test::example_options());
  EXPECT_TRUE(has(card, "Published rates give 12 h to 70 h; wait 70 h."));
  EXPECT_TRUE(has(card, "rule: 24 h."));
  EXPECT_TRUE(has(card, "Does not clear this water within 72 h: humic acid."));
  EXPECT_TRUE(has(card, "Confirm with a test strip"));
}

TEST(BrewCardText, says_that_the_water_was_not_tested) {
  recipe::BrewPlan plan = test::example_plan();
  plan.ask.disinfectant_is_known = false;
  EXPECT_TRUE(has(card_of(plan, test::example_options()), "Cannot tell what your water holds: no water test."));
}

TEST(BrewCardText, the_verdict_on_the_air_follows_the_figures) {
  recipe::BrewPlan plan = test::example_plan();
  EXPECT_TRUE(has(card_of(plan, test::example_options()), "- No: at its hungriest"));
  plan.supply_at_6_mg_per_l_per_h = plan.uptake_peak_mg_per_l_per_h;
  EXPECT_TRUE(has(card_of(plan, test::example_options()), "- Only just: at its hungriest"));
  plan.supply_at_6_mg_per_l_per_h = 1.5 * plan.uptake_peak_mg_per_l_per_h;
  EXPECT_TRUE(has(card_of(plan, test::example_options()), "- Yes, with room to spare"));
  plan.uptake_peak_mg_per_l_per_h = unset;
  EXPECT_TRUE(has(card_of(plan, test::example_options()), "- Cannot tell: what the brew draws"));
}

TEST(BrewCardText, fungi_are_called_indicative) {
  EXPECT_TRUE(
      std::regex_search(card_of(test::example_plan(), test::example_options()), std::regex("Fungi .*indicative only")));
}

TEST(BrewCardText, styles_change_nothing_but_looks) {
  CardOptions options = test::example_options();
  const std::string plain = card_of(test::example_plan(), options);
  options.styled = true;
  const std::string styled = card_of(test::example_plan(), options);
  EXPECT_FALSE(has(plain, "\x1b"));
  EXPECT_TRUE(has(styled, "\x1b[1m"));
  EXPECT_EQ(without_styles(styled), plain);
}

TEST(BrewCardText, nothing_unknown_is_printed_as_a_number_and_no_word_is_left_unfilled) {
  for (const recipe::BrewPlan& plan : plans())
    for (const Language language : languages) {
      const std::string card = card_of(plan, test::example_options(language));
      std::string lower = card;
      std::transform(lower.begin(), lower.end(), lower.begin(),
                     [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
      for (const char* wrong : {"nan ", "nan\n", "inf ", "{", "}", "cards.", "example.", "safe", "1e+"})
        EXPECT_FALSE(has(lower, wrong)) << wrong << " in\n" << card;
    }
}

TEST(BrewCardText, says_in_words_what_is_not_known) {
  const std::string card = card_of(test::blank_plan(), test::example_options());
  EXPECT_TRUE(has(card, "Cannot tell how low the oxygen falls"));
  EXPECT_TRUE(has(card, "Cannot tell when it is ready"));
  EXPECT_FALSE(has(card, "No hour of this brew"));  // which would be a claim
}

TEST(BrewCardText, the_spanish_card_holds_no_english_label) {
  const Catalogue catalogue = test::example_catalogue();
  const std::string card = card_of(test::example_plan(), test::example_options(Language::spanish));
  int checked = 0;
  for (const std::string& code : catalogue.codes()) {
    if (!code.starts_with("cards.title.") && !code.starts_with("cards.table.") &&
        !code.starts_with("cards.clearing.strip"))
      continue;
    EXPECT_FALSE(has(card, catalogue.text({code, {}, {}}, Language::english))) << code;
    EXPECT_TRUE(has(card, catalogue.text({code, {}, {}}, Language::spanish)) || code == "cards.clearing.strip") << code;
    ++checked;
  }
  EXPECT_GE(checked, 14);
}

TEST(BrewCardText, a_hostile_name_cannot_steer_the_terminal) {
  recipe::BrewPlan plan = test::example_plan();
  plan.ask.name = "bucket\x1b[2J\n\xFF";
  const std::string card = card_of(plan, test::example_options());
  EXPECT_FALSE(has(card, "\x1b"));
  EXPECT_TRUE(has(card, "bucket [2J ?: 19 L"));
}

}  // namespace barm::cards
