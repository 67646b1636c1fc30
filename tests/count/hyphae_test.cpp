// Hyphae by crossings and by length against published formulas, then what must hold for any count.
#include "count/hyphae.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "count/poisson.h"
#include "count/slide.h"
#include "support/published.h"

namespace barm::count {
namespace {

bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}

const Field field{.field_diameter_m = 0.45e-3, .covered_area_m2 = 324e-6, .volume_l = 1e-5};
constexpr double field_ml = 0.01 * (3.141592653589793 / 4.0 * 0.45 * 0.45) / 324.0;

// S64, eight digits: half of the last is at most 5e-8. Tennant prints 11/14 where the exact mean is pi/4.
TEST(hyphae, lengths_agree_with_the_published_formulas) {
  int grids = 0, lines = 0;
  for (const auto& row : test::published("line_intersect.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double crossings = row.number("intersections"), printed_cm = row.number("length_cm");
    double length_cm = unset;
    if (row.text("method") == "tennant_grid") {
      length_cm = 100.0 * length_from_grid_m(crossings, row.number("grid_unit_cm") / 100.0);
      EXPECT_NEAR(length_cm / row.number("length_cm_pi_over_4"), 1.000402, 1e-6);
      ++grids;
    } else {
      length_cm = 100.0 * length_from_lines_m(crossings, {.total_m = row.number("line_length_cm") / 100.0,
                                                          .area_m2 = row.number("area_cm2") * 1e-4});
      ++lines;
    }
    EXPECT_NEAR(length_cm / printed_cm, 1.0, 5e-8);
  }
  EXPECT_EQ(grids, 6);
  EXPECT_EQ(lines, 2);
}

// S65: the same field and drop as a count of cells, so a crossing a field stands for as many lengths as cells would.
TEST(hyphae, fields_are_those_of_a_slide) {
  for (const auto& row : test::published("microscope_field_count.csv")) {
    SCOPED_TRACE(row.text("id"));
    const Field of_row{.field_diameter_m = row.number("field_number_mm") / row.number("objective") / 1000.0,
                       .covered_area_m2 = row.number("covered_area_mm2") * 1e-6,
                       .volume_l = row.number("sample_volume_ml") / 1000.0};
    std::vector<double> length_m(static_cast<std::size_t>(row.number("fields")), 1e-4);
    length_m.front() += 1e-5, length_m.back() -= 1e-5;
    const double per_field = row.number("total_counted") / row.number("fields");
    EXPECT_NEAR(
        count_hyphae({.length_m = length_m, .field = of_row})->m_per_ml / 1e-4 * per_field / row.number("count_per_ml"),
        1.0, 1e-7);
  }
}

TEST(hyphae, a_dilution_multiplies_and_a_worked_example_comes_out) {
  const Hyphae in{.intersections = {4, 7, 2, 5}, .grid_m = 50e-6, .field = field, .dilution_factor = 20.0};
  const auto count = count_hyphae(in);
  ASSERT_TRUE(count.ok());
  EXPECT_NEAR(count->m_per_ml, 11.0 / 14.0 * 4.5 * 50e-6 / field_ml * 20.0, 1e-9 * count->m_per_ml);
  // By hand: variance of 4, 7, 2, 5 is 13/3; over 4 x 4.5^2 that is 0.0535, below 1/18 of chance.
  EXPECT_NEAR(count->ln_standard_error, std::sqrt(1.0 / 18.0), 1e-12);
  EXPECT_EQ(count->degrees_of_freedom, 3);
  EXPECT_NEAR(count->high_95 / count->m_per_ml, std::exp(3.1824463 * std::sqrt(1.0 / 18.0)), 1e-6);
  EXPECT_NEAR(count->m_per_ml / count->low_95, count->high_95 / count->m_per_ml, 1e-9);
}

TEST(hyphae, lengths_take_their_error_from_their_spread) {
  const auto count = count_hyphae({.length_m = {1e-4, 3e-4}, .field = field});
  // By hand: mean 2, variance 2 (in 1e-4 m), so 2 / (2 x 4) = 0.25 and its root 0.5.
  EXPECT_NEAR(count->ln_standard_error, 0.5, 1e-12);
  EXPECT_EQ(count->degrees_of_freedom, 1);
}

TEST(hyphae, one_field_is_doubted_and_none_seen_has_only_an_upper_limit) {
  const auto one = count_hyphae({.intersections = {25}, .grid_m = 50e-6, .field = field});
  EXPECT_TRUE(has(one.doubts(), "count.hyphae.one_field", "intersections"));
  EXPECT_NEAR(one->ln_standard_error, 0.2, 1e-12);
  EXPECT_NEAR(one->high_95 / one->m_per_ml, std::exp(1.959964 * 0.2), 1e-6);
  const auto one_length = count_hyphae({.length_m = {1e-4}, .field = field});
  EXPECT_TRUE(one_length.ok());
  EXPECT_TRUE(std::isnan(one_length->low_95));
  const auto none = count_hyphae({.intersections = {0, 0}, .grid_m = 50e-6, .field = field});
  EXPECT_TRUE(has(none.doubts(), "count.hyphae.none_seen", "intersections"));
  EXPECT_EQ(none->m_per_ml, 0.0);
  EXPECT_EQ(none->low_95, 0.0);
  // S69: 3.689 by its table; without it: no event of a mean m has the chance exp(-m), here 0.025. A thread's mean way
  // across a round field is pi/4 of its diameter.
  EXPECT_NEAR(poisson_95(0).high, 3.689, 5e-4);
  EXPECT_NEAR(std::exp(-poisson_95(0).high), 0.025, 1e-12);
  EXPECT_NEAR(none->high_95, -std::log(0.025) / 2.0 * 3.141592653589793 / 4.0 * 0.45e-3 / field_ml,
              1e-9 * none->high_95);
  EXPECT_EQ(none->interval_method, HyphaeInterval::poisson_exact);
  const auto no_length = count_hyphae({.length_m = {0.0, 0.0}, .field = field});
  EXPECT_EQ(no_length->high_95, none->high_95);
  EXPECT_TRUE(has(no_length.doubts(), "count.hyphae.none_seen", "lengths"));
  // Lines wider apart than the field: it takes a crossing's length to be told of at all.
  const auto wide = count_hyphae({.intersections = {0}, .grid_m = 1e-3, .field = field});
  EXPECT_NEAR(wide->high_95, -std::log(0.025) * 11.0 / 14.0 * 1e-3 / field_ml, 1e-9 * wide->high_95);
}

TEST(hyphae, a_field_known_by_its_area_is_taken_as_round_and_a_chamber_has_square_ones) {
  const double area_m2 = 3.141592653589793 / 4.0 * 0.45e-3 * 0.45e-3;
  const Field by_area{.field_area_m2 = area_m2, .covered_area_m2 = 324e-6, .volume_l = 1e-5};
  EXPECT_NEAR(by_area.mean_chord_m(), field.mean_chord_m(), 1e-12);
  const Field square{.square_volume_ml = 1e-4, .square_side_m = 1e-3};
  EXPECT_NEAR(square.mean_chord_m(), 0.785398e-3, 1e-9);  // pi x side^2 / (4 x side)
  EXPECT_NEAR(square.area_m2(), 1e-6, 1e-18);
  const auto lines = count_hyphae({.intersections = {4, 6}, .line_m = 2e-3, .field = square});
  EXPECT_NEAR(lines->m_per_ml, 3.141592653589793 * 5.0 * 1e-6 / (2.0 * 2e-3) / 1e-4, 1e-6);
}

// Straight threads thrown over and around a round field with a grid on it. Where as much lies there as the limit of
// none seen says, three fields may show nothing but 2.5 times in a hundred, whatever the threads' length. 4000 throws
// of three fields: a standard error of 0.25 in a hundred, and three of them are allowed.
TEST(hyphae, the_limit_of_none_seen_holds_for_short_threads_and_for_long_ones) {
  constexpr double radius_m = 0.225e-3, grid_m = 50e-6, pi = 3.141592653589793;
  const double limit_m_per_ml = count_hyphae({.intersections = {0, 0, 0}, .grid_m = grid_m, .field = field})->high_95;
  std::mt19937_64 chance(7);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  const auto cuts = [&](double from_m, double to_m) {
    return std::floor(from_m / grid_m) != std::floor(to_m / grid_m);
  };
  for (const double thread_m : {20e-6, 60e-6, 200e-6, 1e-3}) {
    SCOPED_TRACE(thread_m);
    const double reach_m = radius_m + thread_m / 2.0;
    const double per_throw =
        limit_m_per_ml * field_ml / (pi * radius_m * radius_m) / thread_m * (4 * reach_m * reach_m);
    std::poisson_distribution<int> how_many(3.0 * per_throw);
    int nothing = 0;
    for (int trial = 0; trial < 4000; ++trial) {
      bool any = false;
      for (int left = how_many(chance); left > 0 && !any; --left) {
        const double x = (2.0 * share(chance) - 1.0) * reach_m, y = (2.0 * share(chance) - 1.0) * reach_m;
        const double angle = pi * share(chance), dx = std::cos(angle), dy = std::sin(angle);
        const double along = -(x * dx + y * dy), aside = x * dy - y * dx;
        if (std::abs(aside) >= radius_m) continue;
        const double half = std::sqrt(radius_m * radius_m - aside * aside);
        const double from = std::max(-thread_m / 2.0, along - half), to = std::min(thread_m / 2.0, along + half);
        any = from < to && (cuts(x + from * dx, x + to * dx) || cuts(y + from * dy, y + to * dy));
      }
      nothing += any ? 0 : 1;
    }
    EXPECT_LT(nothing / 4000.0, 0.025 + 3.0 * 0.0025);
  }
}

TEST(hyphae, what_cannot_be_counted_is_refused) {
  const auto refused = [](Hyphae in, const char* code, const char* at) {
    if (!std::isfinite(in.field.volume_l) && !std::isfinite(in.field.square_volume_ml)) in.field = field;
    return has(count_hyphae(in).refusals(), code, at);
  };
  EXPECT_TRUE(refused({}, "count.hyphae.nothing", "intersections"));
  EXPECT_TRUE(refused({.intersections = {1}, .length_m = {1e-4}}, "count.hyphae.both_ways", "intersections"));
  EXPECT_TRUE(refused({.intersections = {1}}, "count.hyphae.lines_missing", "grid"));
  EXPECT_TRUE(refused({.intersections = {1}, .grid_m = 5e-5, .line_m = 1e-3}, "count.hyphae.lines_missing", "grid"));
  EXPECT_TRUE(refused({.intersections = {1, -1}, .grid_m = 5e-5}, "count.number.outside", "intersections[2]"));
  EXPECT_TRUE(refused({.intersections = {1}, .grid_m = 0.5e-6}, "count.number.outside", "grid"));
  EXPECT_FALSE(refused({.intersections = {1}, .grid_m = 1e-6}, "count.number.outside", "grid"));
  EXPECT_TRUE(refused({.intersections = {1}, .grid_m = 1.01e-2}, "count.number.outside", "grid"));
  EXPECT_TRUE(refused({.intersections = {1}, .line_m = 1.1}, "count.number.outside", "line"));
  EXPECT_TRUE(refused({.length_m = {-1e-4}}, "count.number.outside", "lengths[1]"));
  EXPECT_TRUE(refused({.length_m = {1e-4}, .dilution_factor = 0.5}, "count.number.outside", "dilution_factor"));
  EXPECT_TRUE(refused({.intersections = {1}, .line_m = 1e-3, .field = {.square_volume_ml = 1e-4}},
                      "count.hyphae.area_missing", "field_area"));
  Hyphae bare{.length_m = {1e-4}};
  EXPECT_TRUE(has(count_hyphae(bare).refusals(), "count.slide.geometry_missing", "field_area"));
}

RC_GTEST_PROP(hyphae_law, the_limits_enclose_the_count_and_scale_with_the_grid, ()) {
  const auto crossings = *rc::gen::container<std::vector<std::int64_t>>(rc::gen::inRange<std::int64_t>(0, 60));
  RC_PRE(std::accumulate(crossings.begin(), crossings.end(), std::int64_t{0}) > 0);
  const auto fine = count_hyphae({.intersections = crossings, .grid_m = 40e-6, .field = field});
  const auto coarse = count_hyphae({.intersections = crossings, .grid_m = 80e-6, .field = field});
  RC_ASSERT(fine->low_95 < fine->m_per_ml && fine->m_per_ml < fine->high_95);
  RC_ASSERT(std::abs(coarse->m_per_ml / fine->m_per_ml - 2.0) < 1e-12);
  RC_ASSERT(std::abs(coarse->high_95 / fine->high_95 - 2.0) < 1e-12);
}

}  // namespace
}  // namespace barm::count
