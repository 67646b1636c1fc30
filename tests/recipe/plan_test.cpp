#include "recipe/plan.h"

#include <gtest/gtest.h>

#include <toml++/toml.h>
#include <algorithm>
#include <cmath>
#include <fstream>
#include <set>

#include "recipe/lines.h"
#include "usual.h"

namespace barm::recipe::test {
namespace {

Answer<BrewPlan> planned(const PlanAsk& ask) {
  return plan_brew_with(ask, shipped(), pretended);
}

TEST(a_verdict, follows_the_lines_on_both_sides) {
  EXPECT_EQ(judge({.stays_above_6 = 0.90, .below_2 = 0.10, .length_h = 24.0}), Verdict::holds);
  EXPECT_EQ(judge({.stays_above_6 = 0.89, .below_2 = 0.10, .length_h = 24.0}), Verdict::doubtful);
  EXPECT_EQ(judge({.stays_above_6 = 0.90, .below_2 = 0.11, .length_h = 24.0}), Verdict::fails);
  EXPECT_EQ(judge({.stays_above_6 = 0.90, .below_2 = 0.10, .length_h = 24.1}), Verdict::doubtful);
  EXPECT_EQ(judge({.stays_above_6 = unset, .below_2 = unset, .length_h = 12.0}), Verdict::fails);
}

TEST(a_shortfall, is_none_just_when_the_verdict_holds) {
  for (const double above : {0.0, 0.5, 0.9, 1.0}) {
    for (const double below : {0.0, 0.1, 0.2}) {
      for (const double length_h : {12.0, 24.0, 30.0}) {
        const Odds odds{above, below, length_h};
        EXPECT_EQ(shortfall(odds) <= 0.0, judge(odds) == Verdict::holds) << above << " " << below << " " << length_h;
      }
    }
  }
}

TEST(odds_of_100, never_claim_none_or_all_by_rounding) {
  EXPECT_EQ(of_100(0.001).value, 1.0);
  EXPECT_EQ(of_100(0.999).value, 99.0);
  EXPECT_EQ(of_100(0.0).value, 0.0);
  EXPECT_EQ(of_100(1.0).value, 100.0);
  EXPECT_EQ(of_100(0.34).value, 34.0);
}

TEST(what_is_printed, is_what_is_forecast) {
  brew::Setup seen;
  int calls_count = 0;
  const auto plan =
      plan_brew_with(usual(), shipped(), [&](const brew::Setup& setup, const auto& priors, const auto& options) {
        if (calls_count++ == 0) seen = setup;
        return pretended(setup, priors, options);
      });
  ASSERT_TRUE(plan.ok());
  EXPECT_LE(calls_count, 22);  // the plan and at most 21 for mends
  for (std::size_t i = 0; i < seen.foods.size(); ++i) {
    const auto line = std::find_if(plan->amounts.begin(), plan->amounts.end(),
                                   [&](const AmountLine& each) { return each.id == "food." + seen.foods[i].food.id; });
    ASSERT_NE(line, plan->amounts.end());
    EXPECT_NEAR(seen.foods[i].mass_g, *food::mass_g(seen.foods[i].food, {line->amount.rounded}), 1e-9);
  }
  EXPECT_DOUBLE_EQ(seen.volume_l, plan->amounts.front().amount.rounded.value);
  EXPECT_DOUBLE_EQ(seen.composts[0].mass_g, plan->amounts[1].amount.rounded.value);
}

TEST(the_contents, of_a_usual_bucket_match_the_hand_check) {
  // Worked by hand for the model (from memory): 50 mL molasses in 19 L carry 2.1 g/L ready food, 0.37 % of the weight.
  PlanAsk ask = usual();
  ask.volume_l = 19.0;
  ask.composts[0].mass_g = 700.0;
  ask.foods = {{"molasses", {{70.0, Dimension::mass}}}};
  const auto plan = planned(ask);
  ASSERT_TRUE(plan.ok());
  EXPECT_NEAR(plan->sugar_share, 0.0037, 0.00005);
  // Nitrogen: 70 g x 0.006 / 19 L = 22 mg/L, and 350 g dry compost x 0.8 mg/g / 19 L = 15 mg/L.
  EXPECT_NEAR(plan->nitrogen_mg_per_l, 22.1 + 14.7, 0.5);
}

TEST(steps, are_in_order_and_complete) {
  const auto plan = planned(usual());
  ASSERT_TRUE(plan.ok());
  EXPECT_TRUE(std::is_sorted(plan->steps.begin(), plan->steps.end(),
                             [](const Step& a, const Step& b) { return a.at_h < b.at_h; }));
  std::set<std::string> codes;
  for (const Step& step : plan->steps) {
    codes.insert(step.code);
    EXPECT_TRUE(std::isfinite(step.at_h)) << step.code;
  }
  for (const char* code :
       {"recipe.step.test_strip", "recipe.step.fill", "recipe.step.fish_stands", "recipe.step.dissolve",
        "recipe.step.make_paste", "recipe.step.air_on", "recipe.step.bag_in", "recipe.step.food", "recipe.step.reading",
        "recipe.step.earliest_look", "recipe.step.use_at_once", "recipe.step.clean"}) {
    EXPECT_TRUE(codes.contains(code)) << code;
  }
  const auto fish = std::find_if(plan->steps.begin(), plan->steps.end(),
                                 [](const Step& s) { return s.code == "recipe.step.fish_stands"; });
  const double stands_min = (fish->until_h - fish->at_h) * 60.0;
  EXPECT_GE(stands_min, 10.0);  // common practice, no source: 10 to 20 min
  EXPECT_LE(stands_min, 20.0);
  EXPECT_LE(fish->until_h, 0.0);
}

TEST(steps, tell_the_minutes_to_flat_as_a_watch_shows_them) {
  const auto plan = planned(usual());
  ASSERT_TRUE(plan.ok());
  int told = 0;
  for (const Step& step : plan->steps) {
    const auto flat = step.facts.find("flat_after");
    if (flat == step.facts.end()) continue;
    ++told;
    const double minutes = std::get<Quantity>(flat->second).value * 60.0;
    EXPECT_NEAR(minutes, std::round(minutes), 1e-9);
    EXPECT_GE(minutes, 1.0);
    EXPECT_LE(minutes, std::max(1.0, plan->forecast.minutes_to_2_after_air_off.p05) + 1e-9) << "never promised longer";
  }
  EXPECT_EQ(told, 1);
}

TEST(cautions, name_each_way_the_work_can_hurt) {
  const auto plan = planned(usual());
  for (const char* code :
       {"electricity", "pump_above_water", "raw_manure", "food_contact", "aerosol", "weak_immunity", "hands",
        "closed_vessel", "disinfectant", "fish", "animal_origin", "lifting", "local_rules"}) {
    EXPECT_TRUE(has(plan->cautions, std::string("recipe.caution.") + code)) << code;
  }
  PlanAsk plain = usual();
  plain.foods.clear();
  plain.volume_l = 8.0;
  plain.composts[0].mass_g = 300.0;
  EXPECT_FALSE(has(planned(plain)->cautions, "recipe.caution.fish"));
  EXPECT_FALSE(has(planned(plain)->cautions, "recipe.caution.lifting"));
}

TEST(cited_sources, are_keys_of_the_sources_page) {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/sources.md");
  std::set<std::string> keys;
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("| ", 0) == 0) keys.insert(line.substr(2, line.find(" |", 2) - 2));
  }
  const auto plan = planned(usual());
  ASSERT_FALSE(plan->sources.empty());
  for (const std::string& key : plan->sources) EXPECT_TRUE(keys.contains(key)) << key;
}

