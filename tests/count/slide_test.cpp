// Cells on a slide against worked geometry and printed Poisson limits, then what must hold for any count.
#include "count/slide.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "count/poisson.h"
#include "count/tables.h"
#include "data/embedded.h"
#include "support/published.h"

namespace barm::count {
namespace {

bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}

/// So many cells spread over so many fields as evenly as whole numbers let them.
std::vector<std::int64_t> evenly(std::int64_t counted, std::int64_t fields) {
  std::vector<std::int64_t> all(static_cast<std::size_t>(fields), counted / fields);
  for (std::int64_t i = 0; i < counted % fields; ++i) ++all[static_cast<std::size_t>(i)];
  return all;
}

// S65, recomputed from the geometry to 8 digits: tolerance one unit in the last.
TEST(slide, chambers_agree_with_their_geometry) {
  const Tables tables = Tables::read(data::file("counts.toml"));
  for (const auto& row : test::published("counting_chamber.csv")) {
    SCOPED_TRACE(row.text("id"));
    const std::string kind = row.text("square_kind");
    const auto chamber = tables.chamber("neubauer_" + kind.substr(0, kind.find('_')));
    ASSERT_TRUE(chamber.ok());
    EXPECT_NEAR((*chamber)->square_volume_ml, row.number("volume_per_square_ml"), 1e-12);
    const auto count = count_slide({.counted = evenly(static_cast<std::int64_t>(row.number("cells_counted")),
                                                      static_cast<std::int64_t>(row.number("squares"))),
                                    .square_volume_ml = (*chamber)->square_volume_ml,
                                    .dilution_factor = row.number("dilution_factor")});
    ASSERT_TRUE(count.ok());
    EXPECT_NEAR(count->per_ml / row.number("cells_per_ml"), 1.0, 1e-8);
  }
  EXPECT_TRUE(has(tables.chamber("neubauer").refusals(), "count.name.unknown", "chamber"));
}

TEST(slide, fields_agree_with_their_geometry) {
  for (const auto& row : test::published("microscope_field_count.csv")) {
    SCOPED_TRACE(row.text("id"));
    Slide in{.counted = evenly(static_cast<std::int64_t>(row.number("total_counted")),
                               static_cast<std::int64_t>(row.number("fields"))),
             .field_diameter_m = row.number("field_number_mm") / row.number("objective") / 1000.0,
             .covered_area_m2 = row.number("covered_area_mm2") * 1e-6,
             .volume_l = row.number("sample_volume_ml") / 1000.0};
    EXPECT_NEAR(count_slide(in)->per_ml / row.number("count_per_ml"), 1.0, 1e-7);
    in.field_diameter_m = unset;
    in.field_area_m2 = row.number("field_area_mm2") * 1e-6;
    EXPECT_NEAR(count_slide(in)->per_ml / row.number("count_per_ml"), 1.0, 1e-7);
  }
}

// S69, as every table of exact Poisson limits prints them; from memory, two decimals.
TEST(slide, exact_poisson_limits_agree_with_the_table) {
  EXPECT_NEAR(poisson_95(0).low, 0.0, 0.0);
  EXPECT_NEAR(poisson_95(0).high, 3.69, 0.005);
  EXPECT_NEAR(poisson_95(1).low, 0.025, 0.0005);
  EXPECT_NEAR(poisson_95(1).high, 5.57, 0.005);
  EXPECT_NEAR(poisson_95(10).low, 4.80, 0.005);
  EXPECT_NEAR(poisson_95(10).high, 18.39, 0.005);
}

constexpr double square_ml = 1e-4;

TEST(slide, clumps_widen_the_interval_and_ask_for_more_fields) {
  const auto even = count_slide({.counted = {10, 12, 9, 11, 8, 10}, .square_volume_ml = square_ml});
  const auto clumped = count_slide({.counted = {0, 30, 1, 25, 0, 4}, .square_volume_ml = square_ml});
  EXPECT_TRUE(even.doubts().empty());
  EXPECT_EQ(even->interval_method, SlideInterval::poisson_exact);
  EXPECT_EQ(even->more_fields_count, 4);  // mean 10: a hundred cells for 10 %, ten fields in all
  EXPECT_TRUE(has(clumped.doubts(), "count.slide.clumped", "counted"));
  EXPECT_EQ(clumped->interval_method, SlideInterval::ln_student);
  // By hand: mean 10, sum of squares 942, chi-square 94.2, index 18.84, k = 10 / 17.84.
  EXPECT_NEAR(clumped->dispersion_index, 18.84, 1e-9);
  EXPECT_NEAR(clumped->clumping_k, 10.0 / 17.84, 1e-9);
  EXPECT_EQ(clumped->more_fields_count, 183);  // 18.84 / (10 x 0.01) = 188.4, so 189 in all
  EXPECT_GT(clumped->high_95 / clumped->low_95, 2.0 * even->high_95 / even->low_95);
  // By hand: 60 cells by chance, 1 / sqrt(60); clumped, sqrt(18.84 / 60), and Student's 2.571 at 5 degrees of freedom.
  EXPECT_NEAR(even->ln_standard_error, 1.0 / std::sqrt(60.0), 1e-12);
  EXPECT_NEAR(clumped->ln_standard_error, std::sqrt(18.84 / 60.0), 1e-12);
  EXPECT_NEAR(std::log(clumped->high_95 / clumped->per_ml), 2.5706 * std::sqrt(18.84 / 60.0), 1e-4);
  EXPECT_NEAR(std::log(clumped->per_ml / clumped->low_95), 2.5706 * std::sqrt(18.84 / 60.0), 1e-4);
}

TEST(slide, nothing_seen_has_an_upper_limit) {
  const auto none = count_slide({.counted = {0, 0, 0}, .square_volume_ml = square_ml});
  EXPECT_EQ(none->per_ml, 0.0);
  EXPECT_NEAR(none->high_95, 3.689 / 3.0 / square_ml, 5.0);
  EXPECT_EQ(none->more_fields_count, -1);
  EXPECT_TRUE(
      has(count_slide({.counted = {3}, .square_volume_ml = square_ml}).doubts(), "count.slide.one_field", "counted"));
}

TEST(slide, refuses_what_cannot_be) {
  const auto why = [](const Slide& in) { return count_slide(in).refusals(); };
  const Slide good{.counted = {3, 4}, .field_area_m2 = 1e-7, .covered_area_m2 = 3.24e-4, .volume_l = 1e-5};
  EXPECT_TRUE(count_slide(good).ok());
  const auto with = [&](auto change) {
    Slide in = good;
    change(in);
    return why(in);
  };
  EXPECT_TRUE(has(with([](Slide& s) { s.counted.clear(); }), "count.list.empty", "counted"));
  EXPECT_TRUE(has(with([](Slide& s) { s.counted[1] = -1; }), "count.number.outside", "counted[2]"));
  EXPECT_TRUE(has(with([](Slide& s) { s.counted[0] = 1'000'001; }), "count.number.outside", "counted[1]"));
  EXPECT_TRUE(has(with([](Slide& s) { s.field_area_m2 = unset; }), "count.slide.geometry_missing", "field_area"));
  EXPECT_TRUE(has(with([](Slide& s) { s.volume_l = unset; }), "count.slide.geometry_missing", "field_area"));
  EXPECT_TRUE(has(with([](Slide& s) { s.field_area_m2 = 0.0; }), "count.number.outside_open", "field_area"));
  EXPECT_TRUE(has(with([](Slide& s) { s.volume_l = 0.0; }), "count.number.outside_open", "volume"));
  EXPECT_TRUE(has(with([](Slide& s) { s.field_area_m2 = 4e-4; }), "count.slide.field_larger_than_cover", "field_area"));
  EXPECT_TRUE(with([](Slide& s) { s.field_area_m2 = 3.24e-4; }).empty());
  EXPECT_TRUE(has(with([](Slide& s) { s.dilution_factor = 0.5; }), "count.number.outside", "dilution_factor"));
  EXPECT_TRUE(has(with([](Slide& s) { s.dilution_factor = unset; }), "count.number.not_finite", "dilution_factor"));
  EXPECT_TRUE(has(with([](Slide& s) { s.precision_share = 0.0; }), "count.number.outside", "precision"));
}

RC_GTEST_PROP(slide_law, limits_hold_the_count_whatever_the_order, ()) {
  auto counted =
      *rc::gen::nonEmpty(rc::gen::container<std::vector<std::int64_t>>(rc::gen::inRange<std::int64_t>(0, 500)));
  const auto once = *count_slide({.counted = counted, .square_volume_ml = square_ml});
  std::reverse(counted.begin(), counted.end());
  const auto again = *count_slide({.counted = counted, .square_volume_ml = square_ml, .dilution_factor = 10.0});
  RC_ASSERT(once.low_95 <= once.per_ml && once.per_ml < once.high_95);
  RC_ASSERT(std::abs(again.per_ml - 10.0 * once.per_ml) <= 1e-9 * again.per_ml);
}

}  // namespace
}  // namespace barm::count
