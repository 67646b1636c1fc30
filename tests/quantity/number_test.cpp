#include <gtest/gtest.h>

#include "quantity/fold.h"
#include "quantity/number.h"

namespace barm {
namespace {

WrittenNumber number_in(std::string_view text) {
  return read_number(*fold(text));
}

TEST(Number, is_read_in_every_usual_form) {
  const std::pair<const char*, double> cases[] = {
      {"1/2", 0.5},
      {"1 1/2", 1.5},
      {"1-1/2", 1.5},
      {"½", 0.5},
      {"1½", 1.5},
      {"1 ½", 1.5},
      {"1-½", 1.5},
      {"1⁄2", 0.5},
      {"1.5", 1.5},
      {".5", 0.5},
      {"1e3", 1000.0},
      {"1.2E-3", 0.0012},
      {"2 × 10^8", 2e8},
      {"2x10^8", 2e8},
      {"2 × 10⁸", 2e8},
      {"3 × 10⁻²", 0.03},
      {"1,5", 1.5},
      {"1,50", 1.5},
      {"0,500", 0.5},
      {",5", 0.5},
      {"1234,500", 1234.5},
      {"1,234.5", 1234.5},
      {"1.234,5", 1234.5},
      {"1,500,000", 1.5e6},
      {"1.500.000", 1.5e6},
      {"1 500", 1500.0},
      {"12 000 000", 12e6},
      {"1\u2009500", 1500.0},
      {"1\u00A0500,5", 1500.5},
      {"-40", -40.0},
      {"\u221240", -40.0},
      {"+3", 3.0},
      {"–5", -5.0},
      {"-1 1/2", -1.5},
      {"7/8", 0.875},
      {"1.500", 1.5},
      {"⅔", 2.0 / 3.0},
  };
  for (const auto& [text, value] : cases) {
    const auto got = number_in(text);
    EXPECT_EQ(got.problem, NumberProblem::none) << text;
    EXPECT_DOUBLE_EQ(got.value, value) << text;
    EXPECT_EQ(trimmed(fold(text)->substr(got.end)), "") << text;
  }
}

TEST(Number, comma_before_three_figures_has_two_readings) {
  const auto got = number_in("1,500");
  EXPECT_EQ(got.problem, NumberProblem::unclear);
  EXPECT_EQ(got.first, "1.500");
  EXPECT_EQ(got.second, "1500");
  EXPECT_EQ(number_in("1,50").problem, NumberProblem::none);
  EXPECT_EQ(number_in("1,5000").problem, NumberProblem::none);
}

TEST(Number, is_refused_when_it_is_none) {
  EXPECT_EQ(number_in("").problem, NumberProblem::missing);
  EXPECT_EQ(number_in("L").problem, NumberProblem::missing);
  EXPECT_EQ(number_in("--5").problem, NumberProblem::missing);
  EXPECT_EQ(number_in("nan").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("-inf").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("Infinity L").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("1e999").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("1/0").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("2 1/0").problem, NumberProblem::not_finite);
  EXPECT_EQ(number_in("1.2.3").problem, NumberProblem::unreadable);
  EXPECT_EQ(number_in("1,23,4").problem, NumberProblem::unreadable);
  EXPECT_EQ(number_in("1.5,000.2").problem, NumberProblem::unreadable);
}

TEST(Number, stops_where_the_unit_begins) {
  EXPECT_EQ(number_in("5gal").end, 1u);
  EXPECT_EQ(number_in("3 1/h").end, 1u);  // "1/h" is the unit
  EXPECT_EQ(number_in("1 50").end, 1u);   // no thousands group
  EXPECT_EQ(number_in("1 5000").end, 1u);
  EXPECT_EQ(number_in("1-3/2").end, 1u);   // 3/2 is no part of a mixed number, so the dash makes a range
  EXPECT_EQ(number_in("1½2").value, 1.5);  // not 1 1/22
  EXPECT_EQ(number_in("12-18").end, 2u);
}

}  // namespace
}  // namespace barm
