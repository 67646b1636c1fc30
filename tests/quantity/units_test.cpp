#include "quantity/units.h"

#include <gtest/gtest.h>

#include <charconv>
#include <fstream>
#include <set>
#include <sstream>

#include "quantity/fold.h"

namespace barm {
namespace {

std::vector<std::string> spellings_of(const Unit& unit) {
  std::vector<std::string> out{std::string(unit.spelling)};
  std::istringstream others{std::string(unit.others)};
  for (std::string one; std::getline(others, one, '|');) out.push_back(one);
  return out;
}

TEST(Units, no_spelling_stands_for_two_units_of_a_dimension) {
  std::set<std::pair<Dimension, std::string>> seen;
  for (const Unit& unit : units())
    for (const auto& spelling : spellings_of(unit))
      EXPECT_TRUE(seen.insert({unit.dimension, spelling}).second) << unit.spelling << ": " << spelling;
}

TEST(Units, every_spelling_finds_its_unit) {
  for (const Unit& unit : units()) {
    for (const auto& spelling : spellings_of(unit)) {
      const auto folded = fold(spelling);
      ASSERT_TRUE(folded) << spelling;
      if (unit.spelling == "°") continue;  // checked below: degrees of what is a question in a temperature
      const Meaning meaning = find_unit(*folded, unit.dimension, std::nullopt);
      ASSERT_NE(meaning.unit, nullptr) << unit.spelling << " as " << spelling;
      EXPECT_EQ(meaning.unit->spelling, unit.spelling) << spelling;
    }
  }
  EXPECT_EQ(find_unit("deg", Dimension::angle, std::nullopt).unit->dimension, Dimension::angle);
}

TEST(Units, every_dimension_has_its_inside_unit_with_factor_one) {
  for (std::size_t i = 0; i < dimension_count; ++i) {
    const auto dimension = static_cast<Dimension>(i);
    EXPECT_FALSE(dimension_key(dimension).empty());
    if (unit_inside(dimension).empty()) continue;
    const Unit& unit = unit_spelled(unit_inside(dimension), dimension);
    EXPECT_EQ(unit.factor, 1.0) << unit.spelling;
    EXPECT_EQ(unit.zero, 0.0) << unit.spelling;
  }
}

TEST(Units, every_accepted_spelling_is_accepted) {
  for (std::size_t i = 0; i < dimension_count; ++i) {
    const auto dimension = static_cast<Dimension>(i);
    std::istringstream list{std::string(accepted_spellings(dimension))};
    for (std::string one; std::getline(list, one, ',');) {
      const auto folded = fold(trimmed(one));
      if (dimension == Dimension::temperature) continue;  // "°C" is covered by every_spelling_finds_its_unit
      const Meaning meaning = find_unit(*folded, dimension, std::nullopt);
      ASSERT_NE(meaning.unit, nullptr) << one;
      EXPECT_EQ(meaning.unit->dimension, dimension) << one;
    }
  }
}

/// The row a unit must have in the documentation.
std::string documented(const Unit& unit) {
  char digits[40];
  const auto end = std::to_chars(digits, digits + sizeof digits, unit.factor).ptr;
  std::string others(unit.others);
  for (std::size_t at = 0; (at = others.find('|', at)) != std::string::npos; at += 2) others.replace(at, 1, ", ");
  return "| " + std::string(dimension_key(unit.dimension)) + " | " + std::string(unit.spelling) + " | " + others +
         " | " + std::string(digits, end) + " | " + std::string(unit.source) + " |";
}

TEST(Units, every_unit_is_documented) {
  std::ifstream in(BARM_DOCS_DIR "/quantity/units.md");
  std::stringstream page;
  page << in.rdbuf();
  for (const Unit& unit : units())
    EXPECT_NE(page.str().find(documented(unit) + "\n"), std::string::npos) << "missing row:\n" << documented(unit);
}

TEST(Units, a_broken_name_is_our_fault) {
  EXPECT_THROW(unit_spelled("furlong", Dimension::length), BrokenPromise);
}

}  // namespace
}  // namespace barm
