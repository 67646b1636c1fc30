#include "food/food.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

#include "data/embedded.h"
#include "support/published.h"

namespace barm::food {
namespace {

const Library& shipped() {
  static const Library library = Library::read(data::file("foods.toml"));
  return library;
}

std::set<std::string> source_keys() {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/sources.md");
  std::set<std::string> keys;
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("| ", 0) == 0) keys.insert(line.substr(2, line.find(" |", 2) - 2));
  }
  return keys;
}

TEST(every_food, cites_known_sources_and_has_both_languages) {
  const auto keys = source_keys();
  ASSERT_GT(keys.size(), 50u);
  for (const Food& food : shipped().foods()) {
    EXPECT_FALSE(food.names.empty()) << food.id;
    EXPECT_FALSE(food.spanish.empty()) << food.id;
    std::stringstream sources(food.source);
    for (std::string key; std::getline(sources, key, ',');) {
      if (key.front() == ' ') key.erase(0, 1);
      EXPECT_TRUE(keys.contains(key)) << food.id << " cites " << key;
    }
  }
}

TEST(every_food, adds_up_and_lies_inside_its_bounds) {
  for (const Food& food : shipped().foods()) {
    EXPECT_NEAR(food.readily_share + food.slowly_share + food.inert_share, 1.0, 1e-12) << food.id;
    EXPECT_LE(food.cod_low_g_per_g, food.cod_g_per_g) << food.id;
    EXPECT_LE(food.cod_g_per_g, food.cod_high_g_per_g) << food.id;
    EXPECT_GT(food.density_g_per_ml, 0.2) << food.id;
    EXPECT_LT(food.density_g_per_ml, 1.5) << food.id;
  }
}

// Protein holds about 16 % nitrogen and burns to about 1.5 g COD/g (from memory): a food cannot hold more nitrogen than
// if all of its COD were protein. Urea in fish emulsion may add some, hence the factor 1.2.
TEST(every_food, holds_no_more_nitrogen_than_its_matter_allows) {
  for (const Food& food : shipped().foods()) {
    EXPECT_LE(food.nitrogen_share, 1.2 * 0.16 * food.cod_g_per_g / 1.5 + 1e-12) << food.id;
  }
}

// source: tests/published/food_composition.csv, all rows. Names there carry a remark in brackets; the map says which
// food of ours each row is. Tolerance: none; a conductivity given as a range is held at its middle.
TEST(food_figures, equal_the_collected_ones) {
  const std::map<std::string, std::string> id_of = {{"blackstrap molasses (cane)", "blackstrap_molasses"},
                                                    {"unsulfured cane syrup / molasses light", "light_molasses"},
                                                    {"white or raw sugar", "sugar"},
                                                    {"kelp meal (Ascophyllum)", "kelp_meal"},
                                                    {"liquid kelp extract (10-15 % solids)", "liquid_kelp"},
                                                    {"fish hydrolysate (2-4 % N)", "fish_hydrolysate"},
                                                    {"fish emulsion (5 % N)", "fish_emulsion"},
                                                    {"humic acid liquid (12 %)", "humic_acid"},
                                                    {"yucca extract", "yucca_extract"},
                                                    {"oat flour", "oat_flour"},
                                                    {"alfalfa meal", "alfalfa_meal"},
                                                    {"soybean meal", "soybean_meal"},
                                                    {"baker's yeast (dried)", "bakers_yeast"}};
  const auto rows = test::published("food_composition.csv");
  EXPECT_EQ(rows.size(), id_of.size());
  for (const auto& row : rows) {
    ASSERT_TRUE(id_of.contains(row.text("food"))) << row.text("food");
    const auto found = shipped().find(id_of.at(row.text("food")));
    ASSERT_TRUE(found.ok()) << row.text("food");
    const Food& food = **found;
    if (!row.empty("density_g_mL")) {
      EXPECT_DOUBLE_EQ(food.density_g_per_ml, row.number("density_g_mL")) << food.id;
    }
    EXPECT_EQ(food.is_liquid, !row.empty("density_g_mL")) << food.id;
    EXPECT_DOUBLE_EQ(food.cod_g_per_g, row.number("COD_g_per_g_as_used")) << food.id;
    EXPECT_DOUBLE_EQ(food.cod_low_g_per_g, row.number("COD_low")) << food.id;
    EXPECT_DOUBLE_EQ(food.cod_high_g_per_g, row.number("COD_high")) << food.id;
    EXPECT_DOUBLE_EQ(food.readily_share, row.number("frac_readily")) << food.id;
    EXPECT_DOUBLE_EQ(food.slowly_share, row.number("frac_slowly")) << food.id;
    EXPECT_DOUBLE_EQ(food.inert_share, row.number("frac_inert")) << food.id;
    EXPECT_DOUBLE_EQ(food.nitrogen_share, row.number("N_frac_as_used")) << food.id;
    EXPECT_DOUBLE_EQ(food.nitrogen_mineral_share, row.number("N_readily_mineral")) << food.id;
    const std::string& slope = row.text("EC_mS_cm_per_g_L");
    const std::size_t dash = slope.find('-');
    const double middle =
        dash == std::string::npos ? std::stod(slope) : (std::stod(slope) + std::stod(slope.substr(dash + 1))) / 2.0;
    EXPECT_NEAR(food.conductivity_ms_per_cm_per_g_per_l, middle, 1e-9) << food.id;
  }
}