TEST(every_remark, has_words_with_facts_it_carries) {
  const toml::table words = toml::parse(data::file("messages/recipe.toml"));
  PlanAsk odd = usual();
  odd.disinfectant_is_known = false;
  odd.water_temperature_c = 30.0;
  odd.length_h = 30.0;
  odd.foods.push_back({"yucca extract", {{2.0 * tbsp_l, Dimension::volume}}});
  odd.foods.push_back(odd.foods[0]);
  const auto plan = planned(odd);
  ASSERT_TRUE(plan.ok());
  Remarks all = plan->warnings;
  all.insert(all.end(), plan->cautions.begin(), plan->cautions.end());
  all.insert(all.end(), plan->notes.begin(), plan->notes.end());
  all.push_back(plan->headline);
  for (const Step& step : plan->steps) all.push_back({step.code, "", step.facts});
  for (const Mend& mend : plan->mends) all.push_back({mend.code, "", mend.facts});
  for (const Remark& remark : all) {
    if (remark.code.rfind("recipe.", 0) != 0) continue;
    ASSERT_TRUE(words[remark.code].is_table()) << remark.code;
    for (const char* language : {"en", "es"}) {
      const std::string text = words[remark.code][language].value_or(std::string());
      ASSERT_FALSE(text.empty()) << remark.code;
      for (std::size_t open = text.find('{'); open != std::string::npos; open = text.find('{', open + 1)) {
        const std::string fact = text.substr(open + 1, text.find('}', open) - open - 1);
        EXPECT_TRUE(fact == "field" || remark.facts.contains(fact)) << remark.code << " lacks " << fact;
      }
    }
  }
}

}  // namespace
}  // namespace barm::recipe::test