TEST(a_food, is_found_by_its_generic_names) {
  const std::map<std::string, std::string> wanted = {{"blackstrap molasses", "blackstrap_molasses"},
                                                     {"molasses", "blackstrap_molasses"},
                                                     {"Kelp Meal", "kelp_meal"},
                                                     {"dry kelp", "kelp_meal"},
                                                     {"liquid kelp", "liquid_kelp"},
                                                     {"fish hydrolysate", "fish_hydrolysate"},
                                                     {"fish emulsion", "fish_emulsion"},
                                                     {"humic acid", "humic_acid"},
                                                     {"yucca extract", "yucca_extract"},
                                                     {"melaza de caña", "blackstrap_molasses"},
                                                     {"oat_flour", "oat_flour"}};
  for (const auto& [name, id] : wanted) {
    ASSERT_TRUE(shipped().find(name).ok()) << name;
    EXPECT_EQ((*shipped().find(name))->id, id) << name;
  }
}

TEST(an_unknown_food, is_refused_with_the_likely_spelling) {
  const auto answer = shipped().find("mollasses");
  ASSERT_FALSE(answer.ok());
  EXPECT_EQ(answer.refusals().front().code, "food.name.unknown");
  EXPECT_EQ(std::get<std::string>(answer.refusals().front().facts.at("suggestion")), "molasses");
  EXPECT_FALSE(shipped().find("").ok());
}

TEST(the_mass_of_a_food, goes_through_its_density) {
  const Food& molasses = **shipped().find("molasses");
  // 50 mL of molasses is 70 g: worked example from memory (density 1.40).
  EXPECT_NEAR(*mass_g(molasses, {{0.050, Dimension::volume}}), 70.0, 1e-9);
  EXPECT_DOUBLE_EQ(*mass_g(molasses, {{70.0, Dimension::mass}}), 70.0);
}

TEST(an_amount_that_is_none, is_refused) {
  const Food& molasses = **shipped().find("molasses");
  const auto code_of = [](const Food& food, Quantity measured) {
    const auto answer = mass_g(food, {measured});
    return answer.ok() ? std::string("ok") : answer.refusals().front().code;
  };
  EXPECT_EQ(code_of(molasses, {0.0, Dimension::mass}), "food.amount.not_positive");
  EXPECT_EQ(code_of(molasses, {-1.0, Dimension::volume}), "food.amount.not_positive");
  EXPECT_EQ(code_of(molasses, {unset, Dimension::mass}), "food.amount.not_positive");
  EXPECT_EQ(code_of(molasses, {1.0, Dimension::length}), "food.amount.not_mass_or_volume");
  Food dust = molasses;
  dust.density_g_per_ml = unset;
  EXPECT_EQ(code_of(dust, {0.01, Dimension::volume}), "food.amount.density_unknown");
  EXPECT_EQ(code_of(dust, {10.0, Dimension::mass}), "ok");
}

TEST(a_broken_food_file, is_our_fault) {
  const std::string text(data::file("foods.toml"));
  EXPECT_NO_THROW(Library::read(text));
  const auto broken = [&](const std::string& from, const std::string& to) {
    std::string changed = text;
    const std::size_t at = changed.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    changed.replace(at, from.size(), to);
    return changed;
  };
  EXPECT_THROW(Library::read(broken("readily = { value = 0.72", "readily = { value = 0.73")), BrokenPromise);
  EXPECT_THROW(Library::read(broken("low = 0.65", "low = 0.85")), BrokenPromise);
  EXPECT_THROW(Library::read(broken("\"dry kelp\"", "\"molasses\"")), BrokenPromise);
  EXPECT_THROW(Library::read(broken("\"g/mL\"", "\"kg/L\"")), BrokenPromise);
  EXPECT_THROW(Library::read(broken("is_animal_origin = true\n", "")), BrokenPromise);
}

}  // namespace
}  // namespace barm::food
